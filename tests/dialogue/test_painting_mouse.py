"""The mouse on the drawing board, without a screen."""

from __future__ import annotations

from pathlib import Path

import pytest
from at_the_easel import BLANK, SAIL, Easel, selected

from companion.knitting.cloth.areas import Cell


def test_a_press_on_the_chart_leaves_a_change_that_was_shown(tmp_path: Path) -> None:
    easel = Easel(tmp_path, ("ssssssss", "ssssssss", "ssisssss", "ssssssss", "ssssssss"))
    easel.press("3", "g")
    easel.worked_out()
    assert easel.painting.proposed
    easel.painting.mouse.press([Cell(1, 1)])
    easel.release()
    assert easel.painting.proposed is None
    assert easel.chart == ("ssssssss", "ssssssss", "ssisssss", "ssssssss", "sssssssb")


def test_a_drag_is_one_stroke_saved_when_the_button_is_let_go(tmp_path: Path) -> None:
    easel = Easel(tmp_path)
    easel.press("2")
    mouse = easel.painting.mouse
    mouse.press([Cell(2, 2)])
    mouse.drag([Cell(2, 5)])
    mouse.drag([Cell(4, 5)])
    assert easel.chart == BLANK
    assert len(easel.painting.over) == 6
    easel.release()
    assert easel.chart == ("ssssssss", "sssissss", "sssissss", "sssiiiis", "ssssssss")
    easel.release()
    easel.press("u")
    assert easel.chart == BLANK


@pytest.mark.parametrize("is_dragged", [True, False])
def test_a_line_is_drawn_with_the_mouse_by_a_drag_or_by_two_clicks(tmp_path: Path, is_dragged: bool) -> None:
    easel = Easel(tmp_path)
    easel.press("2", "l")
    mouse = easel.painting.mouse
    mouse.press([Cell(1, 1)])
    if is_dragged:
        mouse.drag([Cell(1, 4)])
    else:
        easel.release()
        assert easel.painting.notice == "Now click the other end."
        mouse.press([Cell(1, 4)])
    easel.release()
    assert easel.chart == (*BLANK[:4], "ssssiiii")
    mouse.press([Cell(3, 1)])
    easel.release()
    assert easel.chart == ("ssssssss", "ssssssss", "sssssssi", "ssssssss", "ssssiiii"), "the line is done"


def test_what_floats_follows_a_click_and_a_click_on_it_sets_it_down(tmp_path: Path) -> None:
    easel = selected(tmp_path)
    easel.press("c", "v")
    mouse = easel.painting.mouse
    mouse.press([Cell(2, 6)])
    easel.release()
    assert easel.chart == SAIL
    mouse.press([Cell(3, 8)])
    easel.release()
    assert easel.chart == ("ssssssss", "ssisssss", "siisssis", "iiissiis", "ssssiiis")


def test_what_floats_is_dragged_by_any_of_its_stitches_and_not_set_down_by_that(tmp_path: Path) -> None:
    easel = selected(tmp_path)
    easel.press("c", "v")
    mouse = easel.painting.mouse
    mouse.press([Cell(5, 6)])  # its upper left stitch; the lower right one lies at row 3, stitch 4
    mouse.drag([Cell(5, 7)])
    mouse.drag([Cell(4, 7)])
    easel.release()
    assert easel.chart == SAIL
    assert easel.painting.at == Cell(2, 5), "as far as it was dragged"
    mouse.press([Cell(1, 1)])  # elsewhere: there it goes, and on
    mouse.drag([Cell(1, 6)])
    easel.release()
    assert easel.painting.at == Cell(1, 6)
    mouse.press([Cell(3, 8)])
    easel.press("escape")
    mouse.drag([Cell(4, 8)])
    easel.release()
    assert easel.chart == SAIL, "it was let go while it was held"


@pytest.mark.parametrize("beside", [Cell(1, 5), Cell(5, 5), Cell(3, 2), Cell(3, 6)])
def test_what_floats_goes_where_it_is_clicked_beside(tmp_path: Path, beside: Cell) -> None:
    """It lies at rows 2 to 4 from 0, stitches 3 to 5."""
    easel = selected(tmp_path)
    easel.press("c", "v", "down", "right")
    assert easel.painting.at == Cell(2, 3)
    easel.painting.mouse.press([beside])
    easel.release()
    assert easel.painting.at == beside
    assert easel.chart == SAIL


def test_the_right_button_looks_and_paints_nothing(tmp_path: Path) -> None:
    easel = Easel(tmp_path)
    easel.press("2")
    easel.painting.mouse.look([Cell(4, 3), Cell(3, 3)])
    assert easel.painting.at == Cell(4, 3)
    easel.painting.mouse.look([Cell(4, 3), Cell(3, 3)])
    assert easel.painting.at == Cell(3, 3), "the other one of two in one place"
    easel.release()
    assert easel.chart == BLANK


def test_two_rows_in_one_place_are_painted_together(tmp_path: Path) -> None:
    easel = Easel(tmp_path)
    easel.press("2")
    easel.painting.mouse.press([Cell(2, 2), Cell(1, 2)])
    easel.painting.mouse.drag([Cell(2, 4), Cell(1, 4)])
    easel.release()
    assert easel.chart == (*BLANK[:3], "ssssiiis", "ssssiiis")
