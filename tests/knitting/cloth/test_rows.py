"""Rows in working order: segments, sides, hands and carries, each counted again cell by cell."""

from __future__ import annotations

from itertools import groupby, pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from companion.knitting.cloth.carries import carry
from companion.knitting.cloth.fabric import Fabric, FabricRow, Run, Stitch, Texture, cells, merged
from companion.knitting.cloth.faces import work
from companion.knitting.cloth.rows import Place, RowKey, Rows
from companion.knitting.cloth.segments import Segment
from tests.knitting.charts import Chart, charts, drawn

ALL_WAYS = ("flat", "round", "mixed")


def columns_of(segment: Segment) -> list[int]:
    """The columns a segment's stretches say it works, in order."""
    step = 1 if segment.last >= segment.first else -1
    return [stretch.first + step * i for stretch in segment.stretches for i in range(stretch.stitches)]


@given(charts(ways=ALL_WAYS, has_textures=True))
def test_segments_tile_every_row_and_are_as_long_as_one_yarn_goes(chart: Chart) -> None:
    rows = chart.rows()
    assert len(rows) == len(chart.grid)
    for index, row in enumerate(rows):
        told = [(column, segment.yarn) for segment in row.segments for column in columns_of(segment)]
        assert told == [(column, cell.yarn) for column, cell in chart.worked(index)]
        assert row.stitches == len(told)
        runs = chart.runs(index)
        assert [s.yarn for s in row.segments] == [run[0][1].yarn for run in runs]
        assert [s.stitches for s in row.segments] == [len(run) for run in runs]
        assert [(s.first, s.last) for s in row.segments] == [(run[0][0], run[-1][0]) for run in runs]


@given(charts(ways=ALL_WAYS, has_textures=True))
def test_knits_and_purls_are_what_makes_the_fabric_look_so(chart: Chart) -> None:
    """On the right side a knit shows a knit face; on the wrong side it shows a purl face. Equal neighbours are told
    together."""
    for index, row in enumerate(chart.rows()):
        face = {"k": "knit", "p": "purl"} if row.side == "RS" else {"k": "purl", "p": "knit"}
        made = []
        for segment in row.segments:
            told = work(row, segment)
            made += [face[hand] for hand, count in told for _ in range(count)]
            assert sum(count for _, count in told) == segment.stitches
            assert all(count > 0 for _, count in told)
            assert all(one[0] != other[0] for one, other in pairwise(told))
        assert made == chart.faces(index)


@given(charts(ways=ALL_WAYS, has_textures=True))
def test_a_wrong_side_row_read_backwards_is_the_chart_row(chart: Chart) -> None:
    for index, row in enumerate(chart.rows()):
        told = [s.yarn for s in row.segments for _ in range(s.stitches)]
        as_seen = [cell.yarn for cell in chart.grid[index] if cell is not None]
        assert row.side == chart.side(index)
        assert row.toward == ("left" if row.side == "RS" else "right")
        assert (told if row.side == "RS" else told[::-1]) == as_seen


@given(charts(ways=ALL_WAYS))
def test_gaps_are_entered_before_the_first_column_and_left_after_the_last(chart: Chart) -> None:
    """Gap j lies between columns j and j + 1."""
    for row in chart.rows():
        for segment in row.segments:
            if row.side == "RS":
                assert (segment.entry, segment.exit) == (segment.first - 1, segment.last)
            else:
                assert (segment.entry, segment.exit) == (segment.first, segment.last - 1)


def stitches_between(chart: Chart, row: int, gap: int, other: int) -> int:
    """Real stitches of a row that lie between two gaps, counted one by one."""
    low, high = sorted((gap, other))
    return sum(low < column <= high for column, _ in chart.worked(row))


@given(charts(ways=ALL_WAYS), st.data())
def test_a_carry_is_the_real_stitches_between_the_two_gaps(chart: Chart, data: st.DataObject) -> None:
    rows = chart.rows()
    places = list(rows.places())
    u = data.draw(st.sampled_from(places))
    v = data.draw(st.sampled_from(places))
    u, v = sorted((u, v))
    gap, other = rows.segment(u).exit, rows.segment(v).entry
    low, high = 0, chart.width
    if u.row != v.row and not chart.rounds[v.row]:
        # What the row has beyond the edges of the one below is made in it, and not passed.
        there = [column for column, _ in chart.worked(v.row - 1)]
        low, high = min(there) - 1, max(there)
    straight = stitches_between(chart, v.row, min(max(gap, low), high), min(max(other, low), high))
    if u.row != v.row and all(chart.side(row) == "RS" for row in range(u.row, v.row + 1)):  # nowhere turned
        assert carry(rows, u, v) == min(straight, stitches_between(chart, v.row, low, high) - straight)
    else:
        assert carry(rows, u, v) == straight


def test_a_ground_that_goes_straight_up_costs_nothing_in_flat_work() -> None:
    rows = drawn("ssbb", "ssbb", "ssbb").rows()
    assert [carry(rows, Place(0, 0), Place(1, 1)), carry(rows, Place(1, 1), Place(2, 0))] == [0, 0]


def test_a_diagonal_costs_its_shift() -> None:
    rows = drawn("bbbsssss", "ssbbbsss").rows()
    assert carry(rows, Place(0, 1), Place(1, 0)) == 2


def test_in_the_round_a_block_of_six_costs_six_every_time() -> None:
    rows = drawn("ssssssssbbbbbbss", "ssssssssbbbbbbss", is_round=True).rows()
    assert carry(rows, Place(0, 1), Place(1, 1)) == 6


def test_in_the_round_a_strand_takes_the_shorter_way_round() -> None:
    rows = drawn("bbbbbbbbbbbbss", "bbbbbbbbbbbbss", is_round=True).rows()
    assert carry(rows, Place(0, 1), Place(1, 1)) == 2


def test_no_stitch_cells_are_spanned_by_a_segment_and_not_counted() -> None:
    row = drawn("ss..ssb").rows()[0]
    assert [(s.yarn, s.first, s.last, s.stitches) for s in row.segments] == [("brick", 1, 1, 1), ("sand", 2, 7, 4)]


def test_texture_may_change_inside_a_segment() -> None:
    garter = Stitch("sand", Texture("garter"))
    fabric = Fabric((FabricRow((Run(2, garter), Run(4, Stitch("sand")))),) * 2)
    rows = Rows(fabric)
    assert [len(row.segments) for row in rows] == [1, 1]
    assert work(rows[0], rows[0].segments[0]) == (("k", 6),)
    assert work(rows[1], rows[1].segments[0]) == (("p", 4), ("k", 2))


def test_garter_is_knitted_on_both_sides_and_purled_every_second_round() -> None:
    runs = (Run(5, Stitch("sand", Texture("garter"))),)
    flat = Rows(Fabric((FabricRow(runs),) * 3))
    tube = Rows(Fabric((FabricRow(runs, is_round=True),) * 3))
    assert [work(row, row.segments[0]) for row in flat] == [(("k", 5),)] * 3
    assert [work(row, row.segments[0]) for row in tube] == [(("k", 5),), (("p", 5),), (("k", 5),)]


def test_rib_keeps_its_columns_where_a_segment_starts_elsewhere() -> None:
    rib = Texture("rib", (2, 2))
    row = FabricRow((Run(3, Stitch("sand", rib)), Run(5, Stitch("brick", rib))))
    rows = Rows(Fabric((row, row)))
    assert [work(rows[0], s) for s in rows[0].segments] == [(("k", 2), ("p", 1)), (("p", 1), ("k", 2), ("p", 2))]
    assert [work(rows[1], s) for s in rows[1].segments] == [(("k", 2), ("p", 2), ("k", 1)), (("k", 1), ("p", 2))]


def test_rows_are_known_by_their_key() -> None:
    rows = drawn("ss", "bb", "ss").rows()
    assert [row.key for row in rows] == [RowKey("", 1), RowKey("", 2), RowKey("", 3)]
    assert [rows.at(row.key) for row in rows] == [0, 1, 2]
    assert [row.after for row in rows] == [(), (RowKey("", 1),), (RowKey("", 2),)]
    assert [rows.before(i) for i in range(3)] == [(), (0,), (1,)]


@pytest.mark.parametrize("key", [RowKey("", 0), RowKey("", 4), RowKey("left", 1), RowKey("", -1)])
def test_a_key_that_no_row_has_is_an_error(key: RowKey) -> None:
    with pytest.raises(KeyError):
        drawn("ss", "bb", "ss").rows().at(key)


@pytest.mark.parametrize("index", [3, 7, -4, -6, -100])
def test_rows_end_where_a_tuple_would(index: int) -> None:
    with pytest.raises(IndexError):
        drawn("ss", "bb", "ss").rows()[index]


def test_rows_are_gone_through_either_way() -> None:
    rows = drawn("ss", "bb", "ks").rows()
    assert rows[-1] is rows[2]
    assert [row.number for row in rows] == [1, 2, 3]
    assert [row.number for row in reversed(rows)] == [3, 2, 1]


@given(st.lists(st.tuples(st.integers(0, 4), st.sampled_from([None, Stitch("sand"), Stitch("brick")]))))
def test_merging_runs_keeps_every_cell_and_leaves_no_equal_neighbours(pairs: list[tuple[int, Stitch | None]]) -> None:
    runs = [Run(count, stitch) for count, stitch in pairs]
    row = FabricRow(merged(runs))
    assert list(cells(row)) == [stitch for count, stitch in pairs for _ in range(count)]
    assert all(len(list(group)) == 1 for _, group in groupby(run.stitch for run in row.runs))
    assert all(run.columns for run in row.runs)
    assert (row.columns, row.stitches) == (len(list(cells(row))), sum(cell is not None for cell in cells(row)))


@given(charts(ways=ALL_WAYS, has_textures=True), st.data())
def test_how_a_row_is_cut_into_runs_makes_no_difference(chart: Chart, data: st.DataObject) -> None:
    single = Fabric(tuple(
        FabricRow(tuple(Run(1, cell) for cell in line), is_round)
        for line, is_round in zip(chart.grid, chart.rounds, strict=True)
    ))
    index = data.draw(st.integers(0, len(chart.grid) - 1))
    row, other = chart.rows()[index], Rows(single)[index]
    assert [(s.yarn, s.first, s.last, s.stitches, s.entry, s.exit) for s in row.segments] == [
        (s.yarn, s.first, s.last, s.stitches, s.entry, s.exit) for s in other.segments
    ]
    assert [work(row, s) for s in row.segments] == [work(other, s) for s in other.segments]


@given(charts(ways=ALL_WAYS))
def test_a_fabric_counts_its_stitches_and_its_widest_row(chart: Chart) -> None:
    fabric = chart.fabric()
    assert fabric.columns == chart.width
    assert fabric.stitches == sum(cell is not None for line in chart.grid for cell in line)
