"""At the needles, without a screen: what the plan says at its row's start, and why a step is done."""

from __future__ import annotations

from pathlib import Path

import pytest

from companion.dialogue.questions import Reading
from companion.progress.actions import Finish, Weave
from companion.progress.ends import all_ends
from companion.settings import Settings
from tests.dialogue.keyboard import Keyboard
from tests.dialogue.test_same_journal import at_a_keyboard
from tests.plan.plans import HEAD
from tests.screens.at_the_needles import begun

QUAY = HEAD + """\
carry: {reach: 3}
rows:
  - plain: {rows: 2, stitches: 6, yarn: sand}
    says: Sand to begin with.
  - chart: |
      3s 3b
      3s 3b
    says: The quay begins.
"""

BEGIN, QUAY_BEGINS = "The plan says: Sand to begin with.", "The plan says: The quay begins."


@pytest.fixture
def board(tmp_path: Path) -> Keyboard:
    return at(tmp_path)


def at(tmp_path: Path, row: int = 0, runs: int = 0, settings: Settings | None = None) -> Keyboard:
    """Sat down to the quay, begun up to there where a row is named."""
    path = tmp_path / "quay.yaml"
    path.write_text(QUAY, encoding="utf-8")
    if row:
        begun(tmp_path, path, row, runs)
    return at_a_keyboard(tmp_path, path, settings)


def why(board: Keyboard) -> list[str]:
    """What is read of the step that is told, put away again with a key."""
    board.press("y")
    reading = board.top.request
    assert isinstance(reading, Reading)
    assert reading.title == "Why"
    board.press("space")
    assert board.top.request is board.sitting
    return list(reading.lines)


def heads(board: Keyboard) -> list[str]:
    """What there are reasons for."""
    return [line.partition(":")[0] for line in why(board)]


def test_it_is_said_on_opening_and_when_its_row_comes_and_goes_with_the_next_key(board: Keyboard) -> None:
    assert board.sitting.notice == BEGIN
    board.press("space", "space")  # brick is to be had ready
    assert board.sitting.notice == ""
    board.press("space")
    assert board.sitting.notice == QUAY_BEGINS
    board.press("space")
    assert board.sitting.notice == ""
    board.press("backspace")
    assert board.sitting.notice == QUAY_BEGINS
    board.press("w")
    assert board.sitting.notice == ""
    board.press("u")
    assert BEGIN not in board.sitting.notice


def test_on_coming_back_to_its_rows_start_it_is_said_after_where_the_hands_are(tmp_path: Path) -> None:
    board = at(tmp_path, row=3)
    assert board.sitting.notice.endswith(f" {QUAY_BEGINS}")
    board.press("space", "q", "y")
    assert QUAY_BEGINS not in at_a_keyboard(tmp_path, tmp_path / "quay.yaml").sitting.notice


def test_what_is_refused_says_nothing_of_the_plan(board: Keyboard) -> None:
    board.press("space", "space", "space")
    assert board.sitting.notice == QUAY_BEGINS
    board.press("g", "1", "enter")
    assert board.sitting.notice
    assert QUAY_BEGINS not in board.sitting.notice


def test_the_reason_is_that_of_what_the_next_press_says_is_done(tmp_path: Path) -> None:
    board = at(tmp_path)
    assert heads(board) == ["The plan says", "Cast on", "Knit"]
    board.press("space")
    before = board.sitting.session
    assert heads(board) == ["Count", "Turn", "Purl"]
    assert board.sitting.session is before
    board.press("space")
    assert heads(board) == ["Count", "Have ready"]
    board.press("space", "space")
    assert heads(board) == ["Carry", "Cross", "Knit"]


def test_in_row_mode_it_is_the_whole_rows_each_reason_once(tmp_path: Path) -> None:
    board = at(tmp_path, row=4)
    board.press("m")
    told = why(board)
    assert len(told) == len(set(told))
    assert {line.partition(":")[0] for line in told} >= {"Cross", "Purl"}
    board.press("m")
    assert not any(line.startswith("Cross") for line in why(board))


def test_past_the_last_row_each_step_has_its_reason_and_when_all_is_done_that_is_told(tmp_path: Path) -> None:
    board = at(tmp_path, row=4, settings=Settings(terms="uk"))
    board.press("w")
    assert heads(board) == ["Count", "Cut"]
    board.press("space")
    assert heads(board) == ["Cast off"]
    board.press("space")
    assert heads(board) == ["Sew in"]
    for action in (*(Weave(end) for end, _ in all_ends(board.sitting.session)), Finish(), Finish()):
        board.sitting.do(action)
    assert board.sitting.telling.act == "finished"
    assert why(board) == list(board.sitting.telling.to_do) != []
