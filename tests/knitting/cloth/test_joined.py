"""Parts that are joined again: which row lies on which, what is told, where strands and areas go on."""

from __future__ import annotations

from collections.abc import Sequence

import pytest

from companion.knitting import words
from companion.knitting.cloth.areas import areas
from companion.knitting.cloth.fabric import Block, Part
from companion.knitting.cloth.rows import Place, Rows
from companion.knitting.hands.hangs import hangs
from companion.knitting.hands.row_ends import row_end
from companion.knitting.hands.runs import row_runs
from companion.knitting.hands.steps import Count, Fetch, JoinParts, SetAside, TakeUp, Turn
from companion.knitting.strands.limits import Carry
from companion.knitting.strands.plan import plan_strands
from companion.knitting.words import US
from companion.knitting.words.shape import shape_of
from tests.knitting.cloth.test_parts import Told, fabric_of, of_kind

JOINED: Sequence[Told] = [
    ("", "ssssssss"),
    ("", "ssssssss"),
    ("left", "bb......"),
    ("right", "......ss"),
    ("", "bbkkssss"),
    ("", "ssssssss"),
    ("left", "sss....."),
    ("right", "....ssss"),
]


def test_the_shape_says_where_parts_are_joined_and_what_is_cast_on_between_them_is_at_no_edge() -> None:
    told = [one if isinstance(one, str) else one.text for one in shape_of(Rows(fabric_of(JOINED)), US)]
    assert told[2:8] == [
        "Left part, on 6 sts:", "Bind off 4 sts at the inner edge of the next row. (2 sts)",
        "Right part, on 2 sts:", "Work 1 row even.",
        "Both parts joined, on 8 sts, 4 of them cast on between them:", "Work 2 rows even.",
    ]  # fmt: skip


def test_rows_lie_in_blocks_one_above_and_beside_the_other() -> None:
    fabric = fabric_of(JOINED)
    assert fabric.blocks == (
        Block("", 0, 2, 0, 1, -1), Block("left", 2, 3, 2, 1, 0), Block("right", 3, 4, 2, 1, 0),
        Block("", 4, 6, 3, 4, -1), Block("left", 6, 7, 5, 2, 1), Block("right", 7, 8, 5, 2, 1),
    )  # fmt: skip
    assert [fabric.level(row) for row in range(8)] == [0, 1, 2, 2, 3, 4, 5, 5]
    assert [fabric.under(4, column) for column in (1, 2, 4, 7, 8)] == [3, 3, 2, 2, 2]
    assert [fabric.above(row, 8) for row in (1, 2, 5)] == [2, 4, 6]


def test_an_opening_lies_between_its_own_parts_alone() -> None:
    fabric = fabric_of(JOINED)
    apart = {(one, other) for one in range(8) for other in range(8) if fabric.is_apart(one, other)}
    assert apart == {(2, 3), (3, 2), (6, 7), (7, 6)}
    assert [fabric.is_on_way(1, 2, high) for high in (3, 2)] == [False, True]
    assert [fabric.is_on_way(low, 3, 4) for low in (2, 3)] == [False, True]



def test_parts_that_are_joined_are_set_aside_and_worked_across_from_the_outer_edge_where_the_row_begins() -> None:
    """Row 3 of the parts is a right-side row, so that the one that joins them comes from the left, where the left
    part, worked first, waits on its holder. Two stitches of sand and two of kelp are cast on between."""
    strands = plan_strands(Rows(fabric_of(JOINED)), Carry(3)).strands
    assert of_kind(strands, 2, SetAside, TakeUp, Turn) == [
        "Put the 2 stitches of the left part on a holder; its strands hang there.",
        "Take up the right part: its 2 stitches back on the needle, right side toward you.",
    ]
    assert of_kind(strands, 3, SetAside, TakeUp, JoinParts, Turn) == [
        "Join the parts: put the 2 stitches of the left part back on the needle. The next row is worked across the "
        "left part, 2 stitches, then the right part, 2 stitches, 4 cast on between them.",
        "Turn, the needle's tip toward you.",
    ]
    assert row_end(strands, 4)[0] == Count(8, 4)
    assert [words.work_in_full(run, US) for run in row_runs(strands, 4)] == [
        "purl 2", "cast on 2 (backward loop)", "cast on 2 (backward loop), purl 2"
    ]  # fmt: skip


def test_a_strand_at_the_second_part_hangs_past_all_that_is_cast_on_between() -> None:
    """The sand of the right part hangs at its inner edge, where row 3 ended: after the kelp loops the first sand loop
    is made with it, and the tips are at the stitch to which it hangs."""
    strands = plan_strands(Rows(fabric_of(JOINED)), Carry(3)).strands
    sand = row_runs(strands, 4)[2]
    assert strands.before(sand.place) == Place(3, 0)
    assert not any(isinstance(step, Fetch) for step in sand.into)
    assert [hang.away for hang in hangs(strands, 4, 2) if hang.yarn == "sand"] == [0]


@pytest.mark.parametrize("order", [("left", "right"), ("right", "left")])
def test_an_area_goes_on_across_both_parts_where_they_are_joined(order: Sequence[Part]) -> None:
    parts: dict[Part, str] = {"left": "bkb....", "right": "....bkb"}
    told: list[Told] = [("", "sssssss"), *((part, parts[part]) for part in order), ("", "bbbkbbb"), ("", "sssbbbb")]
    assert sorted((area.yarn, area.stitches) for area in areas(fabric_of(told))) == [
        ("brick", 5), ("brick", 9), ("kelp", 1), ("kelp", 1), ("kelp", 1), ("sand", 3), ("sand", 7)
    ]  # fmt: skip


def test_a_strand_does_not_rest_past_a_whole_opening() -> None:
    """Kelp of row 2 is in reach of row 4, one row above both parts, and another one is joined there."""
    told: list[Told] = [("", "sssskk"), ("left", "sss..."), ("right", "...sss"), ("", "sssskk")]
    strands = plan_strands(Rows(fabric_of(told)), Carry(9, rest=3)).strands
    assert len({strands.at(Place(0, 0)), strands.at(Place(3, 1))}) == 2
