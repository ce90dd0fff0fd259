"""The comparison as it is printed, and a choice written into the plan."""

from __future__ import annotations

from pathlib import Path

import pytest
from the_program import PIER_SIGN, run

from companion.knitting.reckoning.choices import compared, grid
from companion.pages.tables import FAINT, comparison
from companion.pages.waiting import waiting
from companion.plan.demo import demo_plans
from companion.plan.read import load


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    (tmp_path / "pier.yaml").write_text(PIER_SIGN, encoding="utf-8")
    return tmp_path


def test_a_line_for_each_technique_and_one_sentence_on_which_is_recommended(folder: Path) -> None:
    ran = run(folder, "compare", "pier.yaml")
    assert (ran.code, ran.err) == (0, "")
    lines = ran.out.splitlines()
    assert lines[0] == "Pier sign"
    assert [line[4:46].strip() for line in lines[3:9]] == [
        "strict", "up to 3 sts behind", "up to 5 sts behind", "waiting up to 2 rows",
        "up to 3 sts behind, waiting up to 4 rows", "reaching 1 st",
    ]  # fmt: skip
    assert lines[8].endswith("today's")
    assert sum("recommended" in line for line in lines[3:9]) == 1
    assert lines[10].startswith("Recommended: ")
    assert lines[11] == (
        "Strict: a strand works once in a row and goes on in the very next row, at most 3 sts further along."
    )
    assert "Strict" not in run(folder, "compare", "pier.yaml", "--reach", "3", "--behind", "2", "--rest", "0").out


def test_the_figures_as_data(folder: Path) -> None:
    value = run(folder, "compare", "pier.yaml", "--reach", "1", "--behind", "0,2", "--rest", "0", "--json").value
    assert [(each["reach"], each["behind"], each["rest"], each["share"]) for each in value] == [
        (1, 0, 0, False), (1, 2, 0, False),
    ]  # fmt: skip
    # One strand of sand less where it passes behind the two bricks in rows 2 and 3: 4 sts, and the brick goes on
    # carried over 1 stitch... the shift of the brick from row 2 to row 3 is nothing, since it hangs there.
    assert [(each["strands"], each["ends"]) for each in value] == [(3, 6), (2, 4)]
    assert [each["today"] for each in value] == [True, False]
    assert [each["recommended"] for each in value] == [False, True]
    assert value[1]["longest_float_cm"] == 1.0


def test_a_choice_is_written_into_the_plan_and_followed_from_then_on(folder: Path) -> None:
    ran = run(folder, "compare", "pier.yaml", "--reach", "1", "--behind", "0,2", "--rest", "0", "--use", "2")
    assert (ran.code, ran.err) == (0, "pier.yaml now says carry: {reach: 1, behind: 2, rest: 0}\n")
    text = (folder / "pier.yaml").read_text(encoding="utf-8")
    assert text == PIER_SIGN.replace("carry: {reach: 1}", "carry: {reach: 1, behind: 2, rest: 0}")
    assert run(folder, "strands", "pier.yaml", "--json").value["total"]["strands"] == 2


def test_a_choice_that_is_not_there_and_a_demo_plan_are_refused(folder: Path) -> None:
    ran = run(folder, "compare", "pier.yaml", "--use", "7")
    assert (ran.code, ran.out) == (2, "")
    assert "There are 6 choices." in ran.err
    ran = run(folder, "compare", "swatch", "--use", "1")
    assert ran.code == 2
    assert "A demo plan stays as it is." in ran.err


def test_limits_are_told_as_numbers(folder: Path) -> None:
    ran = run(folder, "compare", "pier.yaml", "--behind", "1;2")
    assert ran.code == 2
    assert '--behind takes up to ten numbers such as 1,3,8, not "1;2".' in ran.err


def test_what_is_beaten_is_faint_on_a_terminal_and_said_everywhere() -> None:
    piece = load(next(path for path in demo_plans() if path.stem == "mooring-mat")).piece
    found = list(compared(piece, grid(piece)))
    plain, drawn = list(comparison(piece, found)), list(comparison(piece, found, is_coloured=True))
    beaten = [line for line in plain[3:-3] if line.endswith("beaten")]
    assert beaten
    assert [line for line in drawn if line.startswith(FAINT)] == [f"{FAINT}{line}\x1b[22m" for line in beaten]


def test_a_bar_is_drawn_only_for_those_who_wait_at_a_terminal(capsys: pytest.CaptureFixture[str]) -> None:
    with waiting("Comparing techniques") as done:
        for number in (1, 2, 3):
            done(number / 3)
    assert capsys.readouterr() == ("", "")


def test_limits_and_terms_of_the_command_line_go_before_the_plan_and_the_settings(folder: Path) -> None:
    (folder / "data").mkdir()
    (folder / "data" / "settings.yaml").write_text("terms: uk\nunits: in\n", encoding="utf-8")
    assert "tension is that of" in run(folder, "strands", "pier.yaml").out
    (folder / "us.yaml").write_text(f"{PIER_SIGN}terms: us\n", encoding="utf-8")
    told = run(folder, "strands", "us.yaml").out
    assert "gauge is that of" in told
    assert "0.81 in" in told
    told = run(folder, "strands", "us.yaml", "--terms", "uk", "--units", "cm", "--behind", "2").out
    assert "tension is that of" in told
    assert "2.05 cm" in told
    assert "2 strands, 4 ends to sew in" in told
    assert "Gauge" not in run(folder, "rows", "us.yaml", "--terms", "uk").out


def test_left_hands_read_the_rows_from_the_other_side(folder: Path) -> None:
    told = run(folder, "rows", "pier.yaml", "--hands", "left").out
    assert "lay the old strand to your right across the new one" in told
    # Row 3 of the chart, "sbbss" from the left edge: worked from there.
    assert "Row 3 (RS): with sand k1; cross, with brick" in told
    right = run(folder, "rows", "pier.yaml").out
    assert "Row 3 (RS): with sand k2; cross, with brick" in right


def test_a_plan_of_strands_is_checked_on_request(folder: Path) -> None:
    ran = run(folder, "strands", "pier.yaml", "--prove")
    assert ran.err == "Checked: under these limits no strands are fewer, and no as few are carried less.\n"
    assert ran.out == run(folder, "strands", "pier.yaml").out
