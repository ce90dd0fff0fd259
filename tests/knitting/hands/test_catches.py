"""Floats caught on the way: where, and in which columns; resting strands caught now and then. At 20 stitches and 28
rows over 10 cm five stitches (one inch) may lie uncaught, and 2 cm are five rows."""

from __future__ import annotations

from hypothesis import given
from hypothesis import strategies as st

from companion.knitting.hands.needles import makes
from companion.knitting.hands.runs import row_runs
from companion.knitting.hands.steps import Catch, Rest, Work
from companion.knitting.strands.limits import Carry
from companion.knitting.strands.plan import plan_strands
from tests.knitting.charts import Chart, charts, drawn, piece_of


def test_a_float_is_caught_every_four_stitches_and_not_with_a_runs_last_one() -> None:
    """Row 2 comes from the left. Brick hangs at gap 4 and is carried to column 16: after 4 stitches its run ends, so
    it is caught after 3, then after 7 and 11, in columns 14, 10 and 6: even ones in an even row."""
    chart = drawn("b" * 4 + "s" * 12, "s" * 12 + "b" * 4)
    strands = plan_strands(chart.rows(), Carry(12)).strands
    brick, sand = row_runs(strands, 1, piece_of(chart).catching)
    assert brick.inside == (Work("brick", 3, (("p", 3),)), Catch("brick"), Work("brick", 1, (("p", 1),)))
    assert [makes(step) for step in sand.inside] == [3, 0, 4, 0, 5]
    assert [step for step in sand.inside if not makes(step)] == [Catch("brick")] * 2


@given(charts(max_columns=30, ways=("flat", "round"), has_gaps=False), st.booleans())
def test_floats_are_caught_in_odd_columns_of_odd_rows_and_even_ones_of_even_rows(
    chart: Chart, has_moves_behind: bool
) -> None:
    strands = plan_strands(chart.rows(), Carry(30, 30 if has_moves_behind else 0)).strands
    for row in range(len(chart.grid)):
        for run in row_runs(strands, row, piece_of(chart).catching):
            done, columns = 0, [column for column, _ in chart.runs(row)[run.place.segment]]
            for step in run.inside:
                done += makes(step)
                if isinstance(step, Catch):
                    assert 0 < done < len(columns)
                    assert columns[done - 1] % 2 == (row + 1) % 2


def test_a_strand_that_rests_is_caught_in_every_fifth_row() -> None:
    chart = drawn("sbbs", *["ssss"] * 6, "sbbs")
    strands = plan_strands(chart.rows(), Carry(3, 0, 6)).strands
    rests = [
        [step for run in row_runs(strands, row, piece_of(chart).catching) for step in run.inside
         if isinstance(step, Rest) and step.yarn == "brick"]
        for row in range(8)
    ]  # fmt: skip
    hangs, caught = [Rest("brick", False)], [Rest("brick", True)]
    assert rests == [[], hangs, hangs, hangs, hangs, caught, hangs, []]
