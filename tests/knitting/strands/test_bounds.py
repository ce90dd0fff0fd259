"""However wide the limits, planning ends: they are bounded by the piece, and what is too much is refused unmade."""

from __future__ import annotations

import tracemalloc
from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from companion.knitting.cloth.fabric import Fabric, FabricRow, Run, Stitch
from companion.knitting.cloth.rows import Rows
from companion.knitting.howfar import TooMuchToWeigh
from companion.knitting.strands import matching, moves
from companion.knitting.strands.limits import Carry
from companion.knitting.strands.moves import MOST_MOVES, legal_moves
from companion.knitting.strands.plan import plan_strands
from companion.knitting.strands.proof import fault_in
from tests.knitting.charts import Chart, charts, drawn, limits

INK, SAND = Run(1, Stitch("ink")), Run(1, Stitch("sand"))


def checked(columns: int, rows: int) -> Rows:
    """Stitches of two yarns in turn, every row alike."""
    return Rows(Fabric((FabricRow((INK, SAND) * (columns // 2)),) * rows))


def many(rows: Rows, carry: Carry) -> int:
    """How many moves are made."""
    return sum(map(len, legal_moves(rows, carry).into))


@given(charts(), limits())
def test_a_rest_longer_than_the_piece_is_high_is_one_as_long_as_it_is_high(chart: Chart, carry: Carry) -> None:
    rows = chart.rows()
    whole = legal_moves(rows, carry._replace(rest=len(rows)))
    assert legal_moves(rows, carry._replace(rest=4_000_000)) == whole


def test_as_many_moves_as_may_be_are_made_and_not_one_more(monkeypatch: pytest.MonkeyPatch) -> None:
    """In 4 rows of 40 stitches of two yarns every strand may take 20 runs in each row above: 2 x 20 x 20 x 3."""
    rows = checked(40, 4)
    monkeypatch.setattr(moves, "MOST_MOVES", 2400)
    assert many(rows, Carry(40)) == 2400
    monkeypatch.setattr(moves, "MOST_MOVES", 2399)
    with pytest.raises(TooMuchToWeigh):
        legal_moves(rows, Carry(40))
    monkeypatch.setattr(moves, "MOST_MOVES", 2400 + 4 * 2 * 190)  # behind others of its row: 20 x 19 / 2
    assert many(rows, Carry(40, 40)) == 2400 + 4 * 2 * 190
    monkeypatch.setattr(moves, "MOST_MOVES", 2400 + 4 * 2 * 190 - 1)
    with pytest.raises(TooMuchToWeigh):
        legal_moves(rows, Carry(40, 40))


def test_moves_to_places_where_strands_could_meet_are_counted_too(monkeypatch: pytest.MonkeyPatch) -> None:
    """Of 30 stitches of sand over a stitch of brick in 30: one move without, and with them one for every gap that
    lies within reach of where either strand hangs."""
    rows = drawn("s" * 30, "s" * 15 + "b" + "s" * 14).rows()
    assert many(rows, Carry(3)) == 1
    monkeypatch.setattr(moves, "MOST_MOVES", 1 + 3 + 7)
    assert many(rows, Carry(3, share_runs=True)) == 1
    monkeypatch.setattr(moves, "MOST_MOVES", 1 + 3 + 7 - 1)
    with pytest.raises(TooMuchToWeigh):
        legal_moves(rows, Carry(3, share_runs=True))


@pytest.mark.parametrize(
    ("columns", "rows", "carry"),
    [(4000, 10, Carry(3, 4000)), (100, 1000, Carry(100, 0, 200)), (400, 400, Carry(400, 0, 20))],
    ids=["behind everything", "a long rest", "a wide reach"],
)
def test_too_many_moves_are_refused_before_they_fill_the_memory(columns: int, rows: int, carry: Carry) -> None:
    with pytest.raises(TooMuchToWeigh) as refused:
        legal_moves(checked(columns, rows), carry)
    assert str(refused.value) == (
        "Under these limits there are too many ways for the strands of this piece to go on: lower rest first, then "
        "behind and reach."
    )


def test_moves_take_no_more_memory_than_is_said() -> None:
    piece = checked(400, 20)
    tracemalloc.start()
    found = many(piece, Carry(100))
    peak = tracemalloc.get_traced_memory()[1]
    tracemalloc.stop()
    assert 100_000 < found < MOST_MOVES
    assert peak < found * 100


def test_it_is_not_looked_through_row_after_row_for_moves_that_are_not_there() -> None:
    """20,000 rows and as many rows of rest would be two hundred million pairs of rows."""
    rows = Rows(Fabric((FabricRow((Run(2, Stitch("sand")),)),) * 20_000))
    with pytest.raises(TooMuchToWeigh):
        legal_moves(rows, Carry(0, 0, 20_000))
    assert not rows._made


def test_weighing_moves_against_each_other_comes_to_an_end(monkeypatch: pytest.MonkeyPatch) -> None:
    rows = drawn("sbsbsbsbsb", "bsbsbsbsbs", "sbbsbbsbbs").rows()
    assert plan_strands(rows, Carry(9, 9, 2)).strands.first
    monkeypatch.setattr(matching, "MOST_WEIGHED", 10)
    with pytest.raises(TooMuchToWeigh):
        plan_strands(rows, Carry(9, 9, 2))


@given(charts(ways=("flat", "round", "mixed")), limits(), st.booleans())
def test_how_far_it_is_rises_from_0_to_1(chart: Chart, carry: Carry, is_proved: bool) -> None:
    told: list[float] = []
    rows = chart.rows()
    plan = plan_strands(rows, carry, done=told.append)
    assert len(told) >= len(rows)
    if is_proved:
        told.clear()
        assert not fault_in(plan.strands, carry, plan.proof, done=told.append)
        assert len(told) == len(rows)
    assert all(0 <= one <= other <= 1 for one, other in pairwise([0, *told, 1]))


def test_rows_that_are_one_value_in_the_fabric_share_their_runs() -> None:
    rows = checked(6, 5)
    assert rows[0].segments is rows[2].segments is rows[4].segments
    assert rows[1].segments is rows[3].segments
    assert [segment.first for segment in rows[1].segments] == [6, 5, 4, 3, 2, 1]
