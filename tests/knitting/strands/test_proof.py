"""The checker of plans and their proofs lets nothing through that is not so."""

from __future__ import annotations

from hypothesis import assume, given
from hypothesis import strategies as st

from companion.knitting.cloth.rows import Place
from companion.knitting.strands.limits import Carry
from companion.knitting.strands.plan import plan_strands
from companion.knitting.strands.proof import fault_in
from companion.knitting.strands.strands import Past, Strands
from tests import oracles
from tests.knitting.charts import Chart, charts, drawn, limits
from tests.knitting.strands.test_strands import legal, moves_of, totals

small = charts(max_rows=6, max_columns=8, ways=("flat", "round", "mixed"))


def with_strand(strands: Strands, place: Place, strand: int) -> Strands:
    rows = [list(numbers) for numbers in strands.strand_of]
    rows[place.row][place.segment] = strand
    return Strands(strands.rows, tuple(map(tuple, rows)))


@given(small, limits(), st.data())
def test_another_strand_for_one_segment_is_found_out_unless_it_is_as_good(
    chart: Chart, carry: Carry, data: st.DataObject
) -> None:
    plan = plan_strands(chart.rows(), carry)
    strands = plan.strands
    place = data.draw(st.sampled_from(list(strands.rows.places())))
    other = data.draw(st.sampled_from([*strands.first, len(strands.first) + 1]))
    assume(other != strands.at(place))
    changed = with_strand(strands, place, other)
    if not fault_in(changed, carry, plan.proof):
        assert oracles.most_moves(legal(chart, carry)) == len(moves_of(changed))
        assert totals(chart, changed, carry) == totals(chart, strands, carry)


@given(small, limits(), st.data())
def test_a_proof_with_one_thing_changed_is_found_out(chart: Chart, carry: Carry, data: st.DataObject) -> None:
    plan = plan_strands(chart.rows(), carry)
    proof = plan.proof
    assume(proof.exits or proof.entries)
    kind = data.draw(st.sampled_from(["exit", "entry", "exit price", "entry price", "no price", "dear"]))
    place = data.draw(st.sampled_from(list(plan.strands.rows.places())))
    by = data.draw(st.sampled_from([-2, -1, 1, 2]))
    match kind:
        case "exit":
            proof = proof._replace(exits=proof.exits ^ {place})
        case "entry":
            proof = proof._replace(entries=proof.entries ^ {place})
        case "exit price":
            assume(place in {origin for origin, _ in moves_of(plan.strands)})
            proof = proof._replace(exit_prices={**proof.exit_prices, place: proof.exit_prices[place] + by})
        case "entry price":
            proof = proof._replace(entry_prices={**proof.entry_prices, place: proof.entry_prices[place] + by})
        case "no price":
            proof = proof._replace(exit_prices={u: price for u, price in proof.exit_prices.items() if u != place})
        case _:
            proof = proof._replace(dear=0)
    assert fault_in(plan.strands, carry, proof)


def test_a_plan_with_a_strand_too_many_has_no_proof() -> None:
    rows = drawn("ss", "ss").rows()
    plan = plan_strands(rows, Carry(3))
    wasteful = Strands(rows, ((1,), (2,)))
    assert fault_in(plan.strands, Carry(3), plan.proof) == ""
    assert fault_in(wasteful, Carry(3), plan.proof) == "1 exits and entries for 0 moves made"


def test_a_strand_must_be_dearer_than_all_that_could_be_carried_instead() -> None:
    """Of two runs in two yarns no move leads to either: both prices are what a strand costs, and that is nothing."""
    plan = plan_strands(drawn("s", "b").rows(), Carry(3))
    proof = plan.proof._replace(entry_prices=dict.fromkeys(plan.proof.entry_prices, 0), dear=0)
    assert fault_in(plan.strands, Carry(3), proof) == "a strand too many is not dear enough"


def test_a_move_beyond_the_limits_is_told() -> None:
    rows = drawn("bss", "ssb").rows()
    plan = plan_strands(rows, Carry(3))
    assert fault_in(plan.strands, Carry(3), plan.proof) == ""
    told = fault_in(plan.strands, Carry(1), plan.proof)
    assert told.startswith("the strand may not go from Place(row=0,")


def test_what_was_worked_is_not_worked_otherwise() -> None:
    rows = drawn("ss", "ss").rows()
    plan = plan_strands(rows, Carry(3))
    assert fault_in(plan.strands, Carry(3), plan.proof, Past(((2,),))) == "row 0 is not worked as it was"
