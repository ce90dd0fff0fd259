"""Runs that strands share: the fewest strands, the fewest meetings, the least carry, by somebody else's count."""

from __future__ import annotations

from collections.abc import Sequence

import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from companion.knitting.strands.limits import Carry
from companion.knitting.strands.plan import StrandPlan, plan_strands
from companion.knitting.strands.proof import fault_in
from companion.knitting.strands.strands import Strands
from tests.knitting.charts import Chart, charts, drawn
from tests.knitting.parted import parted, parted_shapes, shared_limits
from tests.knitting.shaped import Shaped
from tests.knitting.strands.flows import Figures, every_division, smallest_flow
from tests.knitting.strands.test_strands import plain
from tests.oracles import PlainRow


def figures(strands: Strands) -> Figures:
    meetings = sum(len(row.segments) for row in strands.rows) - sum(
        len(row.segments) for row in strands.rows.divided_at({})
    )
    return strands.total.strands, meetings, strands.total.carried


def check(rows: Sequence[PlainRow], plan: StrandPlan, carry: Carry) -> None:
    """The plan is the best, and its proof holds."""
    assert figures(plan.strands) == smallest_flow(rows, carry)
    assert fault_in(plan.strands, carry, plan.proof) == ""


@given(parted() | charts(max_rows=7, max_columns=9, ways=("flat", "round", "mixed")), shared_limits())
def test_strands_meetings_and_carry_are_those_of_a_smallest_flow(chart: Chart, carry: Carry) -> None:
    check(plain(chart), plan_strands(chart.rows(), carry), carry)


@given(parted_shapes(), shared_limits())
def test_so_they_are_in_pieces_that_are_shaped_or_divided_for_both_hands(one: Shaped, carry: Carry) -> None:
    check(one.plain(), plan_strands(one.rows(), carry), carry)
