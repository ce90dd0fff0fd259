"""Mistakes: what can be sewn over, dropped down to, ripped back to, and where strands hang when one is left."""

from __future__ import annotations

from fractions import Fraction

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from companion.knitting.cloth.areas import Cell
from companion.knitting.cloth.fabric import Gauge
from companion.knitting.cloth.rows import Place
from companion.knitting.hands.ends import corner, ends_of
from companion.knitting.hands.holes import NEAR_CM, near
from companion.knitting.hands.mistakes import (
    Laddering,
    Mistake,
    Ripping,
    Sewing,
    as_worked,
    laddering,
    place_of,
    ripping,
    segment_at,
    sewing_over,
    to_sew_over,
)
from companion.knitting.strands.limits import Carry
from companion.knitting.strands.plan import plan_strands
from companion.knitting.strands.strands import Past
from companion.plan.outline import troubles
from tests.knitting.charts import Chart, charts, drawn, piece_of

FLAG = drawn(
    "ssssssss",
    "sssbbsss",
    "sssbbsss",
    "sssbbsss",
    "ssssssss",
)
STRANDS = plan_strands(FLAG.rows(), Carry(3)).strands


def test_up_to_three_stitches_of_a_wrong_colour_are_sewn_over() -> None:
    assert sewing_over(Mistake(1, (4, 5, 6), "sand")) == Sewing(3)
    assert sewing_over(Mistake(1, (3, 4, 5, 6), "sand")) == Sewing(4, "many")
    assert sewing_over(Mistake(1, (4,))) == Sewing(1, "colour")


def test_what_is_sewn_is_the_yarn_that_the_plan_has_there() -> None:
    [sand, brick] = to_sew_over(Mistake(1, (3, 4), "foam"), FLAG.rows())
    assert (sand.yarn, list(sand.cells)) == ("sand", [Cell(1, 3)])
    assert (brick.yarn, list(brick.cells)) == ("brick", [Cell(1, 4)])


@pytest.mark.parametrize(
    ("mistake", "row", "done", "told"),
    [
        (Mistake(0, (7,)), 2, 3, Laddering(1, 3)),  # sand left of the brick: row 1's strand goes on there
        (Mistake(0, (7,)), 2, 1, Laddering(1, 2)),  # row 3 comes from the right: not yet so far
        (Mistake(0, (2,)), 2, 3, Laddering(1, 3, "area")),  # right of the brick row 2 joins another sand
        (Mistake(1, (2,)), 2, 3, Laddering(1, 2)),
        (Mistake(0, (3,)), 2, 3, Laddering(1, 3, "area")),  # beside the brick
        (Mistake(0, (5,)), 3, 3, Laddering(1, 4, "area")),  # sand in row 1, brick above
        (Mistake(0, (1,)), 2, 3, Laddering(1, 3, "edge")),
        (Mistake(0, (2,), "foam"), 2, 3, Laddering(1, 3, "colour")),
        (Mistake(0, (4, 5)), 0, 1, Laddering(2, 1)),
    ],
)
def test_columns_are_dropped_only_inside_one_strands_area(
    mistake: Mistake, row: int, done: int, told: Laddering
) -> None:
    assert laddering(mistake, STRANDS, row, done) == told


@pytest.mark.parametrize(
    ("mistake", "row", "done", "told"),
    [
        # A mistake in the brick of row 2, its second run. One row above it is row 3, of 3 + 2 + 3 stitches.
        (Mistake(1, (4,)), 4, 1, Ripping(3, 2, 8, 5, 13)),
        (Mistake(1, (4,)), 3, 1, Ripping(3, 1, 8, 5, 13)),
        (Mistake(1, (4,)), 2, 3, Ripping(3, 0, 8, 5, 13)),
        (Mistake(1, (4,)), 2, 1, Ripping(2, 0, 8, 3, 8)),
        (Mistake(1, (4,)), 1, 3, Ripping(2, 0, 8, 2, 5)),
        (Mistake(1, (4,)), 1, 2, Ripping(1, 0, 8, 1, 2)),
        (Mistake(1, (7,)), 1, 2, Ripping(1, 0, 8, 2, 5)),
    ],
)
def test_ripping_goes_to_one_row_above_and_the_rest_is_unpicked(
    mistake: Mistake, row: int, done: int, told: Ripping
) -> None:
    assert ripping(mistake, FLAG.rows(), row, done) == told


@given(charts(max_rows=8, max_columns=8), st.data())
def test_ripped_and_unpicked_stitches_are_all_from_the_mistake_up(chart: Chart, data: st.DataObject) -> None:
    rows = chart.rows()
    assume(not list(troubles(rows)))
    row = data.draw(st.integers(0, len(rows) - 1))
    done = data.draw(st.integers(1, len(rows[row].segments)))
    worked = [Place(r, s) for r in range(row + 1) for s in range(done if r == row else len(rows[r].segments))]
    wrong = data.draw(st.sampled_from(worked))
    column = data.draw(st.sampled_from([c for c, _ in chart.runs(wrong.row)[wrong.segment]]))
    mistake = Mistake(wrong.row, (column,))
    assert place_of(mistake, rows) == wrong
    assert segment_at(rows[wrong.row], column) == wrong.segment
    told = ripping(mistake, rows, row, done)
    kept = [place for place in worked if told.rows == 0 or place.row < told.whole]
    undone = [place for place in kept if place >= wrong]
    assert told.runs == len(undone)
    assert told.stitches == sum(rows.segment(place).stitches for place in undone)
    assert told.rows == len({place.row for place in worked} - {place.row for place in kept})
    assert told.whole == sum(Place(r, len(rows[r].segments) - 1) in kept for r in range(row + 1))
    assert told.on_needle == rows[max(place.row for place in kept)].stitches


def test_a_change_worked_early_hangs_its_strands_elsewhere() -> None:
    """The brick of row 2 went on for a stitch too many: its strand and the next sand's hang one gap on."""
    rows = FLAG.rows()
    real = as_worked(rows, [Mistake(1, (3,), "brick")])
    found = [(segment.yarn, segment.stitches, segment.exit) for segment in real[1].segments]
    assert found == [("sand", 3, 5), ("brick", 3, 2), ("sand", 2, 0)]
    assert [real.fabric.rows[r] is rows.fabric.rows[r] for r in range(5)] == [True, False, True, True, True]
    past = Past(STRANDS.strand_of[:2])
    close = plan_strands(rows, Carry(0), past).strands
    assert plan_strands(real, Carry(0), past).strands.total.strands == close.total.strands + 1


def test_a_stray_stitch_moves_no_strand() -> None:
    rows = FLAG.rows()
    assert as_worked(rows, [Mistake(1, (7,), "brick"), Mistake(2, (4,))]) is rows


@given(charts(max_rows=8, max_columns=8), st.data())
def test_what_is_drawn_in_is_the_mistake_alone_and_every_run_keeps_its_place(
    chart: Chart, data: st.DataObject
) -> None:
    rows = chart.rows()
    mistakes = data.draw(st.lists(st.builds(
        Mistake, st.integers(0, len(rows) + 1),
        st.sets(st.integers(1, 8), min_size=1).map(lambda columns: tuple(sorted(columns))),
        st.sampled_from(["", "sand", "brick", "kelp"]),
    ), max_size=3))  # fmt: skip
    real = as_worked(rows, mistakes)
    assert [[s.yarn for s in row.segments] for row in real] == [[s.yarn for s in row.segments] for row in rows]
    told = {(m.row, column) for m in mistakes if m.yarn for column in m.columns}
    for r, row in enumerate(real):
        now = [run.stitch for run in row.fabric.runs for _ in range(run.columns)]
        assert {(r, c) for c, (a, b) in enumerate(zip(now, chart.grid[r], strict=True), 1) if a != b} <= told


def test_a_hole_is_closed_with_the_nearest_end_by_hand() -> None:
    """A cross was missed before the brick of row 3, at gap 3. At 20 stitches and 28 rows over 10 cm the sand joined
    in row 2 and the brick cut in row 4 hang at that gap, a row away: 0.357 cm; the brick joined in row 2 hangs at gap
    5, two stitches and a row away: hypot(1.0, 0.357) = 1.06 cm."""
    piece = piece_of(FLAG)
    found = near(Place(2, 1), ends_of(STRANDS), STRANDS, piece.gauge)
    assert [(end.place, end.kind) for end in found[:3]] == [
        (Place(1, 2), "start"), (Place(3, 1), "finish"), (Place(1, 1), "start"),
    ]  # fmt: skip


@given(charts(max_rows=8, max_columns=8), st.data())
def test_ends_near_a_hole_are_near_and_no_nearer_one_is_left_out(chart: Chart, data: st.DataObject) -> None:
    piece = piece_of(chart)
    strands = plan_strands(piece.rows, piece.carry).strands
    ends = ends_of(strands)
    hole = data.draw(st.sampled_from(list(piece.rows.places())))
    gauge = Gauge(Fraction(20), Fraction(28))

    def away(row: int, gap: int) -> float:
        below = sum(cell is not None for cell in chart.grid[row][:gap])
        at = sum(cell is not None for cell in chart.grid[row][: piece.rows.segment(hole).entry])
        return float(((below - at) * gauge.stitch_cm) ** 2 + ((row - hole.row) * gauge.row_cm) ** 2) ** 0.5

    far = {end: away(at.row, at.gap) for end in ends for at in [corner(end, strands)]}
    found = near(hole, ends, strands, gauge)
    assert set(found) == {end for end in ends if far[end] <= NEAR_CM}
    assert [far[end] for end in found] == sorted(far[end] for end in found)




def test_by_hand_all_stitches_of_a_run_are_unpicked_that_a_decrease_stands_in() -> None:
    """Row 3 works two of row 2's four stitches together at its start, and has three."""
    rows = drawn("sss.", "ssss", "ssss").rows()
    told = ripping(Mistake(2, (2,)), rows, 2, 1)
    assert (told.rows, told.on_needle, told.runs, told.stitches) == (0, 3, 1, 3)
