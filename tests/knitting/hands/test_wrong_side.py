"""What lies on the wrong side, against cases worked out by hand, and against what the hands are told."""

from __future__ import annotations

from itertools import chain

import pytest
from hypothesis import given, settings

from companion.knitting.hands.ends import ends_of
from companion.knitting.hands.looks import columns_seen, right_side
from companion.knitting.hands.runs import row_runs
from companion.knitting.hands.steps import Catch, Cross, Rest
from companion.knitting.hands.wrong_side import Carried, carried, crossings, tails
from companion.knitting.piece import Piece
from companion.knitting.strands.limits import Carry
from companion.knitting.strands.plan import plan_strands
from companion.knitting.strands.strands import Strands
from companion.plan.demo import demo_plans
from companion.plan.read import load
from tests.knitting.charts import Chart, drawn, piece_of
from tests.knitting.shaped import Shaped, shaped

SIGN = drawn("sssss", "sbbss", "ssbbs", "sssss")
"""Row 2 is worked from column 5 down: 2 sand, 2 brick, 1 sand; row 3 from column 1 up: 2 sand, 2 brick, 1 sand. With
a reach of 1 the brick goes on, and the sand left of it; the sand right of it is a strand of its own."""

DEMOS = [path.stem for path in demo_plans()]


def planned(chart: Chart, carry: Carry) -> tuple[Piece, Strands]:
    return piece_of(chart), plan_strands(chart.rows(), carry).strands


def ways(chart: Chart, carry: Carry, yarn: str = "brick") -> list[Carried]:
    piece, strands = planned(chart, carry)
    return [one for one in carried(strands, piece.catching) if one.yarn == yarn]


def test_a_cross_lies_at_every_change_the_old_strand_over_the_new_one() -> None:
    _, strands = planned(SIGN, Carry(1))
    assert [(*one.at, one.old, one.new) for one in crossings(strands)] == [
        (3, 1, "sand", "brick"), (1, 1, "brick", "sand"), (2, 2, "sand", "brick"), (4, 2, "brick", "sand"),
    ]


def test_a_strand_lies_loose_from_where_it_was_left_to_where_it_is_needed() -> None:
    piece, strands = planned(SIGN, Carry(1))
    assert [(one.yarn, one.ways) for one in carried(strands, piece.catching)] == [
        ("brick", (((1, 1), (2, 2)),)), ("sand", (((3, 1), (4, 2)),)),
    ]


def test_every_end_hangs_where_the_ledger_has_it() -> None:
    """The cast-on's tail at the right edge; brick is joined at gap 3 and sand at gap 1; both are cut in row 3, at the
    gaps where they were left; what binds off goes back over row 4 and ends at the left edge, above it."""
    piece, strands = planned(SIGN, Carry(1))
    assert [(one.end.kind, one.yarn, *one.at, one.is_below, one.is_above) for one in tails(piece, strands)] == [
        ("start", "sand", 0, 0, True, False), ("start", "brick", 3, 1, False, False),
        ("start", "sand", 1, 1, False, False), ("finish", "sand", 2, 2, False, False),
        ("finish", "brick", 4, 2, False, False), ("finish", "sand", 5, 3, False, True),
    ]  # fmt: skip


def test_a_float_is_held_where_it_is_caught() -> None:
    """Row 2 comes from the left. The hands catch the brick after the stitches in columns 14, 10 and 6."""
    [float_] = ways(drawn("b" * 4 + "s" * 12, "s" * 12 + "b" * 4), Carry(12))
    assert float_.ways == (((4, 0), (5, 1), (9, 1), (13, 1), (16, 1)),)


def test_a_strand_that_rests_is_held_where_it_is_caught_on_its_way_up() -> None:
    [float_] = ways(drawn("sbbs", *["ssss"] * 6, "sbbs"), Carry(3, 0, 6))
    assert float_.ways == (((3, 0), (3, 5), (3, 7)),)


def test_a_strand_that_goes_on_round_the_tube_leaves_the_picture_and_comes_back_on_the_other_side() -> None:
    """Left at gap 7 of 8 and needed at gap 1: two stitches round the tube, six the other way. From gap 1 to gap 7 it
    goes back, out at the other edge."""
    [float_] = ways(drawn("ssssssbs", "sbssssss", is_round=True), Carry(3))
    assert float_.ways == (((7, 0), (8, 1)), ((0, 1), (1, 1)))
    [float_] = ways(drawn("sbssssss", "sssssssb", is_round=True), Carry(3))
    assert float_.ways == (((1, 0), (0, 1)), ((8, 1), (6, 1)))


@pytest.mark.parametrize("name", DEMOS)
def test_of_every_demo_there_lies_what_the_hands_are_told(name: str) -> None:
    piece = next(load(path).piece for path in demo_plans() if path.stem == name)
    strands = plan_strands(piece.rows, piece.carry).strands
    runs = [run for row in range(len(piece.rows)) for run in row_runs(strands, row, piece.catching)]
    crosses = [(run.place, step.old, step.new) for run in runs for step in run.into if isinstance(step, Cross)]
    assert [(one.place, one.old, one.new) for one in crossings(strands)] == crosses
    inside = list(chain.from_iterable(run.inside for run in runs))
    catches = sum(isinstance(step, Catch) or (isinstance(step, Rest) and step.is_caught) for step in inside)
    assert sum(len(way) - 2 for one in carried(strands, piece.catching) for way in one.ways) == catches
    assert [one.end for one in tails(piece, strands)] == list(ends_of(strands))
    assert len(list(tails(piece, strands))) == strands.total.ends


@settings(max_examples=60)
@given(shaped())
def test_whatever_the_shape_everything_lies_in_the_picture(drawing: Shaped) -> None:
    piece = drawing.piece()
    strands = plan_strands(piece.rows, piece.carry).strands
    looks, wide = right_side(strands), columns_seen(piece.rows)
    assert {len(row) for row in looks} == {wide}
    points = [one.at for one in crossings(strands)] + [one.at for one in tails(piece, strands)]
    points += [point for one in carried(strands, piece.catching) for way in one.ways for point in way]
    assert all(0 <= gap <= wide and 0 <= level < len(looks) for gap, level in points)
    assert len(list(tails(piece, strands))) == strands.total.ends
