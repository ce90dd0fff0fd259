"""Places in words: of a strand along its row, of the knitter in hers, and where it is best to stop."""

from __future__ import annotations

from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from companion.knitting import words
from companion.knitting.cloth.rows import Row, RowKey
from companion.knitting.strands.limits import Carry
from companion.knitting.strands.plan import plan_strands
from companion.knitting.words import US, Terms
from tests.knitting.charts import Chart, charts, drawn
from tests.knitting.words.as_told import MIRRORED, UK, swapped


@pytest.mark.parametrize(
    ("number", "word"),
    [(1, "first"), (2, "second"), (3, "third"), (10, "tenth"), (11, "11th"), (12, "12th"), (13, "13th"), (20, "20th"),
     (21, "21st"), (22, "22nd"), (23, "23rd"), (24, "24th"), (101, "101st"), (111, "111th"), (112, "112th"),
     (113, "113th"), (121, "121st")],
)
def test_ordinals(number: int, word: str) -> None:
    assert words.ordinal(number) == word


def row_of(line: str, number: int = 1) -> Row:
    """Row ``number`` of a piece in which every row looks like ``line``."""
    return drawn(*[line] * number).rows()[number - 1]


def test_a_strand_is_told_by_its_place_as_the_row_is_held() -> None:
    row = row_of("kkksssbbb")
    assert words.strand_place(row, 0, US) == "the brick beside sand, first from the right"
    assert words.strand_place(row, 1, US) == "the sand between brick and kelp, second from the right"
    assert words.strand_place(row, 2, US) == "the kelp beside sand, first from the left"
    on_wrong_side = row_of("kkksssbbb", 2)
    assert words.strand_place(on_wrong_side, 0, US) == "the kelp beside sand, first from the right"
    assert words.strand_place(on_wrong_side, 1, US) == "the sand between kelp and brick, second from the right"
    assert words.strand_place(row_of("sss"), 0, US) == "the sand"


def test_the_third_strand_is_third_from_the_right() -> None:
    assert words.strand_place(row_of("fksbs"), 2, US) == "the sand between brick and kelp, third from the right"
    assert words.strand_place(row_of("fksbs"), 2, MIRRORED) == "the sand between brick and kelp, third from the left"


@given(charts(max_rows=3, max_columns=12), st.sampled_from([Terms(), UK]), st.booleans())
def test_places_positions_and_cues_swap_left_and_right_when_mirrored(
    chart: Chart, terms: Terms, turned: bool
) -> None:
    mirrored = terms._replace(is_mirrored=True)
    for row in chart.rows():
        for segment in range(len(row.segments)):
            told = words.strand_place(row, segment, terms, is_turned=turned)
            assert words.strand_place(row, segment, mirrored, is_turned=turned) == swapped(told)
        for done in range(len(row.segments) + 1):
            told = words.where_you_are(row, done, 7, terms)
            facing = words.side_facing(row.side)
            assert words.where_you_are(row, done, 7, mirrored) == swapped(told).replace(swapped(facing), facing)
        assert words.sides_cue(row.side, mirrored) == swapped(words.sides_cue(row.side, terms))


@given(charts(max_rows=3, max_columns=12))
def test_every_strand_of_a_row_has_a_place_of_its_own(chart: Chart) -> None:
    for row in chart.rows():
        told = [words.strand_place(row, segment, US) for segment in range(len(row.segments))]
        assert len(set(told)) == len(told)


def test_a_strand_begun_in_the_cast_on_is_not_called_joined() -> None:
    strands = plan_strands(drawn("ssbb", "ssbb").rows(), Carry(3)).strands
    told = [words.strand_line(strands, one, US) for one in strands.summaries]
    assert told == [
        "brick: rows 1 to 2, 4 sts. Begun in the cast-on as the brick beside sand, first from the right "
        "(the row as it is held).",
        "sand: rows 1 to 2, 4 sts. Joined in row 1 as the sand beside brick, first from the left (the row as it is "
        "held).",
    ]


def wrong_side_row_23() -> Row:
    """A row of 40 stitches called 23, the wrong side toward you: 17 brick worked first, then 23 sand."""
    row = row_of("b" * 17 + "s" * 23, 2)
    return replace(row, key=RowKey("", 23))


def test_picking_up_in_mid_row_says_what_is_on_which_needle_and_in_the_hand() -> None:
    assert words.where_you_are(wrong_side_row_23(), 1, 23, US) == (
        "Row 23, wrong side toward you. 17 stitches on the right needle, 23 on the left. "
        "You last worked brick; the brick strand is in your hand."
    )
    assert words.where_you_are(wrong_side_row_23(), 1, 23, MIRRORED) == (
        "Row 23, wrong side toward you. 17 stitches on the left needle, 23 on the right. "
        "You last worked brick; the brick strand is in your hand."
    )


def test_picking_up_before_the_first_stitch_and_at_the_turn() -> None:
    row = row_of("ssssb")
    begun = words.where_you_are(row, 0, 5, US)
    assert begun == "Row 1, right side toward you: 5 stitches on the left needle; take the brick in hand."
    new = words.where_you_are(row, 0, 5, US, is_joined=True)
    assert new == "Row 1, right side toward you: 5 stitches on the left needle; join new brick."
    assert words.where_you_are(row, 2, 0, US) == (
        "Row 1, right side toward you. The row is done: 5 stitches on the right needle. "
        "You last worked sand; the sand strand is in your hand."
    )
    mid_row = words.where_you_are(row, 1, 4, US)
    assert mid_row.startswith("Row 1, right side toward you. 1 stitch on the right needle, 4 on")


def test_the_cast_on_tail_tells_the_sides_apart() -> None:
    assert "lower right" in words.sides_cue("RS", US)
    assert "lower left" in words.sides_cue("WS", US)


def test_a_row_is_named_and_its_side() -> None:
    assert words.row_of(row_of("ss", 2), 90) == "Row 2 of 90"
    assert words.side_facing("WS") == "wrong side toward you"
    tube = drawn("ss", "ss", is_round=True).rows()
    assert words.row_of(tube[1], 90) == "Round 2 of 90"


def test_the_best_place_to_stop_is_after_a_wrong_side_row() -> None:
    assert words.best_stop(row_of("ssss", 2), 3, None) == "3 stitches to the end of row 2, a good place to stop."
    assert words.best_stop(row_of("ssss", 3), 1, row_of("ssss", 4)) == (
        "1 stitch to the end of row 3; the best place to stop is after wrong-side row 4, 5 stitches from here."
    )
    assert words.best_stop(row_of("ssss", 3), 0, row_of("ssss", 4)) == (
        "The best place to stop is after wrong-side row 4, 4 stitches from here."
    )
    assert words.best_stop(row_of("ssss", 2), 0, row_of("ssss", 3)) == "", "this is one"
    assert words.best_stop(row_of("ssss", 3), 0, None) == "", "there is none any more"
