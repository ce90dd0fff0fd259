"""Runs that strands share: the fewest strands, the fewest meetings, the least carry, by somebody else's count."""

from __future__ import annotations

from collections.abc import Sequence

import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from companion.knitting.cloth.rows import Rows
from companion.knitting.strands.limits import Carry
from companion.knitting.strands.matching import match
from companion.knitting.strands.meetings import Division, Meeting
from companion.knitting.strands.moves import legal_moves, within
from companion.knitting.strands.plan import Chosen, StrandPlan, plan_strands, weighed
from companion.knitting.strands.proof import fault_in
from companion.knitting.strands.strands import Past, Strands
from tests.knitting.charts import Chart, charts, drawn, limits
from tests.knitting.parted import parted, parted_shapes, shared_limits
from tests.knitting.shaped import Shaped
from tests.knitting.strands.flows import Figures, every_division, smallest_flow
from tests.knitting.strands.test_strands import plain
from tests.oracles import PlainRow, segments


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


@settings(max_examples=50)
@given(parted_shapes(), shared_limits())
def test_so_they_are_in_pieces_that_are_shaped_or_divided_for_both_hands(one: Shaped, carry: Carry) -> None:
    check(one.plain(), plan_strands(one.rows(), carry), carry)


def test_in_many_of_such_charts_and_pieces_runs_are_shared() -> None:
    """So that what is checked on them says something; under limits that leave strands no other way."""
    shared = {"charts": 0, "shapes": 0}

    def look(kind: str, rows: Rows) -> None:
        shared[kind] += bool(plan_strands(rows, Carry(3, share_runs=True)).strands.rows.meetings)

    of_charts = given(parted())(lambda chart: look("charts", chart.rows()))
    of_shapes = given(parted_shapes())(lambda one: look("shapes", one.rows()))
    for law in (of_charts, of_shapes):
        settings(max_examples=60, database=None, derandomize=True)(law)()
    assert min(shared.values()) >= 8


@settings(max_examples=20)
@given(parted(max_rows=4, max_columns=5), shared_limits())
def test_no_division_of_runs_tried_in_turn_is_better(chart: Chart, carry: Carry) -> None:
    """Every way to divide runs in up to two places, and every plan of the strands of each."""
    rows = plain(chart)
    assume(len(segments(rows)) <= 6)
    told, best = figures(plan_strands(chart.rows(), carry).strands), every_division(rows, carry, 2)
    assert told == best if told[1] <= 2 else told < best


@settings(max_examples=50)
@given(parted(), shared_limits())
def test_there_are_never_more_strands_than_where_none_is_shared(chart: Chart, carry: Carry) -> None:
    """And where nobody meets, as many strands that carry as little."""
    shared = plan_strands(chart.rows(), carry).strands
    alone = plan_strands(chart.rows(), carry._replace(share_runs=False)).strands
    assert shared.total.strands + bool(shared.rows.meetings) <= alone.total.strands
    if not shared.rows.meetings:
        assert shared.total[:3] == alone.total[:3]


@settings(max_examples=50)
@given(charts(max_rows=2, ways=("flat", "round", "mixed")), shared_limits())
def test_where_nobody_can_meet_the_strands_are_the_same_ones(chart: Chart, carry: Carry) -> None:
    """In two rows: from the upper one nobody goes on."""
    shared, alone = plan_strands(chart.rows(), carry), plan_strands(chart.rows(), carry._replace(share_runs=False))
    assert shared.strands == alone.strands
    assert shared.proof == alone.proof


@pytest.mark.parametrize(
    ("lines", "carry", "expected"),
    [
        pytest.param(["ssbss", "sssss", "ssbss"], Carry(3), (4, 1, 1), id="the ground parts again at once"),
        pytest.param(["ssbss", "sssss", "ssbss"], Carry(0), (5, 0, 0), id="the row goes the other way: a stitch off"),
        pytest.param(["ssbss", "sssss", "sssss", "ssbss"], Carry(0), (4, 2, 0), id="two rows up it comes back"),
        pytest.param(["ssbbssbbss", *["ssssssssss"] * 2, "ssbbssbbss"], Carry(0), (7, 4, 0), id="three in one run"),
        pytest.param(["ssbss", "sssss", "ssbss"], Carry(3, 1), (3, 0, 2), id="one passes behind twice"),
        pytest.param(["ssbss", "sssss", "ssbss"], Carry(3, 0, 1), (3, 0, 2), id="or one rests, as brick does"),
        pytest.param(["ssbss", "kkkkk", "ssbss"], Carry(3), (7, 0, 0), id="in another yarn there is no run to share"),
        pytest.param(["sssss", "sssss", "ssbss"], Carry(3), (3, 0, 0), id="nothing parts above"),
        pytest.param(["...ssbss", "...sssss", "sssssbss"], Carry(1), (4, 1, 1), id="bound off, then shared"),
        pytest.param(["ssbs", "s.ss", "ssbs"], Carry(3), (4, 1, 1), id="with a stitch that is none beside"),
    ],
)
def test_charts_that_can_be_thought_through(lines: list[str], carry: Carry, expected: Figures) -> None:
    """Strands, meetings and stitches carried, by hand."""
    carry = carry._replace(share_runs=True)
    chart = drawn(*lines)
    plan = plan_strands(chart.rows(), carry)
    assert figures(plan.strands) == expected
    check(plain(chart), plan, carry)


def test_the_two_exchange_their_parts() -> None:
    """Row 1 leaves sand 1 in gap 2 and sand 3 at the left edge. Row 2 comes back from there: sand 3 is left in gap 3,
    a stitch nearer than sand 1 hangs, which takes over there and works to the right edge. In row 3 sand 1 begins at
    that edge, and sand 3 works on from gap 3."""
    strands = plan_strands(drawn("ssbss", "sssss", "ssbss").rows(), Carry(3, share_runs=True)).strands
    assert strands.rows.meetings == {1: (3,)}
    assert strands.strand_of == ((1, 2, 3), (3, 1), (1, 4, 3))
    plan = plan_strands(strands.rows, Carry(3, share_runs=True))
    assert fault_in(strands, Carry(3), plan.proof) == "a run is shared at Place(row=1, segment=1)"
    ends = [(run.first, run.last, run.entry, run.exit) for run in strands.rows[1].segments]
    assert ends == [(5, 4, 5, 3), (3, 1, 3, 0)]


def test_a_strand_saved_is_worth_any_carry_and_any_meetings_that_reach_allows() -> None:
    """Sand hangs in gap 1 and goes on in gap 5, with a row between. And two rows between bollards of which the upper
    one stands to the other side: from gap 6 to gap 2 in three moves, which takes a reach of 2."""
    across = plan_strands(drawn("sbbbbs", "ssssss", "sbbbbs").rows(), Carry(5, share_runs=True)).strands
    assert figures(across) == (4, 1, 4)
    lines = ("ssssssbbss", "ssssssssss", "ssssssssss", "ssbbssssss")
    for reach, expected in ((2, (4, 2, 4)), (1, (5, 0, 0))):
        assert figures(plan_strands(drawn(*lines).rows(), Carry(reach, share_runs=True)).strands) == expected


@settings(max_examples=50)
@given(parted(), shared_limits(), st.data())
def test_a_plan_or_a_proof_with_one_thing_changed_is_found_out(
    chart: Chart, carry: Carry, data: st.DataObject
) -> None:
    plan = plan_strands(chart.rows(), carry)
    proof, strands = plan.proof, plan.strands
    assume(strands.rows.meetings)
    kind = data.draw(st.sampled_from([
        "exit", "entry", "exit price", "entry price", "no price", "dear", "weight", "one less", "not shared", "whole",
    ]))  # fmt: skip
    node = data.draw(st.sampled_from(sorted(proof.entry_prices)))
    match kind:
        case "exit":
            proof = proof._replace(exits=proof.exits ^ {node})
        case "entry":
            proof = proof._replace(entries=proof.entries ^ {node})
        case "exit price":
            out = data.draw(st.sampled_from(sorted(u for u, price in proof.exit_prices.items() if price)))
            proof = proof._replace(exit_prices={**proof.exit_prices, out: proof.exit_prices[out] - 1})
        case "entry price":
            proof = proof._replace(entry_prices={**proof.entry_prices, node: proof.entry_prices[node] - 1})
        case "no price":
            proof = proof._replace(entry_prices={v: price for v, price in proof.entry_prices.items() if v != node})
        case "dear":
            proof = proof._replace(dear=proof.weight)
        case "weight":
            proof = proof._replace(weight=0)
        case "one less":
            first = data.draw(st.sampled_from(sorted(proof.exits | proof.entries)))
            proof = proof._replace(exits=proof.exits - {first}, entries=proof.entries - {first})
        case "not shared":
            carry = carry._replace(share_runs=False)
        case _:
            alone = plan_strands(chart.rows(), carry._replace(share_runs=False))
            proof, strands = alone.proof, alone.strands
    assert fault_in(strands, carry, proof)


def test_a_meeting_that_costs_less_than_some_carry_proves_nothing() -> None:
    """It might be that with fewer meetings more were carried."""
    rows, carry = drawn("ssbss", "sssss", "ssbss").rows(), Carry(3, share_runs=True)
    moves, strands = legal_moves(rows, carry), plan_strands(rows, carry).strands
    found = match(weighed(moves, 1), len(moves.exits))
    used = [moves.entries[entry] for entry, own in moves.meetings.items() if found.exit_of[entry] != own]
    cheap = StrandPlan(strands, Past(), Chosen(moves, found, Division(rows, used), 1))
    assert fault_in(strands, carry, cheap.proof) == "a meeting is not dear enough"


@settings(max_examples=50)
@given(parted(), st.lists(shared_limits() | limits(6), min_size=1, max_size=3))
def test_of_the_moves_of_looser_limits_those_that_are_left_are_the_moves_of_stricter_ones(
    chart: Chart, each: list[Carry]
) -> None:
    rows = chart.rows()
    loosest = legal_moves(rows, Carry(*map(max, zip(*each, strict=True))))
    for carry in each:
        assert within(loosest, rows, carry) == legal_moves(rows, carry)


def test_strands_that_meet_for_nothing_are_found_out() -> None:
    """With as many strands as need be, matched and priced as if they had to meet; but one could work all of it."""
    rows, carry = drawn("ssbss", "sssss", "sssss").rows(), Carry(3, share_runs=True)
    moves = legal_moves(rows, carry)
    [entry] = [entry for entry in moves.meetings if moves.entries[entry] == Meeting(1, 0, 2)]
    costs = list(weighed(moves, 100))
    costs[entry] = [move for move in costs[entry] if move[1]]
    found, lies = match(costs, len(moves.exits)), Division(rows, [moves.entries[entry]])
    idle = Strands(lies.rows, ((1,), (1, 2), (2, 3, 1)))
    assert idle.total.strands == plan_strands(rows, carry).strands.total.strands
    proof = StrandPlan(idle, Past(), Chosen(moves, found, lies, 100)).proof
    told = "the move from Place(row=1, segment=0) to Place(row=1, segment=1) costs 0, its prices are "
    assert fault_in(idle, carry, proof).startswith(told)
