"""The hand-out, by the real program."""

from __future__ import annotations

import re
from pathlib import Path

import pytest
from the_program import PIER_SIGN, run

from companion.commands.print import PARTS
from companion.knitting.words.paper import PAPER_PARTS
from companion.pages.hand_out.page import MADE
from companion.plan.demo import demo_plans
from companion.plan.read import load
from companion.progress.actions import BindOff, On, TrapTails
from companion.progress.shelf import Shelf


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    (tmp_path / "pier.yaml").write_text(PIER_SIGN, encoding="utf-8")
    return tmp_path


def test_a_hand_out_is_written_and_never_over_a_file_unless_that_is_asked_for(folder: Path) -> None:
    ran = run(folder, "print", "pier.yaml", "-o", "pier.html")
    told = "pier.html: open it in a browser and print it, on A4 or US Letter, at full size.\n"
    assert (ran.code, ran.out, ran.err) == (0, "", told)
    html = (folder / "pier.html").read_text(encoding="utf-8")
    assert html.startswith("<!DOCTYPE html>")
    assert html.endswith("</html>\n")
    ran = run(folder, "print", "pier.yaml", "-o", "pier.html", "--ink", "--only", "chart")
    assert (ran.code, ran.out, ran.err) == (2, "", (
        'There is a file "pier.html" already.\n  Name another one, or write over it with --force.\n'
    ))  # fmt: skip
    assert (folder / "pier.html").read_text(encoding="utf-8") == html
    ran = run(folder, "print", "pier.yaml", "-o", "pier.html", "--ink", "--only", "rows, chart", "--force")
    assert ran.code == 0
    less = (folder / "pier.html").read_text(encoding="utf-8")
    assert "#a8432f" not in less
    assert less.index('id="sheet-1"') < less.index("Row by row")
    assert "What to wind" not in less
    assert sorted(path.name for path in folder.iterdir()) == ["pier.html", "pier.yaml"]


def test_colours_terms_hands_units_and_rows_are_those_that_are_asked_for(folder: Path) -> None:
    words = ("--colour", "--terms", "uk", "--hands", "left", "--units", "in", "--rows", "2-3")
    assert run(folder, "print", "pier.yaml", "-o", "pier.html", *words).code == 0
    html = (folder / "pier.html").read_text(encoding="utf-8")
    assert 'fill="#a8432f"' in html
    assert "Tension: 20 sts and 28 rows over 10 cm (4 in)" in html
    assert "(32 in)" in html or "yd" in html
    assert "numbered at the left and read from left to right" in html
    assert re.findall(r"<b>(Row \d) \([RW]S\):", html) == ["Row 2", "Row 3"]


@pytest.mark.parametrize(
    ("words", "told"),
    [
        ("-o pier.pdf", "The file must end in .html: it is a page that a browser prints."),
        ("-o pier.html --only chart,row", f'--only takes {", ".join(PARTS)}, not "row". Did you mean "rows"?'),
        ("-o pier.html --only x", f'--only takes {", ".join(PARTS)}, not "x".'),
        ("-o pier.html --rows 3-9", "This plan has rows 1 to 4."),
        ("", "Missing option '-o' / '--output'."),
    ],
)  # fmt: skip
def test_what_cannot_be_printed_is_told_in_one_sentence(folder: Path, words: str, told: str) -> None:
    ran = run(folder, "print", "pier.yaml", *words.split())
    assert (ran.code, ran.out) == (2, "")
    assert ran.err.splitlines()[-1] == f"Error: {told}"
    assert [path.name for path in folder.iterdir()] == ["pier.yaml"]


def test_of_a_piece_in_work_it_tells_where_it_is(folder: Path) -> None:
    plan = folder / "pier.yaml"
    with Shelf(folder / "data" / "pieces").start(load(plan), plan) as knitting:
        for _ in range(3):
            knitting.do(On())
    assert run(folder, "print", "pier.yaml", "-o", "pier.html", "--only", "now,rows").code == 0
    html = (folder / "pier.html").read_text(encoding="utf-8")
    # Three presses: row 1, what is to be had ready at its end, and of row 2 the first run, two stitches.
    assert "<h2>Where the piece is now</h2><p>Row 2 of 4.</p><p>Row 2, wrong side toward you. 2 stitches" in html
    assert html.count('<li class="done">') == 1


def test_a_piece_not_begun_is_nowhere_and_of_one_bound_off_what_is_left_is_told(folder: Path) -> None:
    plan = folder / "pier.yaml"
    words = ("print", "pier.yaml", "-o", "pier.html", "--only", "title,now", "--force")
    with Shelf(folder / "data" / "pieces").start(load(plan), plan) as knitting:
        assert run(folder, *words).code == 0
        assert "Where the piece is now" not in (folder / "pier.html").read_text(encoding="utf-8")
        while not knitting.session.is_worked:
            knitting.do(On())
        knitting.do(BindOff())
    assert run(folder, *words).code == 0
    # Three strands, as the plan's comment works out: six ends.
    html = (folder / "pier.html").read_text(encoding="utf-8")
    assert "<h2>Where the piece is now</h2><p>Finishing: 6 ends.</p>" in html


def test_the_parts_that_the_command_line_knows_are_those_there_are() -> None:
    assert list(PARTS) == list(PAPER_PARTS)
    assert set(MADE) | {"chart"} == set(PARTS)


def test_tails_are_laid_in_on_paper_where_the_knitter_wants_that(folder: Path) -> None:
    (folder / "trap").mkdir()
    (folder / "trap" / "settings.yaml").write_text("tails: trap\n", encoding="utf-8")
    words = ("print", "harbour-light-cushion", "--rows", "9", "-o")
    assert run(folder, *words, "woven.html").code == 0
    assert run(folder, *words, "trapped.html", ROWSIDE_HOME=str(folder / "trap")).code == 0
    told = "lay the dusk tail in under the next 8"
    assert told not in (folder / "woven.html").read_text(encoding="utf-8")
    assert told in (folder / "trapped.html").read_text(encoding="utf-8")
    plan = next(path for path in demo_plans() if path.stem == "harbour-light-cushion")
    with Shelf(folder / "data" / "pieces").start(load(plan), plan) as knitting:
        knitting.do(TrapTails(True))
    assert run(folder, *words, "begun.html").code == 0
    assert told in (folder / "begun.html").read_text(encoding="utf-8"), "of a piece in work, as it is worked"
