"""Ends: two a strand, there from the join or the cut on, ready when enough fabric lies above them."""

from __future__ import annotations

from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from companion.knitting import words
from companion.knitting.cloth.fabric import Gauge
from companion.knitting.cloth.rows import Place, RowKey
from companion.knitting.hands.ends import corner, ends_of, exists, rows_until_ready
from companion.knitting.hands.steps import End
from companion.knitting.strands.limits import Carry
from companion.knitting.strands.plan import plan_strands
from companion.plan.demo import demo_folder
from companion.plan.read import load
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


@pytest.mark.parametrize(
    ("lines", "is_round", "gap"),
    [
        # Row 1 ends at the left edge, gap 5; bound off on the way back, the tail hangs at the right one. Row 2 ends
        # at the right edge, and the tail hangs at the left one.
        (("sssss",), False, 0),
        (("sssss", "sssss"), False, 5),
        (("bbsss",), False, 0),
        ((".sss.", "sssss"), False, 4),
        # Bound off in the round it goes on the same way and ends where the round ends.
        (("sssss", "sssss"), True, 5),
    ],
)
def test_the_tail_of_the_bind_off_hangs_at_the_far_edge(lines: tuple[str, ...], is_round: bool, gap: int) -> None:
    strands = plan_strands(drawn(*lines, is_round=is_round).rows(), Carry(3)).strands
    row = len(lines) - 1
    end = End(Place(row, len(strands.strand_of[row]) - 1), "finish")
    assert corner(end, strands).gap == gap
    earlier = [each for each in ends_of(strands) if each.kind == "finish" and each != end]
    assert all(corner(each, strands).gap == strands.rows.segment(each.place).exit for each in earlier)


def test_the_tails_of_each_part_hang_where_it_is_bound_off_and_where_it_begins() -> None:
    """The ferry jumper's parts end with a wrong-side row toward the right, columns 7 to 20 and 43 to 56: each is
    bound off toward the left. The left one is joined beside the right one, whose last column is 25, binds off columns
    26 to 37 and works on from 38."""
    folder = demo_folder()
    assert folder is not None
    rows = load(folder / "ferry-jumper-front.yaml").piece.rows
    strands = plan_strands(rows, Carry(3)).strands
    found = {
        (part, number, end.kind): (corner(end, strands).gap, words.end_line(strands, end, "not yet", words.US)[16:])
        for end in ends_of(strands) for part, number in [rows[end.place.row].key] if part
    }
    assert found == {
        ("right", 14, "finish"): (20, "row right 14 WS, finish of the fog at the right edge"),
        ("left", 1, "start"): (25, "row left 1 RS, start  of the fog"),
        ("left", 14, "finish"): (56, "row left 14 WS, finish of the fog at the right edge"),
    }
    start = End(Place(rows.at(RowKey("left", 1)), 0), "start")
    assert corner(start, strands)[:3] == (rows.at(RowKey("", 84)), 26, 1)


def test_a_strand_joined_where_a_row_begins_hangs_at_the_edge_it_binds_off_or_casts_on() -> None:
    """Row 3 is a right-side row, from the right: brick binds off columns 1 to 3, or casts on columns 1 and 2."""
    off = plan_strands(drawn("bbbbb...", "ssssssss", "ssssssss").rows(), Carry(3)).strands
    assert corner(End(Place(2, 0), "start"), off) == (1, 1, 1, 3, "bind-off")
    on = plan_strands(drawn("bbbbbb", "ssss..", "ssss..").rows(), Carry(3)).strands
    assert corner(End(Place(2, 0), "start"), on) == (2, 2, -1, 2, "cast-on")
    assert corner(End(Place(2, 0), "start"), on).gap == 2
