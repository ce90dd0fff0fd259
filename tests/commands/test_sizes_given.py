"""Sizes on the command line: every command takes one, a check takes them all, and a hand-out has one or all."""

from __future__ import annotations

from pathlib import Path

import click
import pytest
from the_program import PIER_SIGN, run

from companion.commands.every import rowside
from companion.commands.given import complete_plan
from companion.plan.read import load
from companion.progress.actions import WholeRow
from companion.progress.shelf import Shelf
from tests.pages.on_paper import every, text_of, tree

SIGN = PIER_SIGN.replace("title: Pier sign\n", "title: Pier sign\nsizes: [S, M, L]\n") + (
    "    edges: {stitches: 1 (2, 3), yarn: sand}\n"
)
"""Five stitches drawn, and one, two or three at each side; 10 of them over 5 cm."""

FIRST = (
    "pier.yaml:3:1  Warning: This plan is in 3 sizes: S, M and L. Here it is in the first, S.\n"
    "    3 | sizes: [S, M, L]\n      | ^\n  Another one: --size M\n"
)


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    (tmp_path / "pier.yaml").write_text(SIGN, encoding="utf-8")
    return tmp_path


def test_every_command_that_takes_a_plan_takes_its_size() -> None:
    with click.Context(rowside) as context:
        commands = [one for name in rowside.list_commands(context) if (one := rowside.get_command(context, name))]
    of_plans = [one for one in commands if any(param.shell_complete == complete_plan for param in one.params)
                or any(param.name in ("plan", "plans") for param in one.params)]  # fmt: skip
    assert len(of_plans) >= 12
    assert [one.name for one in of_plans if not any("--size" in param.opts for param in one.params)] == []


def test_all_sizes_are_checked_at_once(folder: Path) -> None:
    ran = run(folder, "check", "pier.yaml")
    assert (ran.code, ran.err) == (0, "")
    assert ran.out == (
        "pier.yaml, size S: 7 sts x 4 rows, 2 yarns, 3 strands; nothing to mend.\n"
        "pier.yaml, size M: 9 sts x 4 rows, 2 yarns, 3 strands; nothing to mend.\n"
        "pier.yaml, size L: 11 sts x 4 rows, 2 yarns, 3 strands; nothing to mend.\n"
    )
    assert run(folder, "check", "-", given=SIGN.encode()).out == ran.out.replace("pier.yaml", "-")
    assert run(folder, "check", "pier.yaml", "--size", "m").out.splitlines() == [
        "pier.yaml, size m: 9 sts x 4 rows, 2 yarns, 3 strands; nothing to mend."
    ]


def test_what_is_wrong_in_some_sizes_is_told_once_with_them(folder: Path) -> None:
    torn = SIGN + "  - plain: {rows: 1, stitches: 7 (9, 10), yarn: sand}\n  - plain: {rows: 0, yarn: sand}\n"
    (folder / "pier.yaml").write_text(torn, encoding="utf-8")
    ran = run(folder, "check", "pier.yaml")
    assert ran.code == 2
    # That of L is told by itself, since ten stitches are not eleven.
    assert [line[-10:] for line in ran.out.splitlines()] == ["1 to mend.", "1 to mend.", "2 to mend."]
    assert ran.err.count("must be a whole number from 1 up") == 1
    (folder / "pier.yaml").write_text(torn.replace("rows: 0", "rows: 1"), encoding="utf-8")
    ran = run(folder, "check", "pier.yaml", "--json")
    [found] = ran.value
    assert [one["what"] for one in found["problems"]] == [
        "Size L: This section is 10 stitches wide, and 11 lie below: 1 go, which cannot be as many at both edges."
    ]


def test_without_a_size_a_command_takes_the_first_and_says_so(folder: Path) -> None:
    ran = run(folder, "rows", "pier.yaml", "--rows", "1")
    assert ran.err == FIRST
    assert ran.out.startswith("Pier sign, size S: row 1 of 4\n\nRow 1 (RS): cast on 7 sts in sand")
    ran = run(folder, "rows", "pier.yaml", "--rows", "1", "--size", "l")
    assert ran.err == ""
    assert ran.out.startswith("Pier sign, size L: row 1 of 4\n\nRow 1 (RS): cast on 11 sts in sand")
    ran = run(folder, "rows", "pier.yaml", "--size", "XS")
    assert (ran.code, ran.out) == (2, "")
    assert ran.err.endswith("  Sizes of this plan: S, M, L.\n")


@pytest.mark.parametrize("words", ["write pier.yaml -o pier.csv", "picture pier.yaml -o pier.svg"])
def test_a_file_is_of_the_size_that_was_named(folder: Path, words: str) -> None:
    assert "9 sts x 4 rows" in run(folder, *words.split(), "--size", "M").err


def test_what_is_written_into_a_plan_holds_in_every_size(folder: Path) -> None:
    ran = run(folder, "compare", "pier.yaml", "--size", "M", "--reach", "0", "--use", "1")
    assert ran.code == 0
    assert load(folder / "pier.yaml", "L").piece.carry.reach == 0
    before = (folder / "pier.yaml").read_text(encoding="utf-8")
    ran = run(folder, "areas", "pier.yaml", "--size", "L", "--use", "all")
    # Stitch 6 of row 2 is brick in L; in S there are seven stitches, and stitch 6 is sand.
    assert ran.code == 2
    assert "cannot be put into the plan" in ran.err
    assert (folder / "pier.yaml").read_text(encoding="utf-8") == before


def test_a_piece_in_work_is_told_of_where_the_size_is_its_own(folder: Path) -> None:
    plan = folder / "pier.yaml"
    with Shelf(folder / "data" / "pieces").start(load(plan, "M"), plan) as knitting:
        knitting.do(WholeRow())
    assert "Pier sign, size M" in run(folder, "ends", "pier.yaml").out
    assert "Pier sign, size L" in run(folder, "ends", "pier.yaml", "--size", "L").out


def test_knit_takes_a_size(folder: Path) -> None:
    ran = run(folder, "knit", "pier.yaml", "--plain", "--size", "L", given=b"\n")
    assert "Cast on 11 stitches in sand" in ran.out
    ran = run(folder, "knit", "pier.yaml", "--plain", "--size", "XL", given=b"\n")
    assert (ran.code, ran.out) == (2, "")


def test_a_hand_out_of_all_sizes_has_a_table_of_them_and_the_parts_of_each(folder: Path) -> None:
    named = SIGN.replace("sizes: [S, M, L]", 'sizes: ["<u>S</u>", M, L]').replace("Pier sign", "Pier <i>sign</i>")
    (folder / "pier.yaml").write_text(named, encoding="utf-8")
    ran = run(folder, "print", "pier.yaml", "-o", "pier.html", "--size", "all")
    assert ran.code == 0
    root = tree((folder / "pier.html").read_text(encoding="utf-8"))
    [heading, *others] = [text_of(one) for one in every(root, "h1")]
    assert heading == "Pier <i>sign</i>"
    assert others == [f"Pier <i>sign</i>, size {size}" for size in ("<u>S</u>", "M", "L")]
    assert not list(every(root, "u"))
    assert not list(every(root, "i"))
    rows = [[text_of(cell) for cell in row] for row in every(root, "tr")]
    assert rows[0] == ["Size", "Width and height", "Stitches", "Rows", "Strands", "Yarn, spare included"]
    # 7, 9 and 11 stitches at 20, 4 rows at 28 to 10 cm.
    assert [row[:5] for row in rows[1:4]] == [
        ["<u>S</u>", "3.5 x 1.4 cm", "7", "4", "3"], ["M", "4.5 x 1.4 cm", "9", "4", "3"],
        ["L", "5.5 x 1.4 cm", "11", "4", "3"],
    ]  # fmt: skip
    ids = [one.get("id") for one in root.iter() if one.get("id")]
    assert len(ids) == len(set(ids)) >= 3
    heads = [text_of(one) for one in every(root, "h2")]
    assert (heads.count("Row by row"), heads.count("How to cross")) == (3, 1)
    ran = run(folder, "print", "pier.yaml", "-o", "one.html", "--size", "M")
    one = tree((folder / "one.html").read_text(encoding="utf-8"))
    assert [text_of(each) for each in every(one, "h1")] == others[1:2]


def test_a_plan_of_one_size_has_no_others_to_print(folder: Path) -> None:
    ran = run(folder, "print", "swatch", "-o", "swatch.html", "--size", "all")
    assert (ran.code, ran.err) == (2, "swatch is of one size.\n  Leave out --size all.\n")
    ran = run(folder, "print", "pier.yaml", "-o", "pier.html", "--size", "all", "--name", "Pier sign, size M")
    assert (ran.code, "A piece is of one size: leave out --name, or --size all." in ran.err) == (2, True)


CLASS = "class: 1\ntitle: Tuesday\nplan: pier.yaml\nstudents:\n"


def test_each_student_of_a_class_knits_her_size(folder: Path) -> None:
    (folder / "class.yaml").write_text(f"{CLASS}  - {{name: Alma, size: S}}\n  - {{name: Bero, size: l}}\n")
    ran = run(folder, "class", "class.yaml", "--json")
    assert (ran.code, ran.err) == (0, "")
    # 7 and 11 stitches, 20 to 10 cm.
    assert (ran.value["plan"], [one["width_cm"] for one in ran.value["students"]]) == ("Pier sign", [3.5, 5.5])


def test_a_student_without_a_size_and_one_that_is_not_there_are_told(folder: Path) -> None:
    (folder / "class.yaml").write_text(f"{CLASS}  - name: Alma\n  - {{name: Bero, size: XL}}\n")
    ran = run(folder, "class", "class.yaml")
    assert ran.code == 2
    assert "class.yaml:5:5  Alma: She has no size, and the plan is in sizes.\n" in ran.err
    assert 'class.yaml:6:24  Bero: The plan has no size "XL".\n' in ran.err
    assert ran.err.count("Sizes of the plan: S, M, L.") == 2
