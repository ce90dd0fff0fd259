"""A plan by questions, line by line."""

from __future__ import annotations

import io
import os
import re
from pathlib import Path

import pytest
from the_program import run

from companion.cli import main
from companion.dialogue.at_the_board import draw
from companion.dialogue.basket import new_here
from companion.dialogue.new.piece import what_next
from companion.lines.commands import Typist
from companion.plan.read import load
from tests.dialogue.at_the_easel import plan
from tests.dialogue.new_sources import chosen, lay
from tests.lines.at_lines import AtLines
from tests.screens.at_the_needles import shelf


def asked(folder: Path, *lines: str) -> AtLines:
    """Line mode where a plan is asked for, with these lines."""
    knitter = Typist()
    return AtLines(new_here(knitter, shelf(folder / "home")), lines, knitter)


KEPT = [""] * 24
"""Enter at every question, as far as there are some."""


def test_a_two_colour_panel_is_made_and_three_rows_of_it_are_knitted(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.chdir(tmp_path)
    at = asked(tmp_path, "1", "Slip", *[""] * 5, "12", "10 rows", "rope", "linen", "", "1", "tar", "#222", "50 g",
               "2", "1", "", "", "", "1", "w", "w", "w", "q", "y")  # fmt: skip
    piece = load(tmp_path / "slip.yaml").piece
    assert (piece.fabric.columns, len(piece.fabric.rows)) == (12, 10)
    assert [(yarn.name, yarn.colour) for yarn in piece.yarns] == [("rope", "#faf0e6"), ("tar", "#222222")]
    assert "Slip: 12 stitches x 10 rows, 2 yarns." in at.text
    (card,) = shelf(tmp_path / "home").cards()
    assert card.rows_done == 3
    assert at.said[-1] == []


def test_it_is_said_that_a_picture_is_being_drafted(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    image = pytest.importorskip("PIL.Image")
    image.new("RGB", (12, 12), (217, 201, 165)).save(tmp_path / "buoy.png")
    monkeypatch.chdir(tmp_path)
    at = asked(tmp_path, "3", "1", *[""] * 12)
    lines = [line for said in at.said for line in said]
    assert lines.index("Drafting the picture ...") < lines.index("The plan is ready.")


def test_before_goes_to_the_question_before_and_leave_leaves_all(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.chdir(tmp_path)
    at = asked(tmp_path, "before", "1", "Pier", "before", "", "BEFORE", "leave", "n", "leave", "y")
    assert at.said[0][-1] == 'Type a number. "leave" leaves it. Enter is 1.'
    assert at.said[1] == ['Type a number from 1 to 5, not "before". "leave" leaves it.']
    assert at.said[2] == [
        "What is the piece called?",
        'Enter keeps "Quay panel", "-" takes it away. "before" goes to the question before, "keep" keeps this answer '
        "and all after it.",
    ]
    assert at.said[3][-1] == (
        'Type a number. "leave" leaves it. "before" goes to the question before, "keep" keeps this answer and all '
        "after it. Enter is 1."
    )
    assert at.said[4][-1].startswith('Enter keeps "Pier"')
    assert at.said[7][0] == "Leave it? Nothing of the new plan is written."
    assert at.said[8][0] == "What is the piece called?"
    assert at.is_left
    assert os.listdir(tmp_path) == []


def test_a_border_and_another_gauge_are_asked_for_by_lines_as_on_a_keyboard(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    one, other = tmp_path / "one", tmp_path / "other"
    for folder in (one, other):
        folder.mkdir()
    by_keys = chosen(one, "Written rows")
    by_keys.until("The gauge:")
    by_keys.choose("I know it")
    by_keys.type("18x24/10cm")
    by_keys.choose("The picture drawn anew")
    by_keys.until("A border")
    about = by_keys.question.splitlines()[0]
    by_keys.choose("Seed")
    by_keys.keep()
    by_keys.type("3")
    by_keys.type("2")
    by_keys.choose("brick")
    lay(other, "Written rows")
    monkeypatch.chdir(other)
    at = asked(tmp_path, "5", "1", "Buoy", "3", "18x24/10cm", "2", "1", "3", "", "3", "2", "2", "keep", "keep", "3")
    assert load(other / "buoy.yaml").text == by_keys.finish().text
    assert "Drawing anew ..." in at.text
    assert about.replace(" sts x ", " stitches x ").split(":")[0] in at.text
    asked_for = [lines for lines in at.said if "A border, which keeps the edges flat:" in lines]
    assert [line for line in asked_for[0] if line[:2] in ("1.", "2.", "3.", "4.")] == [
        "1. None", "2. Garter stitch", "3. Seed stitch", "4. Rib",
    ]  # fmt: skip


def test_keep_keeps_all_answers_up_to_the_plan_and_then_to_its_file(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.chdir(tmp_path)
    at = asked(tmp_path, "keep", "1", "Slip", "keep", "keep", "3")
    assert at.said[1] == ['Type a number from 1 to 5, not "keep". "leave" leaves it.']
    assert at.said[4][:3] == [
        "Slip: 40 stitches x 56 rows, 2 yarns.",
        "Border in garter stitch: 6 rows below and above, 4 stitches at each side.", "The plan is ready.",
    ]  # fmt: skip
    assert '"slip.yaml" is written. What next?' in at.said[5]
    assert load(tmp_path / "slip.yaml").piece.fabric.columns == 40


def test_the_colours_that_are_shown_as_chips_are_named(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.chdir(tmp_path)
    at = asked(tmp_path, *[""] * 10)
    told = next(lines for lines in at.said if lines and lines[0].startswith("The colour of"))
    assert told[1].startswith("Likely: white, linen, wheat, tan, ")


def test_more_of_what_is_to_be_written_is_read_out_before_its_file_is_named(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.chdir(tmp_path)
    at = asked(tmp_path, *KEPT[:22], "2", "more", "more", "more", "more", "more")
    assert 'There is more: "more" reads on.' in at.said[23]
    assert at.said[23][-2] == "The plan goes to the file:"
    assert at.said[26][-1].strip() == "- plain: {rows: 6, stitches: 40, yarn: sand, stitch: garter}"
    assert at.said[27] == ["It must end in .yaml or .yml, and is \"more\".", *at.said[23][-2:-1], at.said[27][-1]]


def test_the_answer_that_stands_in_a_choice_is_that_of_enter(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.chdir(tmp_path)
    at = asked(tmp_path, *KEPT)
    assert any(line.endswith("Enter is 2.") for lines in at.said for line in lines)
    assert (tmp_path / "quay-panel.yaml").is_file()


def test_in_the_basket_it_is_typed_by_its_name(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    from companion.dialogue.basket import basket_here

    monkeypatch.chdir(tmp_path)
    knitter = Typist()
    for typed in ("make", "new plan"):
        at = AtLines(basket_here(knitter, shelf(tmp_path / "home")), [typed, "leave", "q"], knitter)
        assert at.said[1][0] == "A new plan. What is it made from?"
    at = AtLines(basket_here(knitter, shelf(tmp_path / "home")), ["?"], knitter)
    assert any(line.startswith("make: New plan. ") for line in at.said[1])


# The command


@pytest.mark.parametrize(("answered", "last"), [
    (0, "Stopped here. Nothing of the new plan is written."),
    (9, "Stopped here. Nothing of the new plan is written."),
    (23, "Stopped here. Nothing of the new plan is written."),
    (24, "Stopped here. Everything is saved."),
])
def test_where_nobody_types_any_more_it_is_said_whether_the_plan_is_written(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str], answered: int, last: str
) -> None:
    monkeypatch.chdir(tmp_path)
    monkeypatch.setenv("ROWSIDE_HOME", str(tmp_path / "home"))
    monkeypatch.setattr("sys.stdin", io.StringIO("\n" * answered))
    assert main(["new", "--plain"]) == 0
    assert capsys.readouterr().out.splitlines()[-1] == last
    assert (tmp_path / "quay-panel.yaml").is_file() == (answered == 24)


def test_the_command_asks_by_lines_on_pipes_and_needs_a_terminal_for_a_screen(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    ran = run(tmp_path, "new")
    assert (ran.code, ran.out) == (1, "")
    assert "with --plain they are asked line by line" in ran.err
    monkeypatch.chdir(tmp_path)
    monkeypatch.setenv("ROWSIDE_HOME", str(tmp_path / "home"))
    typed = "".join(f"{line}\n" for line in [*KEPT[:23], "quay.yaml", "3", "q"])
    monkeypatch.setattr("sys.stdin", io.StringIO(typed))
    assert main(["new", "pier.yaml", "--plain"]) == 0
    assert 'Enter keeps "pier.yaml"' in capsys.readouterr().out
    assert load(tmp_path / "quay.yaml").piece.title == "Quay panel"


@pytest.mark.parametrize(("file", "told"), [
    ("boat.png", "The name of a plan ends in .yaml or .yml, such as boat.yaml; boat.png does not."),
    ("there.yaml", 'There is a file "there.yaml" already.'),
])  # fmt: skip
def test_a_file_that_cannot_be_is_told_before_anything_is_asked(tmp_path: Path, file: str, told: str) -> None:
    (tmp_path / "there.yaml").write_text("x", encoding="utf-8")
    ran = run(tmp_path, "new", file)
    assert ran.code == 2
    assert told in ran.err


def test_without_a_screen_it_is_said_that_the_drawing_board_needs_one(tmp_path: Path) -> None:
    (tmp_path / "pier.yaml").write_text(plan(), encoding="utf-8")
    knitter = Typist()
    at = AtLines(draw(knitter, tmp_path / "pier.yaml", tmp_path), [], knitter)
    assert "The drawing board needs a terminal that can be painted on." in at.said[-1]
    assert at.is_left


def test_without_a_screen_a_new_plan_is_not_offered_to_be_drawn_in(tmp_path: Path) -> None:
    knitter = Typist()
    at = AtLines(what_next(knitter, shelf(tmp_path / "home"), tmp_path / "pier.yaml"), ["leave"], knitter)
    assert at.said[0][:3] == ['"pier.yaml" is written. What next?', "1. Knit it", "2. Back to the work basket"]


def test_the_plan_is_read_out_below_a_heading_with_one_colon(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.chdir(tmp_path)
    every = (asked(tmp_path / str(many), *[""] * many, "2") for many in range(10, len(KEPT)))
    at = next(at for at in every if "as it will be written" in at.text)
    assert "The plan as it will be written:\n" in at.text + "\n"
    assert re.search(r"[0-9] cm\b", at.text.split("as it will be written:")[1]), "it is read as it stands"
    assert "::" not in at.text
