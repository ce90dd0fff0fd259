"""Charts as pictures of half blocks, side by side, and as letters where there are no colours."""

from __future__ import annotations

from fractions import Fraction

import pytest

from companion.knitting.cloth.fabric import Gauge, Yarn
from companion.pages.half_blocks import CROSS, END, Mark, Picture, foot, lines, side_by_side, whole

SQUARE, USUAL = Gauge(Fraction(20), Fraction(20)), Gauge(Fraction(20), Fraction(28))
TIDE, SAND = Yarn("tide", "#225f6e", "t"), Yarn("sand", "#f2e6cf", "s")


def chart(*lines: str) -> list[list[Yarn]]:
    """Lines as one looks at them, the top first; rows as a chart has them."""
    return [[TIDE if sign == "t" else SAND for sign in reversed(line)] for line in reversed(lines)]


def test_the_top_is_above_and_the_left_edge_is_on_the_left() -> None:
    lines = list(side_by_side([Picture("one", chart("tsss", "ssss", "ssss", "ssst"))], SQUARE, 80, is_coloured=True))
    assert [line.plain for line in lines] == ["", "one ", "▀▀▀▀", "▀▀▀▀"]
    shown = [[(span.style.color.name, span.style.bgcolor.name) for span in line.spans] for line in lines[2:]]
    tide, sand = TIDE.colour, SAND.colour
    assert shown == [[(tide, sand), *[(sand, sand)] * 3], [*[(sand, sand)] * 3, (sand, tide)]]


def test_without_colours_a_letter_stands_for_two_points_of_height() -> None:
    lines = list(side_by_side([Picture("one", chart("tttt", "tttt", "ssss", "ssss"))], SQUARE, 80, is_coloured=False))
    assert [line.plain for line in lines] == ["", "one ", "tttt", "ssss"]


@pytest.mark.parametrize(("room", "beside"), [(40, 1), (80, 2), (120, 3), (200, 5)])
def test_as_many_stand_beside_each_other_as_have_room(room: int, beside: int) -> None:
    pictures = [Picture(f"{price}: strands", chart(*["t" * 60] * 84)) for price in range(6)]
    lines = [line.plain for line in side_by_side(pictures, USUAL, room, is_coloured=True)]
    assert max(map(len, lines)) <= room
    assert lines[1].count("strands") == beside
    assert sum(line.count("strands") for line in lines) == 6


@pytest.mark.parametrize(("rows", "stitches"), [(84, 60), (28, 20), (10, 60), (84, 9), (1, 1)])
def test_a_picture_has_the_proportion_of_its_gauge(rows: int, stitches: int) -> None:
    """At 20 stitches and 28 rows over 10 cm, 60 stitches and 84 rows are a square: as many points high as wide."""
    lines = list(side_by_side([Picture("", chart(*["t" * stitches] * rows))], USUAL, 50, is_coloured=True))[2:]
    wide = len(lines[0].plain)
    points = 2 * len(lines) - (lines[-1].spans[0].style.bgcolor is None)
    assert wide == min(stitches, 50)
    assert points == max(1, round(Fraction(wide * rows * 20, stitches * 28)))


def test_a_title_without_room_is_shortened() -> None:
    lines = list(side_by_side([Picture("a very long title", chart("tttt"))], SQUARE, 80, is_coloured=False))
    assert lines[1].plain == "a v…"


def test_where_there_is_no_stitch_the_terminals_own_ground_is_seen() -> None:
    picture = Picture("", [[TIDE, None, None, SAND], [None, TIDE, None, SAND]])
    [line] = lines(picture, SQUARE, 4, is_coloured=True)
    assert line.plain == "▀ ▀▄"
    shown = [(span.style.color.name, span.style.bgcolor and span.style.bgcolor.name) for span in line.spans]
    assert shown == [(SAND.colour, SAND.colour), (TIDE.colour, None), (TIDE.colour, None)]
    assert [line.plain for line in lines(picture, SQUARE, 4, is_coloured=False)] == ["s  t"], "the lower row"


@pytest.mark.parametrize(
    ("wide", "high", "is_coloured", "cells"),
    [(80, 40, True, 60), (80, 20, True, 40), (30, 40, True, 30), (80, 20, False, 40), (80, 0, True, 1)],
)
def test_all_of_it_is_seen_in_the_room_there_is(wide: int, high: int, is_coloured: bool, cells: int) -> None:
    """60 stitches and 84 rows are a square at 20 x 28; a line is as high as two cells are wide."""
    square = Picture("", chart(*["t" * 60] * 84))
    assert whole(square, USUAL, wide, high, is_coloured=is_coloured) == cells


MARKED = Picture("", chart("ts", "ts"), (Mark(CROSS, 1, 0, (SAND.colour, TIDE.colour)), Mark(END, 1.5, 1)))


def test_an_end_stands_out_from_what_it_lies_on_and_crosses_are_drawn_where_stitches_are_wide() -> None:
    """Black stands out from sand and white from tide. A cell a stitch has no room for a cross, two have: there the
    old strand's colour lies on the new one's."""
    [small] = lines(MARKED, SQUARE, 2, is_coloured=True)
    assert small.plain == "▀○"
    end = small.spans[1].style
    assert (end.color.name, end.bgcolor.name) == ("#000000", SAND.colour)
    [white] = lines(MARKED._replace(marks=(Mark(END, 0.5, 1),)), SQUARE, 2, is_coloured=True)
    assert (white.spans[0].style.color.name, white.spans[0].style.bgcolor.name) == ("#ffffff", TIDE.colour)
    upper, lower = lines(MARKED, SQUARE, 4, is_coloured=True)
    assert (upper.plain, lower.plain) == ("▀▀▀○", "▀▀×▀")
    cross = lower.spans[2].style
    assert (cross.color.name, cross.bgcolor.name) == (SAND.colour, TIDE.colour)


def test_no_end_is_lost_where_a_picture_is_made_smaller_and_letters_show_them_too() -> None:
    rows = chart(*["t" * 60] * 84)
    marks = tuple(Mark(END, column + 0.5, level) for column, level in ((0, 0), (29, 41), (59, 83)))
    shown = [line.plain for line in lines(Picture("", rows, marks), USUAL, 20, is_coloured=True)]
    assert [line.count(END) for line in (shown[0], shown[5], shown[-1])] == [1, 1, 1]
    assert (shown[-1][0], shown[0][-1]) == (END, END)
    assert [line.plain for line in lines(MARKED, SQUARE, 2, is_coloured=False)] == ["t○"]


def test_the_foot_tells_the_signs_and_what_only_a_png_shows() -> None:
    told = "A PNG shows {}, too: rowside picture --wrong-side -o FILE.png"
    assert foot(MARKED, 3) == f"○ an end. {told.format('crosses and carried strands')}"
    assert foot(MARKED, 4) == f"○ an end, × a cross. {told.format('carried strands')}"
    assert foot(MARKED._replace(marks=()), 4) == ""
