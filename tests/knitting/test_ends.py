"""Ends: two a strand, there from the join or the cut on, ready when enough fabric lies above them."""

from __future__ import annotations

from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from companion.knitting.cloth.fabric import Gauge
from companion.knitting.cloth.rows import Place
from companion.knitting.hands.ends import End, ends_of, exists, rows_until_ready
from companion.knitting.strands.limits import Carry
from companion.knitting.strands.plan import plan_strands
from tests.knitting.charts import Chart, charts, drawn, limits


def gauge(rows: object, over_cm: object = 10) -> Gauge:
    return Gauge(Fraction(20), Fraction(str(rows)), Fraction(str(over_cm)))


@pytest.mark.parametrize(
    ("rows", "over_cm", "until"),
    [(28, 10, 7), (24, 10, 6), (29, 10, 8), (4, 10, 1), (3, 10, 1), ("0.5", 10, 1), (28, "10.16", 7),
     (32, "10.16", 8)],
)
def test_an_end_is_ready_when_two_and_a_half_centimetres_of_rows_lie_above_it(
    rows: object, over_cm: object, until: int
) -> None:
    assert rows_until_ready(gauge(rows, over_cm)) == until


@given(st.fractions(Fraction(1, 10), 100), st.fractions(Fraction(1, 2), 30))
def test_one_row_fewer_would_be_less_than_two_and_a_half_centimetres(rows: Fraction, over_cm: Fraction) -> None:
    worked = Gauge(Fraction(20), rows, over_cm)
    until = rows_until_ready(worked)
    assert until * worked.row_cm >= Fraction(5, 2) > (until - 1) * worked.row_cm


@given(charts(max_rows=8, max_columns=10), limits())
def test_every_strand_has_one_start_and_one_finish(chart: Chart, carry: Carry) -> None:
    strands = plan_strands(chart.rows(), carry).strands
    ends = ends_of(strands)
    told = {(end.kind, strands.at(end.place)) for end in ends}
    numbers = {strand for row in strands.strand_of for strand in row}
    assert told == {(kind, strand) for kind in ("start", "finish") for strand in numbers}
    assert len(ends) == 2 * len(numbers)


@given(charts(max_rows=6, max_columns=10), limits())
def test_ends_come_about_in_the_order_they_are_listed(chart: Chart, carry: Carry) -> None:
    """Counted by walking through the piece run by run: which ends hang after each."""
    strands = plan_strands(chart.rows(), carry).strands
    ends = ends_of(strands)
    seen: list[End] = []
    for row, told in enumerate(strands.strand_of):
        later = {strand for above in strands.strand_of[row + 1 :] for strand in above}
        earlier = {strand for below in strands.strand_of[:row] for strand in below}
        for done in range(1, len(told) + 1):
            new = told[done - 1]
            if new not in earlier and new not in told[: done - 1]:
                seen.append(End(Place(row, done - 1), "start"))
            if done == len(told):
                seen += [End(Place(row, i), "finish") for i, s in enumerate(told)
                         if s not in later and s not in told[i + 1 :]]
            assert {end for end in ends if exists(end, row, done, strands)} == set(seen)
    assert list(ends) == seen


@pytest.mark.parametrize(
    "end",
    [End(Place(0, 1), "finish"), End(Place(1, 0), "start"), End(Place(0, 7), "start"), End(Place(9, 0), "start"),
     End(Place(-1, 0), "start"), End(Place(0, -1), "start")],
    ids=repr,
)
def test_where_nothing_is_joined_or_cut_there_is_no_end(end: End) -> None:
    strands = plan_strands(drawn("bss", "bss").rows(), Carry(3)).strands
    assert not exists(end, 1, 2, strands)
