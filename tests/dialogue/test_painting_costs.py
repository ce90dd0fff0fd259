"""What the drawing board tells of costs, marks and bargains, and of a file that is changed elsewhere."""

from __future__ import annotations

from pathlib import Path

import pytest
from at_the_easel import BLANK, SAIL, Easel, plan

from companion.board.board import Board
from companion.dialogue.deed import key_words
from companion.dialogue.deeds import deeds_of
from companion.dialogue.knitter import Knitter
from companion.dialogue.painting import Painting
from companion.dialogue.painting_costs import News
from companion.dialogue.painting_words import yarn_told
from companion.knitting.cloth.areas import Cell
from companion.knitting.strands import moves


def test_what_each_yarn_would_cost_is_told_of_the_stitch_that_is_meant(tmp_path: Path) -> None:
    """One stitch of ink in a ground of sand: sand goes on behind it in the next row on one of two sides, so that one
    sand strand is broken in two where it stands (a strand goes on to the next row alone) and ink is one more."""
    easel = Easel(tmp_path)
    easel.press("up", *["left"] * 4)
    assert easel.painting.board.counts == (1, 2)
    assert easel.painting.costs["sand"] == 0
    wanted = easel.painting.costs["ink"]
    assert "here" not in yarn_told(easel.painting, "ink")
    easel.press("2", "space")
    assert easel.painting.board.counts == (1 + wanted, 2 + 2 * wanted)
    assert easel.painting.costs == {"sand": -wanted, "ink": 0, "brick": 0}
    assert yarn_told(easel.painting, "sand") == f"s sand  -{wanted} strands"
    easel.press("right", "right")
    assert easel.painting.costs["ink"] > 0, "those of another stitch"


def test_what_floats_where_the_plan_would_refuse_it_is_not_told_to_cost_anything(tmp_path: Path) -> None:
    """The edges take their yarn from the chart, which is of one at either side as long as nothing else lies there."""
    easel = Easel(tmp_path, SAIL, opening="edges: {stitches: 1}\n    ")
    easel.press("left", "left", "s", "left", "up", "space", "c", "v", "left", "left")
    assert easel.painting.hand.startswith("2 x 2 in hand: +")
    easel.press("left")
    assert easel.painting.hand == "2 x 2 in hand"
    easel.press("space")
    assert '"edges" names no yarn' in easel.painting.notice
    easel.press("left", "left")  # over the edge alone
    assert easel.painting.hand == "2 x 2 in hand"


def test_marks_go_round_and_let_go_takes_them_away(tmp_path: Path) -> None:
    easel = Easel(tmp_path, ("ssssssss", "ssssssss", "ssissss" + "s", "ssssssss", "ssssssss"))
    easel.press("n")
    easel.worked_out()
    assert set(easel.painting.marked) == {Cell(3, 6)}
    assert easel.painting.notice == "Areas of one stitch: 1 stitch marked."
    easel.press("2", "space")
    easel.worked_out()
    assert set(easel.painting.marked) == {Cell(3, 6), Cell(1, 1)}, "those of the drawing as it is now"
    easel.press("u")
    easel.worked_out()
    easel.press("escape")
    assert set(easel.painting.marked) == set()
    for _ in range(5):
        easel.press("n")
    assert easel.painting.notice == "Nothing is marked."
    assert not easel.painting.slow.kind


def test_tidy_shows_a_change_and_draws_it_only_when_it_is_taken(tmp_path: Path) -> None:
    speck = ("ssssssss", "ssssssss", "ssisssss", "ssssssss", "ssssssss")
    easel = Easel(tmp_path, speck)
    easel.press("g")
    easel.worked_out()
    told = "1 stitch of ink in sand would spare 2 strands. Take it, or see the next (g)."
    assert easel.painting.notice == told
    assert easel.painting.over == {Cell(3, 6): "sand"}
    assert easel.chart == speck
    easel.press("g")
    assert easel.painting.notice == "No further change of few stitches would spare a strand: ask again for the first."
    easel.press("g")
    easel.worked_out()
    easel.press("escape", "g", "g")
    easel.worked_out()
    assert easel.painting.over == {Cell(3, 6): "sand"}
    easel.press("space")
    assert easel.chart == BLANK
    for _ in range(2):
        easel.press("g")
        easel.worked_out()
        assert easel.painting.notice == "No change of few stitches would spare a strand."


def test_figures_are_worked_out_anew_after_a_stroke_and_old_ones_are_thrown_away(tmp_path: Path) -> None:
    easel = Easel(tmp_path)
    easel.worked_out()
    before = easel.painting.slow.figures
    assert before is not None
    assert (before.strands, before.ends, before.most_at_once) == (1, 2, 1)
    late: list[News] = []
    easel.press("up", "left", "left", "2", "space")
    easel.painting.slow.work_out(easel.painting.slow.wanted, lambda: False, late.append)
    assert late
    easel.press("left", "space")
    for news in late:
        easel.painting.take_up(news)
    assert easel.painting.slow.figures == before
    easel.worked_out()
    after = easel.painting.slow.figures
    assert after is not None
    assert after.most_at_once == 3
    assert easel.painting.slow.is_slow is False


def test_a_file_that_is_changed_elsewhere_is_shown_as_it_is_and_never_written_over(tmp_path: Path) -> None:
    easel = Easel(tmp_path)
    assert easel.painting.look() is False
    easel.file.write_text(plan(SAIL), encoding="utf-8")
    assert easel.painting.look() is True
    assert easel.painting.notice == "The plan file was changed elsewhere: it is shown as it is now."
    easel.file.write_text(plan(("bbbbbbbb", *SAIL[1:])), encoding="utf-8")
    easel.press("3", "space")
    assert easel.chart == ("bbbbbbbb", *SAIL[1:])
    assert "elsewhere" in easel.painting.notice or "somebody else" in easel.painting.notice
    easel.file.write_text("no plan", encoding="utf-8")
    assert easel.painting.look() is True
    assert "cannot be read" in easel.painting.notice
    assert easel.painting.look() is False, "told once"


def test_what_comes_late_for_another_stitch_or_another_drawing_is_not_shown(tmp_path: Path) -> None:
    easel = Easel(tmp_path)
    slow, late = easel.painting.slow, list[News]()
    slow.work_out(slow.wanted, lambda: False, late.append)
    easel.press("left")
    for news in late:
        easel.painting.take_up(news)
    assert slow.metres == {}
    told = list[str]()

    def moves_on(news: News) -> None:
        told.append(news.what)
        easel.press("left")

    easel.press("2", "space")
    slow.work_out(slow.wanted, lambda: False, moves_on)
    assert told == ["figures"], "metres of a stitch that is left are worked out no further"
    easel.press("g", "left", "space")
    easel.worked_out()
    assert easel.painting.proposed is None


def test_what_is_looked_for_in_a_drawing_that_has_changed_is_given_up(tmp_path: Path) -> None:
    easel = Easel(tmp_path, ("ssssssss", "sissssss", "ssisssss", "ssssssss", "ssssssss"))
    easel.worked_out()
    easel.press("g")
    slow, told, asked = easel.painting.slow, list[News](), list[bool]()
    wanted = slow.wanted
    easel.press("2", "space")

    def is_left() -> bool:
        asked.append(True)
        return False

    slow.work_out(wanted, is_left, told.append)
    assert told == []
    assert len(asked) == 1, "given up where it was asked first"


def test_what_is_too_much_to_weigh_is_said_once_and_not_tried_again(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    easel = Easel(tmp_path, SAIL)
    monkeypatch.setattr(moves, "MOST_MOVES", 1)
    easel.worked_out()
    assert easel.painting.notice.startswith("Under these limits there are too many ways")
    assert not easel.painting.slow.is_slow
    easel.press("space")
    assert easel.painting.slow.is_slow, "another drawing may be less"


def test_a_yarn_that_is_gone_from_the_file_is_in_hand_no_more(tmp_path: Path) -> None:
    easel = Easel(tmp_path)
    easel.press("2")
    easel.file.write_text(plan().replace("i: ink, ", ""), encoding="utf-8")
    easel.painting.look()
    assert easel.painting.yarn == "brick", "the first one that shows where one is"


def test_every_key_of_the_board_is_told_as_it_is_printed_on_a_keyboard() -> None:
    told = key_words(tuple(key for deed in deeds_of("drawing") for key in deed.keys))
    assert "_" not in told
    assert "., ,," in told


def test_a_file_that_is_changed_elsewhere_twice_is_shown_as_it_is_each_time(tmp_path: Path) -> None:
    easel = Easel(tmp_path)
    for rows in (SAIL, (*SAIL, *SAIL)):
        easel.file.write_text(plan(rows), encoding="utf-8")
        assert easel.painting.look() is True
        assert easel.chart == rows
        assert len(easel.painting.heads) == len(easel.painting.fabric.levels)


def test_of_a_plan_in_sizes_it_is_said_which_one_is_shown_and_that_all_are_painted(tmp_path: Path) -> None:
    easel = Easel(tmp_path)
    sized = plan().replace("rows:\n", "sizes: [S, M]\nrows:\n", 1)
    assert "sizes" in sized
    easel.file.write_text(sized, encoding="utf-8")
    painting = Painting(Knitter(), Board(easel.file))
    assert painting.notice == "This is size S. What is painted changes in all sizes: S and M."
