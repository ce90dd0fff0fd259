"""An opening that is amiss hides nothing of the rest of its plan, above it or below."""

from __future__ import annotations

import re

import pytest

from tests.plan import test_narrower
from tests.plan.plans import HEAD

BELOW = "  - plain: {rows: 2, stitches: 12, yarn: sand}\n"
FAR = "The opening lies 90 stitches from the right, and the row has 8."
ENDS = "Row 1 of this section, counted from the bottom, loses {} stitches at its end, where none can be bound off."


def told(rows: str, head: str = HEAD) -> list[str]:
    """What is wrong, the rows told by their sections alone."""
    return [re.sub(r" \(row [0-9]+ of the piece\)", "", what) for what in test_narrower.told(rows, head=head)]


def chart(*lines: str, more: str = "") -> str:
    return "  - chart: |\n" + "".join(f"      {line}\n" for line in lines) + (f"    {more}\n" if more else "")


@pytest.mark.parametrize(
    ("opening", "what"),
    [
        ("{first: right, at: 40}", "The opening lies 40 stitches from the right, and the row has 12."),
        ("{first: right}", 'The section has an opening, and no row of it has "." between its stitches.'),
        ("{first: middle}", '"first" must be left or right, as seen from the right side, and is "middle".'),
        ("{at: 3}", '"first" is missing in "opening".'),
        ("{}", '"first" is missing in "opening".'),
        ("{first: left, row: 2}",
         '"opening" has "row" and no "at"; without it the opening begins in the first row with "." between.'),
    ],
)  # fmt: skip
def test_the_outer_edges_above_an_opening_that_is_amiss_are_looked_at(opening: str, what: str) -> None:
    # Row 3, with the opening, is a right-side row; row 4 ends at the right edge, where seven go.
    rows = BELOW + chart("ssssssssssss", more=f"opening: {opening}") + chart("sssss.......")
    assert told(rows) == [what, ENDS.format(7)]


def test_so_are_those_below_it_and_everything_is_told_in_its_place() -> None:
    opening = chart("....ssssssss", more="opening: {first: right}")
    rows = BELOW + chart("....ssssssss") + opening + chart("....ss......")
    assert told(rows) == [
        ENDS.format(4),  # row 3 is a right-side row and ends at the left edge
        'The section has an opening, and no row of it has "." between its stitches.',
        # Row 5 ends at the left edge; row 4 above it begins there.
    ]


def test_gaps_above_it_are_no_fault_and_where_they_end_nobody_knows_what_lies_below() -> None:
    gap = chart("ssss....ssss", more="opening: {first: right, at: 90}")
    assert told(BELOW + gap + chart("ss........ss")) == [FAR]
    # The left part alone goes on; then what is gone at a row's end is told again.
    alone = chart("ss..........") + chart("ss..........", ".sssss......")
    assert told(BELOW + gap + alone) == [FAR, ENDS.format(4).replace("Row 1", "Row 2")]
    rejoined = gap + chart("ssssssssssss") + chart("....ssssssss")
    assert told(BELOW + rejoined) == [FAR, ENDS.format(4)]


def test_a_row_without_a_stitch_above_it_is_where_both_parts_end() -> None:
    gap = chart("ssss....ssss", more="opening: {first: right, at: 90}")
    assert told(BELOW + gap + chart("............")) == [FAR]


def test_two_openings_and_what_lies_above_them_are_told() -> None:
    rows = BELOW + chart("ssss....ssss", more="opening: {first: right}") * 2 + chart(".....sss.sss")
    apart = "The parts of the opening below are not joined again, and a part does not divide."
    assert told(rows) == [apart, ENDS.format(5)]


def test_what_else_is_amiss_beside_an_opening_that_is_amiss_is_told() -> None:
    rows = BELOW + chart("ssssssssssss", more="opening: {first: up}") + chart("sssssss") + chart("sssssssssssq")
    assert told(rows, head=HEAD.replace("sand: {colour: tan}", "sand: {colour: tan, ball: {metre: 3}}"))[-1] == (
        'Row 1 of this section, counted from the bottom, uses the symbol "q", which is not under "symbols" (line 7).'
    )
    assert told(rows)[1:] == [
        "This section is 7 stitches wide, the first one (line 11) 12.",
        'Row 1 of this section, counted from the bottom, uses the symbol "q", which is not under "symbols" (line 7).',
    ]


@pytest.mark.parametrize("opening", ["", "[]", '""'])
def test_an_opening_that_says_nothing_is_told(opening: str) -> None:
    rows = BELOW + chart("ssss....ssss", more=f"opening: {opening}".rstrip())
    assert told(rows)
