"""The strands are the fewest, at the least carry, by somebody else's count; the proof holds; the past stays."""

from __future__ import annotations

from collections import Counter
from itertools import pairwise

import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from companion.knitting.cloth.carries import carry as carried_over
from companion.knitting.cloth.rows import Place, Rows
from companion.knitting.strands.limits import Carry
from companion.knitting.strands.plan import StrandPlan, plan_strands
from companion.knitting.strands.proof import fault_in
from companion.knitting.strands.strands import Past, Strands, hanging, position_of
from tests import oracles
from tests.knitting.charts import Chart, charts, drawn, limits
from tests.oracles import MovesBetween, PlainRow

ALL_WAYS = ("flat", "flat", "round", "mixed")
big = charts(ways=ALL_WAYS)
unshaped = charts(ways=ALL_WAYS, has_gaps=False)
"""Where nothing is bound off, so that every strand hangs on stitches of the row above."""
small = charts(max_rows=8, max_columns=10, ways=ALL_WAYS)


def plain(chart: Chart) -> list[PlainRow]:
    """The chart as the oracle reads it."""
    return [
        PlainRow(
            tuple(cell and cell.yarn for cell in cells),
            "left" if chart.side(row) == "RS" else "right",
            chart.rounds[row],
        )
        for row, cells in enumerate(chart.grid)
    ]


def legal(chart: Chart, carry: Carry) -> MovesBetween:
    return oracles.legal_moves(plain(chart), carry.reach, carry.behind, carry.rest)


def moves_of(strands: Strands) -> list[tuple[Place, Place]]:
    """Every move that the strands make, found by following each through the piece."""
    found = []
    at: dict[int, Place] = {}
    for row, numbers in enumerate(strands.strand_of):
        for segment, number in enumerate(numbers):
            place = Place(row, segment)
            if number in at:
                found.append((at[number], place))
            at[number] = place
    return found


def totals(chart: Chart, strands: Strands, carry: Carry) -> tuple[int, int]:
    """Strands and total carry, the carry by the oracle's moves."""
    costs = legal(chart, carry)
    return len({n for row in strands.strand_of for n in row}), sum(costs[move] for move in moves_of(strands))


@given(big, limits())
def test_every_segment_has_a_strand_of_its_yarn_numbered_in_order_of_joining(chart: Chart, carry: Carry) -> None:
    strands = plan_strands(chart.rows(), carry).strands
    assert [len(numbers) for numbers in strands.strand_of] == [len(chart.runs(r)) for r in range(len(chart.grid))]
    yarns: dict[int, str] = {}
    for place in strands.rows.places():
        yarn = strands.rows.segment(place).yarn
        assert yarns.setdefault(strands.at(place), yarn) == yarn
    assert list(yarns) == list(range(1, len(yarns) + 1))
    places = list(strands.rows.places())
    assert [strands.at(p) for p in places if strands.before(p) is None] == list(yarns)
    assert sorted(strands.at(p) for p in places if strands.after(p) is None) == list(yarns)


@given(big, limits())
def test_the_strands_are_the_fewest_and_their_carry_the_least_with_so_few(chart: Chart, carry: Carry) -> None:
    strands = plan_strands(chart.rows(), carry).strands
    told = (strands.total.strands, strands.total.carried)
    fewest = oracles.fewest_strands(plain(chart), carry.reach, carry.behind, carry.rest)
    least = oracles.least_carry(plain(chart), carry.reach, carry.behind, carry.rest)
    assert told == totals(chart, strands, carry) == (fewest, least)


@given(big, limits())
def test_every_move_is_legal_and_told_at_its_carry(chart: Chart, carry: Carry) -> None:
    strands = plan_strands(chart.rows(), carry).strands
    costs = legal(chart, carry)
    moves = moves_of(strands)
    assert all(move in costs for move in moves)
    assert [carried_over(strands.rows, u, v) for u, v in moves] == [costs[move] for move in moves]
    entered = {v for _, v in moves}
    assert all(strands.before(place) is None for place in strands.rows.places() if place not in entered)


@settings(max_examples=20)
@given(charts(max_rows=40, max_columns=40, ways=ALL_WAYS), limits())
def test_big_charts_take_the_fewest_strands_at_the_least_carry_too(chart: Chart, carry: Carry) -> None:
    plan = plan_strands(chart.rows(), carry)
    costs = legal(chart, carry)
    yarns = {s.place: s.yarn for s in oracles.segments(plain(chart))}
    moves = moves_of(plan.strands)
    assert len(moves) == oracles.most_moves(costs)
    assert plan.strands.total.carried == oracles.least_cost(costs, yarns) == sum(costs[move] for move in moves)
    assert fault_in(plan.strands, carry, plan.proof) == ""


@given(charts(max_rows=4, max_columns=6, ways=ALL_WAYS), limits(6))
def test_no_plan_tried_in_turn_is_better(chart: Chart, carry: Carry) -> None:
    rows = plain(chart)
    assume(len(oracles.segments(rows)) <= 8)
    total = plan_strands(chart.rows(), carry).strands.total
    assert (total.strands, total.carried) == oracles.brute_force(rows, carry.reach, carry.behind, carry.rest)


def test_a_strand_left_outside_an_edge_that_came_in_since_hangs_at_it_and_binds_off() -> None:
    """The sand hangs at the right edge after row 2; ink decreases one stitch there and works two rows. In row 5 sand
    binds off three stitches from the edge at which it hangs, and not over bound-off ones. With one row of rest it has
    to be cut, and so it has where another strand binds off."""
    waits = drawn("ssss....", "bbbbbbb.", "bbbbbbb.", "ssssssss", "ssssssss")
    for chart, rest, strands in (
        (waits, 2, 2), (waits, 1, 3),
        (drawn("ssbb....", "bbbbbbb.", "bbbbbbb.", "ssssssss", "ssssssss"), 2, 3),
    ):
        plan = plan_strands(chart.rows(), Carry(3, 0, rest))
        assert len(plan.strands.first) == strands
        assert not fault_in(plan.strands, Carry(3, 0, rest), plan.proof)


@given(big, limits())
def test_both_halves_of_the_proof_hold(chart: Chart, carry: Carry) -> None:
    plan = plan_strands(chart.rows(), carry)
    costs = legal(chart, carry)
    proof = plan.proof
    places = set(plan.strands.rows.places())
    assert set(proof.exit_prices) == set(proof.entry_prices) == places
    oracles.check_proof(
        costs, moves_of(plan.strands), proof.exits, proof.entries, proof.exit_prices, proof.entry_prices, proof.dear
    )
    assert fault_in(plan.strands, carry, proof) == ""
    assert proof.dear > (max(costs.values(), default=0) + 1) * len(places) - 1
    assert all(type(price) is int for price in (*proof.exit_prices.values(), *proof.entry_prices.values()))


@given(big, limits())
def test_the_same_question_gets_the_same_answer(chart: Chart, carry: Carry) -> None:
    one, other = plan_strands(chart.rows(), carry), plan_strands(chart.rows(), carry)
    assert one.strands.strand_of == other.strands.strand_of
    assert one.proof == other.proof


@given(big, limits(6), st.integers(0, 6), st.integers(0, 4), st.integers(0, 3))
def test_a_looser_limit_never_adds_a_strand(chart: Chart, carry: Carry, reach: int, behind: int, rest: int) -> None:
    looser = Carry(carry.reach + reach, carry.behind + behind, carry.rest + rest)
    rows = chart.rows()
    assert plan_strands(rows, looser).strands.total.strands <= plan_strands(rows, carry).strands.total.strands


def new_ones_row_by_row(chart: Chart) -> int:
    """For every yarn, how many more segments each row has than the row below it; summed."""
    found, below = 0, Counter[str]()
    for row in range(len(chart.grid)):
        here = Counter(run[0][1].yarn for run in chart.runs(row))
        found += (here - below).total()
        below = here
    return found


@given(unshaped)
def test_with_every_next_row_in_reach_the_strands_are_the_new_segments_row_by_row(chart: Chart) -> None:
    """Closed form: the sum over colours and rows of max(0, segments here less segments in the row below)."""
    total = plan_strands(chart.rows(), Carry(chart.width)).strands.total
    assert total.strands == new_ones_row_by_row(chart)


@given(unshaped)
def test_with_reach_and_rest_unlimited_a_yarn_needs_its_most_segments_in_one_row(chart: Chart) -> None:
    """And with no limit at all every yarn is one strand."""
    most: Counter[str] = Counter()
    for row in range(len(chart.grid)):
        most |= Counter(run[0][1].yarn for run in chart.runs(row))
    everywhere = Carry(chart.width, rest=len(chart.grid))
    assert plan_strands(chart.rows(), everywhere).strands.total.strands == most.total()
    anyhow = Carry(chart.width, behind=chart.width, rest=len(chart.grid))
    assert plan_strands(chart.rows(), anyhow).strands.total.strands == len(most)


# The past ------------------------------------------------------------------------------------------------


def past_at(strands: Strands, position: Place) -> Past:
    """What is worked before a position, told again from the plan, with the strands told to be cut by then: at every
    turn passed, those that have no later segment."""
    whole = strands.strand_of[: position.row]
    begun = strands.strand_of[position.row][: position.segment] if position.row < len(strands.rows) else ()
    to_come = {n for row in strands.strand_of[position.row :] for n in row}
    cut = frozenset(n for row in whole for n in row if n not in to_come)
    return Past((*whole, begun) if begun else whole, cut)


def positions(rows: Rows) -> list[Place]:
    return [*rows.places(), Place(len(rows), 0)]


@given(small, limits(), st.data())
def test_the_rest_planned_anew_from_anywhere_gives_the_same_totals(
    chart: Chart, carry: Carry, data: st.DataObject
) -> None:
    best = plan_strands(chart.rows(), carry).strands
    position = data.draw(st.sampled_from(positions(best.rows)))
    again = plan_strands(chart.rows(), carry, past_at(best, position)).strands
    assert totals(chart, again, carry) == totals(chart, best, carry)
    told = (again.total.strands, again.total.carried)
    assert told == (best.total.strands, best.total.carried)
    for place in best.rows.places():
        if place < position:
            assert again.at(place) == best.at(place)


@given(small, limits(), st.data())
def test_the_proof_of_a_rest_covers_the_moves_from_there_on(chart: Chart, carry: Carry, data: st.DataObject) -> None:
    """Also where the past was worked in strands of the knitter's own choosing."""
    rows = chart.rows()
    position = data.draw(st.sampled_from(positions(rows)))
    past = data.draw(pasts(chart, position))
    check_rest(chart, carry, past, position, plan_strands(rows, carry, past))


@st.composite
def pasts(draw: st.DrawFn, chart: Chart, position: Place) -> Past:
    """Some past up to a position: every segment by a new strand or by any one of its yarn that is not cut; at every
    turn some strands may have been cut."""
    worked: list[tuple[int, ...]] = []
    cut: set[int] = set()
    yarn_of: dict[int, str] = {}
    for row in range(len(chart.grid)):
        segments = len(chart.runs(row)) if row < position.row else position.segment if row == position.row else 0
        if not segments:
            break
        numbers = []
        for run in chart.runs(row)[:segments]:
            free = [n for n, yarn in yarn_of.items() if yarn == run[0][1].yarn and n not in cut]
            number = draw(st.sampled_from([len(yarn_of) + 1, *free]))
            yarn_of[number] = run[0][1].yarn
            numbers.append(number)
        worked.append(tuple(numbers))
        if segments == len(chart.runs(row)) and draw(st.booleans()):
            cut |= set(draw(st.lists(st.sampled_from(sorted(yarn_of)), max_size=2)))
    return Past(tuple(worked), frozenset(cut))


def check_rest(chart: Chart, carry: Carry, past: Past, position: Place, plan: StrandPlan) -> None:
    """The rest from a past: the past is kept, what is cut stays cut, the rest is legal, best and proved."""
    strands = plan.strands
    for row, numbers in enumerate(past.worked):
        assert strands.strand_of[row][: len(numbers)] == numbers
    last = {n: Place(row, i) for row, numbers in enumerate(past.worked) for i, n in enumerate(numbers)}
    hang = {place for n, place in last.items() if n not in past.cut}
    assert set(hanging(past).values()) == hang
    assert position_of(past, strands.rows) == position
    costs = {(u, v): cost for (u, v), cost in legal(chart, carry).items()
             if v >= position and (u >= position or u in hang)}
    made = [(u, v) for u, v in moves_of(strands) if v >= position]
    yarns = {s.place: s.yarn for s in oracles.segments(plain(chart))}
    assert all(move in costs for move in made)
    assert len(made) == oracles.most_moves(costs)
    assert sum(costs[move] for move in made) == oracles.least_cost(costs, yarns)
    entries = {place for place in strands.rows.places() if place >= position}
    exits = entries | hang
    proof = plan.proof
    assert (set(proof.exit_prices), set(proof.entry_prices)) == (exits, entries)
    prices_out = {place: proof.exit_prices.get(place, 0) for place in exits}
    prices_in = {place: proof.entry_prices.get(place, proof.dear) for place in exits}
    oracles.check_proof(costs, made, proof.exits, proof.entries, prices_out, prices_in, proof.dear)
    assert fault_in(strands, carry, proof, past) == ""
    new = [n for row in strands.strand_of for n in row if n not in last]
    assert list(dict.fromkeys(new)) == list(range(max(last, default=0) + 1, max(last, default=0) + 1 + len(set(new))))


@given(small, limits(), limits(), st.data())
def test_limits_may_change_in_mid_piece(chart: Chart, first: Carry, then: Carry, data: st.DataObject) -> None:
    rows = chart.rows()
    position = data.draw(st.sampled_from(positions(rows)))
    past = past_at(plan_strands(rows, first).strands, position)
    check_rest(chart, then, past, position, plan_strands(rows, then, past))


@given(small, limits())
def test_an_empty_past_is_no_past(chart: Chart, carry: Carry) -> None:
    one, other = plan_strands(chart.rows(), carry), plan_strands(chart.rows(), carry, Past())
    assert (one.strands.strand_of, one.proof) == (other.strands.strand_of, other.proof)


def test_a_strand_told_to_be_cut_is_cut() -> None:
    rows = drawn("bbss", "bbss", "bbss").rows()
    past = Past(((1, 2),), frozenset({2}))
    assert plan_strands(rows, Carry(3), past).strands.strand_of == ((1, 2), (3, 1), (1, 3))


# What the strands tell about themselves ------------------------------------------------------------------


@given(small, limits())
def test_every_strand_can_be_followed_from_its_join_to_its_cut(chart: Chart, carry: Carry) -> None:
    strands = plan_strands(chart.rows(), carry).strands
    costs = legal(chart, carry)
    goes_to = dict(moves_of(strands))
    comes_from = {v: u for u, v in goes_to.items()}
    for place in strands.rows.places():
        assert strands.before(place) == comes_from.get(place)
        assert strands.after(place) == goes_to.get(place)
    ways: dict[int, list[Place]] = {}
    for place in strands.rows.places():
        ways.setdefault(strands.at(place), []).append(place)
    assert strands.first == {n: way[0] for n, way in ways.items()}
    assert strands.last == {n: way[-1] for n, way in ways.items()}
    assert [s.strand for s in strands.summaries] == sorted(ways)
    for told in strands.summaries:
        way = ways[told.strand]
        cells = [chart.runs(place.row)[place.segment] for place in way]
        assert (told.joined, told.cut, told.segments) == (way[0], way[-1], len(way))
        assert told.stitches == sum(map(len, cells))
        assert {told.yarn} == {cell.yarn for run in cells for _, cell in run}
        assert told.carried == sum(costs[move] for move in pairwise(way))


@given(small, limits())
def test_the_most_at_once_are_the_strands_not_yet_cut_in_the_fullest_row(chart: Chart, carry: Carry) -> None:
    strands = plan_strands(chart.rows(), carry).strands
    numbers = sorted({n for row in strands.strand_of for n in row})
    alive = []
    for row in range(len(strands.rows)):
        begun = {n for below in strands.strand_of[: row + 1] for n in below}
        wanted = {n for above in strands.strand_of[row:] for n in above}
        alive.append(tuple(n for n in numbers if n in begun and n in wanted))
    assert strands.alive == tuple(alive)
    total = strands.total
    assert (total.strands, total.ends) == (len(numbers), 2 * len(numbers))
    assert total.most_at_once == max(map(len, alive))


# Worked by hand ------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("lines", "is_round", "carry", "strands", "carried"),
    [
        pytest.param(["ssss"], False, Carry(3), 1, 0, id="one strand"),
        pytest.param(["ssbb", "ssbb", "ssbb"], False, Carry(0), 2, 0, id="a vertical costs nothing"),
        pytest.param(["sssb", "ssbb", "sbbb"], False, Carry(1), 2, 2, id="a diagonal costs its shift, once a row"),
        pytest.param(["sssb", "ssbb", "sbbb"], False, Carry(0), 4, 0, id="out of reach, two new strands a row"),
        pytest.param(["sbbs", "ssss"], False, Carry(3), 3, 0, id="the ground parts round a spot"),
        pytest.param(["sbbs", "ssss"], False, Carry(3, behind=2), 2, 2, id="the ground passes behind the spot"),
        pytest.param(["ssss", "sbbs", "ssss"], False, Carry(4, rest=1), 3, 0, id="a split and a merge"),
        pytest.param(["bbbb", "ssss", "bbbb"], False, Carry(4, rest=1), 2, 4, id="a strand rests at the far side"),
        pytest.param(["bbbb", "ssss", "bbbb"], False, Carry(3, rest=1), 3, 0, id="too far for the one that rests"),
        pytest.param(["bbss", "bbss"], True, Carry(2), 2, 4, id="in the round every block is a width away"),
        pytest.param(["bbss", "bbss"], True, Carry(1), 4, 0, id="which a short reach does not allow"),
        pytest.param(["ssss", "ssss"], True, Carry(0), 1, 0, id="one colour goes round for nothing"),
    ],
)
def test_charts_that_can_be_counted_by_hand(
    lines: list[str], is_round: bool, carry: Carry, strands: int, carried: int
) -> None:
    total = plan_strands(drawn(*lines, is_round=is_round).rows(), carry).strands.total
    assert (total.strands, total.carried) == (strands, carried)


def test_fewer_strands_go_before_less_carry() -> None:
    """Brick hangs at gaps 4 and 10; on the way back it starts at gaps 5 and 2. Gap 2 is in reach of gap 4 alone, so
    the segment at gap 5, one stitch from gap 4, takes the strand five stitches off, unless that is out of reach."""
    rows = drawn("kkkkkkkbkkbk", "ssbsssssbsss").rows()
    far, near = (plan_strands(rows, Carry(reach)).strands.total for reach in (5, 4))
    assert (far.strands, far.carried) == (8, 2 + 5)
    assert (near.strands, near.carried) == (9, 1)
