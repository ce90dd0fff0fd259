"""Tidying a plan, by the real program."""

from __future__ import annotations

from pathlib import Path

import pytest
from the_program import run

from companion.knitting.strands.plan import plan_strands
from companion.plan.read import load

PLAN = """\
plan: 1
title: Quay
# a note
gauge: {stitches: 20, rows: 28}
yarns: {sand: {colour: tan}, ink: {colour: black}}
symbols: {s: sand, i: ink}
rows:
  - chart: |
      ssssssssss
      sssisssiii
      ssssss ssii
      iiiiissiii
      10s
      2s 6i 2s
"""


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    (tmp_path / "quay.yaml").write_text(PLAN, encoding="utf-8")
    return tmp_path


def strands(path: Path) -> int:
    piece = load(path).piece
    return plan_strands(piece.rows, piece.carry).strands.total.strands


def test_what_would_spare_strands_is_offered_and_nothing_is_changed(folder: Path) -> None:
    ran = run(folder, "tidy", "quay.yaml", is_fresh=True)
    assert ran.code == 0
    assert ran.err == ""
    assert ran.out == (
        "Quay\n"
        "\n"
        "     Rows  Stitches  Yarn  In its place  Changed  Strands fewer\n"
        " 1      5         7  ink   sand                1              2\n"
        " 2      3      6-10  ink   sand                5              2\n"
        " 3      1       3-8  ink   sand                6              2\n"
        "\n"
        "All together: 12 stitches changed, 2 strands in place of 8.\n"
        "Rows from the cast-on, stitches from the right edge, seen from the right side.\n"
        "--use 1,3 draws them into the plan.\n"
    )
    assert strands(folder / "quay.yaml") == 8
    assert [path.name for path in folder.glob("quay*")] == ["quay.yaml"]


def test_rounds_are_told_as_rounds_by_what_tidies_and_regauges(folder: Path) -> None:
    (folder / "tube.yaml").write_text(PLAN.replace("  - chart", "  - worked: round\n    chart"), encoding="utf-8")
    tidied = run(folder, "tidy", "tube.yaml").out
    assert tidied.splitlines()[2].startswith("   Rounds  Stitches  Yarn")
    assert "\nRounds from the cast-on, stitches from the right edge" in tidied
    assert "in the same stitches and rounds.\n" in run(folder, "regauge", "tube.yaml", "19x27").out


def test_those_that_are_chosen_are_drawn_and_the_plan_as_it_was_is_kept_beside(folder: Path) -> None:
    ran = run(folder, "tidy", "quay.yaml", "--use", "1,3")
    assert ran.err == "quay.yaml is tidied; as it was it is kept as quay.yaml.before.\n"
    assert (folder / "quay.yaml.before").read_text(encoding="utf-8") == PLAN
    tidied = PLAN.replace("sssisssiii", "sssssssiii").replace("2s 6i 2s", "10s")
    assert (folder / "quay.yaml").read_text(encoding="utf-8") == tidied
    assert strands(folder / "quay.yaml") == 4
    ran = run(folder, "tidy", "quay.yaml", "--use", "all")
    assert ran.err == "quay.yaml is tidied; as it was it is kept as quay.yaml.before-2.\n"
    assert (folder / "quay.yaml.before-2").read_text(encoding="utf-8") == tidied
    assert run(folder, "tidy", "quay.yaml").out == "Quay\n\nNo change of a few stitches would spare a strand.\n"


def test_what_is_held_stays_and_what_is_worth_less_is_not_offered(folder: Path) -> None:
    held = run(folder, "tidy", "quay.yaml", "--hold", "5,7").out
    assert "1 stitch stays: held, or not drawn one by one in the plan's own chart.\n" in held
    assert " 1      3      6-10  ink   sand                5              2\n" in held
    assert run(folder, "tidy", "quay.yaml", "--worth", "1").out.count("  ink   sand") == 1
    wrong = run(folder, "tidy", "quay.yaml", "--hold", "50,7")
    assert (wrong.code, wrong.err) == (2, "The chart has 6 rows of 10 stitches; row 50, stitch 7 cannot be held.\n")


def test_where_it_cannot_be_done_that_is_said_and_nothing_is_changed(folder: Path) -> None:
    assert run(folder, "tidy", "quay.yaml", "--use", "9").err.endswith("There are 3 changes to choose from.\n")
    assert (folder / "quay.yaml").read_text(encoding="utf-8") == PLAN
    ran = run(folder, "tidy", "-", "--use", "1")
    assert ran.code == 2


def test_a_demo_plan_stays_as_it_is(folder: Path) -> None:
    ran = run(folder, "tidy", "swatch", "--worth", "100", "--use", "1")
    assert ran.code == 2
    assert "A demo plan stays as it is." in ran.err


def test_where_an_edge_takes_its_yarn_from_the_stitch_that_is_to_change_nothing_is_changed(folder: Path) -> None:
    text = PLAN[:PLAN.index("  - chart")] + "  - chart: |\n      ssssssi\n      sssssss\n      sssssss\n"
    two = "      iiiiiii\n    edges: {stitches: 1}\n"
    (folder / "edged.yaml").write_text(f"{text}  - chart: |\n{two}", encoding="utf-8")
    before = (folder / "edged.yaml").read_bytes()
    ran = run(folder, "tidy", "edged.yaml", "--use", "all", "--worth", "50")
    assert (ran.code, (folder / "edged.yaml").read_bytes()) == (2, before)


@pytest.mark.parametrize("words", ["tidy swatch --use 1", "areas swatch --use all", "compare swatch --use 1"])
def test_a_demo_plan_is_refused_before_anything_is_worked_out(folder: Path, words: str) -> None:
    ran = run(folder, *words.split())
    assert (ran.code, ran.out) == (2, "")
    assert ran.err.endswith("A demo plan stays as it is.\n  Copy it, and change the copy.\n")
