"""Large figures and letters read back from what is drawn: none can be taken for another."""

from __future__ import annotations

import string
from itertools import combinations

import pytest

from companion.screens.blocks import words_in
from companion.screens.figures import CLOSE, DOTS_HIGH, HUGE, LARGE, MIDDLE, SMALL, Scale, can_draw, drawn

DRAWN = string.digits + string.ascii_uppercase + "-.,/+ "
ONE = Scale(2, 2)
"""A dot is one line high, so that a drawing can be read dot by dot."""

CLOSER = ONE._replace(is_close=True)
"""The same of the drawings for letters that stand close."""

each = pytest.mark.parametrize("scale", [ONE, CLOSER], ids=["usual", "close"])

Dots = frozenset[tuple[int, int]]


def dots(character: str, scale: Scale) -> Dots:
    """The dots of a drawing, each (row, column)."""
    lines = drawn(character, scale)
    return frozenset((y, x) for y, line in enumerate(lines) for x, cell in enumerate(line[::2]) if cell == "█")


def wide(character: str, scale: Scale) -> int:
    """How many dots a drawing is wide."""
    return scale.columns(character) // scale.across


def apart(one: str, other: str, scale: Scale) -> float:
    """The part of the cells in which two drawings differ, laid over each other where they differ least."""
    narrow, broad = sorted((one, other), key=lambda each: wide(each, scale))
    room = wide(broad, scale) - wide(narrow, scale)
    shifted = ({(y, x + aside) for y, x in dots(narrow, scale)} for aside in range(room + 1))
    return min(len(laid ^ dots(broad, scale)) for laid in shifted) / (DOTS_HIGH * wide(broad, scale))


@each
def test_every_figure_differs_from_every_other_in_a_tenth_of_its_cells(scale: Scale) -> None:
    pairs = {f"{one}{other}": apart(one, other, scale) for one, other in combinations(DRAWN, 2)}
    assert {pair: found for pair, found in pairs.items() if found < 0.1} == {}


@each
@pytest.mark.parametrize(
    "pair", ["5S", "0O", "0D", "0Q", "OD", "1I", "1L", "2Z", "8B", "6G", "6B", "PR", "UV", "MN", "MW"]
)
def test_those_most_often_taken_for_each_other_differ_in_an_eighth(pair: str, scale: Scale) -> None:
    """Common practice, no source: these are the pairs that are told apart in forms and codes."""
    assert apart(*pair, scale) >= 0.125


def test_letters_that_stand_close_are_as_high_and_none_is_wider() -> None:
    assert CLOSE.narrow == CLOSE
    assert CLOSE.lines == SMALL.lines
    assert all(CLOSE.columns(one) <= SMALL.columns(one) for one in DRAWN)
    assert CLOSE.columns("FETCH 2, 8") <= 0.8 * SMALL.columns("FETCH 2, 8")


@each
def test_a_nought_is_crossed_and_the_letter_is_not(scale: Scale) -> None:
    inside = {one: {(y, x) for y in range(1, DOTS_HIGH - 1) for x in range(1, wide(one, scale) - 1)} for one in "O0"}
    assert not inside["O"] & dots("O", scale)
    assert len(inside["0"] & dots("0", scale)) == 3


def test_all_that_is_done_can_be_written_large_in_upper_or_lower_case() -> None:
    for text in ("KNIT", "purl", "CROSS", "JOIN", "BIND OFF 3", "SSK", "CAST ON 2", "TURN", "K2/P2", "1,5 +"):
        assert can_draw(text)
        assert drawn(text, SMALL) == drawn(text.lower(), SMALL)
    assert not can_draw("é")
    assert not can_draw("dusk!")


@pytest.mark.parametrize("scale", [CLOSE, SMALL, MIDDLE, LARGE, HUGE, Scale(3, 3), Scale(5, 5)])
@pytest.mark.parametrize("text", ["7", "108", "BIND OFF 3", "é!"])
def test_a_drawing_takes_the_lines_and_columns_that_are_told(scale: Scale, text: str) -> None:
    assert scale.columns(text) > 0
    if can_draw(text):
        lines = drawn(text, scale)
        assert {len(line) for line in lines} == {scale.columns(text)}
        assert len(lines) == scale.lines


@pytest.mark.parametrize("count", ["888", "100", "444"])
@pytest.mark.parametrize("verb", ["KNIT", "PURL"])
def test_a_count_and_knit_or_purl_stand_beside_each_other_on_the_usual_screen_with_room_for_a_yarn(
    count: str, verb: str
) -> None:
    """Two and a half lines each in 80 columns; a yarn's name of 20 letters has room, and two gaps of three."""
    assert SMALL.columns(count) + 3 + SMALL.columns(verb) + 3 + 20 <= 80
    assert MIDDLE.columns(count) + 3 + SMALL.columns(verb) <= 80
    assert SMALL.lines == 3


def test_words_that_have_room_in_letters_that_stand_close_stand_beside_each_other() -> None:
    assert len(words_in(["BRING UP,"], SMALL, 40)) == 2
    assert len(words_in(["BRING UP,"], CLOSE, 40)) == 1
