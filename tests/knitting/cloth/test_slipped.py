"""Slipped edges: which stitches are slipped, how that is told, and where the edge would show a colour late."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from companion.knitting import words
from companion.knitting.cloth.faces import work
from companion.knitting.cloth.rows import Place
from companion.knitting.cloth.shaping import shapings
from companion.knitting.cloth.slipped import hands, is_slipped, shown_late
from companion.knitting.hands.row_ends import row_end
from companion.knitting.hands.runs import row_runs
from companion.knitting.hands.steps import Cross, Slip, Steady, Work
from companion.knitting.strands.limits import Carry
from companion.knitting.strands.plan import plan_strands
from companion.knitting.strands.strands import Strands
from companion.knitting.words import US, tell
from tests.knitting.charts import Chart, charts, drawn, limits, piece_of


def slipping(chart: Chart, carry: Carry | None = None, inward: int = 0) -> Strands:
    piece = replace(piece_of(chart, carry), has_slipped_edges=True, inward=inward)
    return plan_strands(piece.rows, piece.carry).strands


def written(strands: Strands, row: int) -> str:
    return words.written_row(strands.rows[row], row_runs(strands, row), row_end(strands, row), US)


def late(*lines: str, inward: int = 0) -> list[int]:
    """Row numbers, from 1."""
    return [row + 1 for row in shown_late(slipping(drawn(*lines), inward=inward).rows)]


anything = charts(max_rows=8, max_columns=10, ways=("flat", "round", "mixed"), has_textures=True)


@given(anything, limits(), st.integers(0, 3))
def test_hands_still_add_up_and_differ_from_the_fabric_in_one_slipped_stitch_a_row(
    chart: Chart, carry: Carry, inward: int
) -> None:
    strands = slipping(chart, carry, inward)
    for place in strands.rows.places():
        row, segment = strands.rows[place.row], strands.rows.segment(place)
        told = [hand for hand, count in hands(strands.rows, place) for _ in range(count)]
        fabric = [hand for hand, count in work(row, segment) for _ in range(count)]
        assert len(told) == segment.stitches
        is_first = place.segment == 0 and is_slipped(strands.rows, place.row)
        assert told == (["sl", *fabric[1:]] if is_first else fabric)


@given(anything)
def test_the_first_row_rounds_and_shaped_stitches_are_never_slipped(chart: Chart) -> None:
    rows = slipping(chart).rows
    assert not is_slipped(rows, 0)
    for index in range(1, len(rows)):
        if chart.rounds[index]:
            assert not is_slipped(rows, index)
        else:
            shaped = [one for one in shapings(rows, index) if (one.segment, one.after) == (0, 0)]
            is_alone = len(chart.worked(index)) == 1 or is_all_of_a_new_colour(chart, index)
            assert is_slipped(rows, index) == (not shaped and not is_alone)


def is_all_of_a_new_colour(chart: Chart, row: int) -> bool:
    """The row begins with one stitch of another colour than the one on the needle, the outermost of the row below
    at the edge where the row begins."""
    [(_, stitch), *more] = chart.runs(row)[0]
    columns = dict(chart.worked(row - 1))
    below = columns[min(columns) if chart.side(row) == "RS" else max(columns)]
    return not more and below.yarn != stitch.yarn


@given(charts(max_rows=8, max_columns=10, has_gaps=False))
def test_late_is_every_flat_row_that_begins_in_another_colour_than_lies_below(chart: Chart) -> None:
    """Read cell by cell: without "no stitch" cells nothing is shaped."""
    expected = []
    for row in range(1, len(chart.grid)):
        column, stitch = chart.worked(row)[0]
        below = chart.grid[row - 1][column - 1]
        is_new = below is not None and below.yarn != stitch.yarn
        if not chart.rounds[row] and is_new and not is_all_of_a_new_colour(chart, row):
            expected.append(row)
    assert list(shown_late(slipping(chart).rows)) == expected


@given(anything, limits())
def test_without_the_key_nothing_is_slipped(chart: Chart, carry: Carry) -> None:
    strands = plan_strands(chart.rows(), carry).strands
    assert not any(is_slipped(strands.rows, row) for row in range(len(strands.rows)))
    assert list(shown_late(strands.rows)) == []


def test_a_row_that_begins_with_a_slipped_stitch() -> None:
    strands = slipping(drawn("sssbb", "sssbb", "sssbb"))
    assert written(strands, 0).startswith("Row 1 (RS): cast on 5 sts in brick, with brick k2; cross, join sand, k3.")
    assert written(strands, 1) == "Row 2 (WS): with sand sl1 purlwise, p2; cross, with brick p2. (5 sts)"
    assert written(strands, 2).startswith("Row 3 (RS): with brick sl1 purlwise, k1; cross, with sand k3.")
    first = row_runs(strands, 1)[0]
    assert first.steps == (Slip("sand", "WS"), Work("sand", 2, (("p", 2),)))
    assert first.hands == (("sl", 1), ("p", 2))
    assert words.work_in_full(first, US) == "slip 1 purlwise, purl 2"
    assert words.into_run(first, US) == ["Slip the first stitch purlwise, the strand in front."]


@pytest.mark.parametrize(("step", "where"), [(Slip("sand", "RS"), "at the back"), (Slip("sand", "WS"), "in front")])
def test_the_strand_lies_on_the_wrong_side_while_it_is_slipped(step: Slip, where: str) -> None:
    assert tell(step, "full", US) == f"Slip the first stitch purlwise, the strand {where}."


def test_an_edge_of_one_stitch_is_slipped_and_crossed() -> None:
    """Its strand was not worked, so it lies on the wrong side still, and has not to be brought there."""
    run = row_runs(slipping(drawn("bss", "bss")), 1)
    assert run[0].inside == (Slip("brick", "WS"),)
    assert words.verb_of(run[0].hands) == "slip"
    assert [step for step in run[1].steps if isinstance(step, Steady | Cross)] == [Cross("brick", "sand", "WS")]


def test_a_decrease_at_the_edge_is_worked_and_one_further_in_leaves_the_edge_to_be_slipped() -> None:
    """Row 2, a wrong-side row, loses a stitch at the left edge, where it begins."""
    rows = slipping(drawn(".sssss", "ssssss")).rows
    assert not is_slipped(rows, 1)
    assert is_slipped(slipping(drawn(".sssss", "ssssss"), inward=2).rows, 1)
    assert hands(rows, Place(1, 0)) == (("p", 5),)
    assert is_slipped(slipping(drawn("sssss.", "ssssss")).rows, 1)  # shaped at its other end


@pytest.mark.parametrize(
    ("lines", "rows"),
    [
        # Row 2 begins at the left edge, row 3 at the right one.
        (("sss", "sss", "sss"), []),
        (("sss", "bbs", "sss"), [2]),
        (("sss", "bss", "sss"), []),  # a single stitch of a new colour is worked
        (("sss", "ssb", "sss"), [3]),
        (("bbs", "bbs", "sss"), [2]),
        (("ssb", "ssb", "sss"), []),  # in row 2 the edge stitch is the last one, and worked
        (("bbb", "sss", "bbb"), [2, 3]),
    ],
)
def test_which_rows_begin_in_another_colour(lines: Sequence[str], rows: list[int]) -> None:
    assert late(*lines) == rows


def test_where_the_edge_is_shaped_a_new_colour_is_worked_at_once() -> None:
    assert late(".bbbbb", "ssssss") == []
    assert late(".bbbbb", "ssssss", inward=1) == [2]


def test_a_stitch_made_at_the_edge_is_not_what_lies_on_the_needle() -> None:
    """A single brick stitch is made at the edge, where no bar lies in brick, and there is nothing to slip. With more
    of them a bar further in is lifted: row 2 begins with the stitch of the column before, slipped, and shows late."""
    assert not is_slipped(slipping(drawn("bssss", ".ssss")).rows, 1)
    assert late("bbbbss", ".sssss") == [2]
    assert late("bbbbss", ".bssss") == []


def test_where_the_edge_comes_in_the_colour_is_compared_with_the_stitch_on_the_needle() -> None:
    """Row 3 begins at the right edge with the stitch of column 2, and loses one two stitches in."""
    assert late("ssbb..", "ssssb.", "ssssss", inward=2) == []
    assert late("ssbb..", "sssbs.", "ssssss", inward=2) == [3]


def test_a_row_of_one_stitch_is_worked_and_grows() -> None:
    assert [is_slipped(slipping(drawn("s", "s", "s")).rows, row) for row in range(3)] == [False] * 3
