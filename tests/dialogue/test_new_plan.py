"""A blank panel by questions, asked with keys and no screen; and the way back."""

from __future__ import annotations

import os
from collections.abc import Callable
from fractions import Fraction
from pathlib import Path

import pytest

from companion.dialogue.knitter import Knitter
from companion.dialogue.new.asked import MOST_YARNS
from companion.dialogue.new.piece import new_plan
from companion.dialogue.new.steps import Step, Steps, in_turn
from companion.dialogue.questions import Choice, Kept, Reading, Words, YesNo
from companion.knitting.cloth.fabric import Ball, Gauge, Texture, Yarn
from companion.knitting.strands.limits import Carry
from companion.plan.amount import AmissError
from companion.settings import Settings
from tests.dialogue.keyboard import Keyboard
from tests.dialogue.plan_asked import Asked, blank

# A blank panel


def test_every_answer_can_be_kept_and_what_is_written_loads_without_a_warning(tmp_path: Path) -> None:
    asked = Asked(tmp_path)
    loaded = asked.finish()
    assert loaded.warnings == ()
    assert os.listdir(tmp_path) == ["quay-panel.yaml"]
    assert "\n\n\n" not in loaded.text
    assert "# Stitches and rows over a length, measured on a washed swatch.\ngauge: {stitches: 20" in loaded.text


def test_a_panel_is_as_large_as_was_asked_and_has_its_border_within(tmp_path: Path) -> None:
    asked = blank(tmp_path)
    asked.type("Slipway")
    asked.choose("I counted")
    for typed in ("19", "10 cm", "26", "4 in"):  # 26 rows over 10.16 cm
        asked.type(typed)
    asked.type("30 cm")
    asked.type("41 rows")
    asked.until("A border")
    asked.choose("Rib")
    asked.type("2x1")
    asked.choose("All round")
    asked.type("5")
    asked.type("2 cm")
    piece = asked.finish().piece
    # By hand: 30 cm at 1.9 stitches a centimetre are 57; 2 cm are 3.8, so 4.
    assert piece.gauge == Gauge(Fraction(19), Fraction("25.590551181102"), Fraction(10))
    assert (piece.fabric.columns, len(piece.fabric.rows)) == (57, 41)
    rib, ground = Texture("rib", (2, 1)), Texture()
    looks = [[(run.columns, run.stitch and run.stitch.texture) for run in row.runs] for row in piece.fabric.rows]
    assert looks == [*[[(57, rib)]] * 5, *[[(4, rib), (49, ground), (4, rib)]] * 31, *[[(57, rib)]] * 5]
    assert piece.title == "Slipway"


@pytest.mark.parametrize(("where", "rows_below", "rows_above", "at_sides"), [
    ("Below and above", 6, 6, 0), ("At both sides", 0, 0, 4), ("Below only", 6, 0, 0), ("Above only", 0, 6, 0),
])  # fmt: skip
def test_a_border_lies_where_it_was_asked_for(
    tmp_path: Path, where: str, rows_below: int, rows_above: int, at_sides: int
) -> None:
    asked = blank(tmp_path)
    asked.until("A border")
    asked.choose("Seed")
    asked.choose(where)
    seed = Texture("seed")
    rows = asked.finish().piece.fabric.rows
    ends = [[run.stitch.texture == seed for run in row.runs if run.stitch] for row in rows]
    middle = [True, False, True] if at_sides else [False]
    assert ends == [*[[True]] * rows_below, *[middle] * (56 - rows_below - rows_above), *[[True]] * rows_above]
    assert {rows[30].runs[0].columns} == {at_sides or 40}


def test_all_stitches_are_drawn_in_the_first_yarn_so_that_each_can_be_painted(tmp_path: Path) -> None:
    asked = blank(tmp_path)
    asked.until("A border")
    asked.choose("None")
    loaded = asked.finish()
    (drawing,) = loaded.drawings
    assert (drawing.first, drawing.right, drawing.wide, len(drawing.lines.texts)) == (0, 0, 40, 56)
    assert {run.stitch.yarn for row in loaded.piece.fabric.rows for run in row.runs if run.stitch} == {"sand"}
    assert [yarn.name for yarn in loaded.piece.yarns] == ["sand", "brick"]


def test_yarns_have_their_names_colours_and_balls(tmp_path: Path) -> None:
    asked = blank(tmp_path)
    asked.until("Yarn 1")
    for typed in ("old rope", "Dark Sea Green", "110 yd, 50 g"):
        asked.type(typed)
    asked.choose("One more")
    asked.type("old rope")
    assert asked.question.startswith('It must be a name of its own: "old rope" is another yarn already.')
    for typed in ("lamp", '"fc0"', ""):
        asked.type(typed)
    asked.choose("These are all")
    yarns = asked.finish().piece.yarns
    # A yard is 0.9144 m: 110 of them are 100.584.
    assert yarns == (
        Yarn("old rope", "#8fbc8f", "o" if yarns[0].symbol == "o" else yarns[0].symbol,
             Ball(Fraction("100.584"), Fraction(50))),
        Yarn("lamp", "#ffcc00", yarns[1].symbol),
    )
    assert len({yarn.symbol for yarn in yarns}) == 2


def test_a_yarn_that_is_called_after_a_colour_has_it_already(tmp_path: Path) -> None:
    asked = blank(tmp_path)
    asked.until("Yarn 1")
    asked.type("teal")
    assert isinstance(asked.request, Words)
    assert asked.request.answer == "#008080"


def test_the_technique_that_is_chosen_is_the_plans(tmp_path: Path) -> None:
    asked = blank(tmp_path)
    asked.until("How far may a strand go")
    asked.choose("Up to 3 sts behind, waiting up to 4 rows")
    loaded = asked.finish()
    assert loaded.piece.carry == Carry(3, 3, 4)
    assert "carry: {reach: 3, behind: 3, rest: 4}\n" in loaded.text


def test_the_gauge_may_be_typed_and_lengths_are_in_inches_where_the_settings_say_so(tmp_path: Path) -> None:
    asked = blank(tmp_path)
    asked.until("The gauge")
    asked.choose("I know it")
    asked.type("18 x 24 over 4 in")
    gauge = asked.finish().piece.gauge
    assert gauge == Gauge(Fraction(18), Fraction(24), Fraction("10.16"))
    inches = Keyboard(Knitter(Settings(units="in")), new_plan(Knitter(Settings(units="in")), tmp_path))
    inches.press(*["enter"] * 4)
    assert isinstance(inches.top.request, Words)
    assert inches.top.request.answer == "4 in"


@pytest.mark.parametrize(("question", "typed", "amiss"), [
    ("called", "", "It is empty."),
    ("How many stitches", "no", "It must be a number above 0"),
    ("Over how many", "soft", "It must be a length such as 10 cm"),
    ("How wide", "1", "It must be 2 to 4,000, and comes to 1."),
    ("How high", "3", "It must be 4 to 4,000, and comes to 3."),
    ("The colour", "sandish", "It must be the English name of a colour, such as seagreen, or #rrggbb, and is "),
    ("The colour", "see green", 'It must be the English name of a colour, such as seagreen, or #rrggbb, and is '
                                '"see green". Did you mean "seagreen"?'),
    ("The colour", "", "It must be the English name of a colour, such as seagreen, or #rrggbb, and is empty."),
    ("What a ball", "heavy", "It must be such as 100 m 50 g, or nothing"),
    ("What a ball", "50 g 60 g", "It must say grams once"),
    ("How high is the border", "27", "It must be 1 to 26, and comes to 27."),
    ("How wide at each side", "20", "It must be 1 to 19, and comes to 20."),
    ("goes to the file", "panel.txt", "It must end in .yaml or .yml"),
])  # fmt: skip
def test_what_is_no_answer_is_told_and_the_question_stays(
    tmp_path: Path, question: str, typed: str, amiss: str
) -> None:
    asked = blank(tmp_path)
    asked.until(question)
    asked.type(typed)
    assert asked.question.startswith(amiss)
    assert question in asked.question
    assert os.listdir(tmp_path) == []


def test_a_panel_too_small_for_a_border_has_none(tmp_path: Path) -> None:
    asked = blank(tmp_path)
    asked.until("How wide, with")
    asked.type("2")
    asked.type("9")
    loaded = asked.finish()
    assert (loaded.piece.fabric.columns, len(loaded.piece.fabric.rows), loaded.warnings) == (2, 9, ())


def test_of_a_wide_panel_no_more_rows_are_drawn_than_anybody_paints(tmp_path: Path) -> None:
    asked = blank(tmp_path)
    asked.until("How wide, with")
    asked.type("4000")
    asked.type("51")
    assert asked.question.startswith("It must be 4 to 50, and comes to 51.")  # 200,000 stitches


def test_after_so_many_yarns_no_other_is_asked_for(tmp_path: Path) -> None:
    asked = blank(tmp_path)
    asked.until("Yarn 1")
    for _ in range(MOST_YARNS - 1):
        asked.keep(3)
        asked.choose("One more")
    asked.keep(3)
    assert "A border" in asked.question
    yarns = asked.finish().piece.yarns
    assert len({yarn.symbol for yarn in yarns}) == len({yarn.name for yarn in yarns}) == MOST_YARNS


# Back, and away


def test_going_back_keeps_every_answer(tmp_path: Path) -> None:
    asked = blank(tmp_path)
    asked.type("Breakwater")
    asked.choose("I know it")
    asked.type("22x30/10cm")
    asked.keyboard.press("f2")
    assert isinstance(asked.request, Words)
    assert asked.request.answer == "22x30/10cm"
    asked.keyboard.press("f2")
    assert isinstance(asked.request, Choice)
    assert asked.request.at == 1
    asked.keyboard.press("f2")
    assert isinstance(asked.request, Words)
    assert asked.request.answer == "Breakwater"
    asked.keyboard.press("f2")
    assert asked.question == "A new plan. What is it made from?"
    asked.keyboard.press("f2")  # there is none before
    piece = asked.finish().piece
    assert (piece.title, piece.gauge.stitches, piece.gauge.rows) == ("Breakwater", 22, 30)


def test_another_answer_after_going_back_is_the_one_that_counts(tmp_path: Path) -> None:
    asked = blank(tmp_path)
    asked.until("How high, with")
    asked.keyboard.press("f2")
    asked.type("30")
    asked.until("goes to the file")
    asked.keyboard.press("f2", "f2")
    assert asked.question.startswith("How far may a strand go")
    assert asked.finish().piece.fabric.columns == 30


def test_nothing_is_written_when_it_is_left_at_any_question(tmp_path: Path) -> None:
    kept = 0
    while True:
        asked = Asked(tmp_path)
        asked.keep(kept)
        if asked.is_over:
            break
        if isinstance(asked.request, Reading):
            kept += 1
            continue
        asked.keyboard.press("escape")
        if kept:
            assert asked.question == "Leave it? Nothing of the new plan is written."
            asked.keyboard.press("y")
        assert asked.is_over
        assert asked.path is None
        assert os.listdir(tmp_path) == []
        kept += 1
    assert kept > 20


def test_what_goes_wrong_after_an_answer_asks_for_that_answer_again() -> None:
    """Nothing between two steps is known to go wrong but what no answer shows: here it is made to."""

    def counted() -> Steps[str]:
        first = yield Step(Words("How many?", "1"))
        second = yield Step(Words("How many more?", "2"))
        if second == "2":
            raise AmissError("is one too many.", "Take one less.")
        return f"{first} and {second}"

    asking = in_turn(counted, YesNo(("Leave?",), "yes", "no"))
    assert next(asking) == Words("How many?", "1")
    assert asking.send("3") == Words("How many more?", "2", goes_back=True)
    told = "It is one too many. Take one less.\nHow many more?"
    assert asking.send("2") == Words(told, "2", goes_back=True)
    with pytest.raises(StopIteration) as done:
        asking.send("1")
    assert done.value.value == "3 and 1"


def test_all_answers_from_a_question_on_can_be_kept_at_once_and_the_plan_is_seen_before_it_is_written(
    tmp_path: Path,
) -> None:
    one, other = tmp_path / "one", tmp_path / "other"
    for folder in (one, other):
        folder.mkdir()
    slowly = blank(one)
    slowly.type("Slip")
    wanted = slowly.finish()
    asked = blank(other)
    asked.keyboard.press(*["backspace"] * len("Quay panel"), *"Slip", "f3")  # it as it is typed, and the rest
    assert asked.question.startswith("Slip: 40 sts x 56 rows, 2 yarns.")
    assert asked.question.endswith("The plan is ready.")
    assert os.listdir(other) == []
    asked.keyboard.press("f3")
    assert asked.is_over
    assert os.listdir(other) == ["slip.yaml"]
    assert asked.finish().text == wanted.text


def test_what_was_answered_already_is_kept_with_the_rest_and_gone_back_to_one_by_one(tmp_path: Path) -> None:
    asked = blank(tmp_path)
    asked.until("How wide, with")
    asked.type("12")
    asked.keyboard.press("f2", "f2", "f3")
    assert "12 sts x 56 rows" in asked.question
    asked.keyboard.press("f2")
    assert asked.question.startswith("How far may a strand go")
    asked.keep()
    assert asked.finish().piece.fabric.columns == 12


def test_where_what_stands_there_cannot_be_kept_it_is_asked_for() -> None:
    def several() -> Steps[str]:
        first = yield Step(Words("One?", "1"))
        second = yield Step(Words("A number?", "none"), _never)
        third = yield Step(Words("Three?", "3"))
        if third == "3":
            raise AmissError("is three.", "")
        fourth = yield Step(Choice(("Four?",), ("a", "b"), 1))
        return f"{first} {second} {third} {fourth}"

    def _never(typed: str) -> str:
        if typed == "none":
            raise AmissError("is none.", "")
        return typed

    asking = in_turn(several, YesNo(("Leave?",), "yes", "no"))
    next(asking)
    assert asking.send("2") == Words("A number?", "none", goes_back=True)
    told = asking.send(Kept("none"))
    assert told == Words("It is none.\nA number?", "none", goes_back=True)
    told = asking.send(Kept("8"))  # the third can be kept by itself, and goes wrong afterwards
    assert told == Words("It is three.\nThree?", "3", goes_back=True)
    assert asking.send("4") == Choice(("Four?",), ("a", "b"), 1, goes_back=True)
    with pytest.raises(StopIteration) as done:
        asking.send(Kept(0))
    assert done.value.value == "2 8 4 0"
    asking = in_turn(lambda: _asks_for_what_cannot_be(_never), YesNo(("Leave?",), "yes", "no"))
    next(asking)
    assert asking.send(Kept("1")) == Words("A number?", "none", goes_back=True), "nothing was typed that is amiss"


def _asks_for_what_cannot_be(meant: Callable[[str], str]) -> Steps[str]:
    yield Step(Words("One?", "1"))
    number: str = yield Step(Words("A number?", "none"), meant)
    return number


def test_who_does_not_want_to_leave_is_at_the_same_question(tmp_path: Path) -> None:
    asked = blank(tmp_path)
    asked.until("How wide, with")
    question = asked.question
    asked.keyboard.press("escape", "n")
    assert asked.question == question
    asked.finish()


def test_nobody_is_shown_the_text_of_the_plan_who_does_not_want_it(tmp_path: Path) -> None:
    asked = blank(tmp_path)
    while not asked.is_over:
        assert not isinstance(asked.request, Reading)
        asked.keep()
    assert os.listdir(tmp_path) == ["quay-panel.yaml"]


def test_what_is_written_is_read_before_the_file_is_named(tmp_path: Path) -> None:
    asked = blank(tmp_path)
    asked.until("The plan is ready.")
    asked.choose("Read its text")
    assert isinstance(asked.request, Reading)
    lines = list(asked.request.lines)
    assert os.listdir(tmp_path) == []
    assert asked.finish().text == "".join(f"{line}\n" for line in lines)


def test_no_file_that_is_there_is_written_over(tmp_path: Path) -> None:
    (tmp_path / "quay-panel.yaml").write_text("somebody's", encoding="utf-8")
    asked = blank(tmp_path)
    asked.until("goes to the file")
    assert isinstance(asked.request, Words)
    assert asked.request.answer == "quay-panel-2.yaml"
    asked.type("quay-panel.yaml")
    assert asked.question.startswith('It must be a new file: "quay-panel.yaml" is there already.')
    asked.type("no-such/quay.yaml")
    assert asked.question.startswith("It cannot be written: ")
    asked.type("pier.yaml")
    assert asked.path == tmp_path / "pier.yaml"
    assert (tmp_path / "quay-panel.yaml").read_text(encoding="utf-8") == "somebody's"
