"""Laws of pieces with bind-offs, casts-on, parts, flat parts of tubes and left hands, by an independent reading."""

from __future__ import annotations

from hypothesis import given

from companion.knitting.strands.limits import Carry
from companion.knitting.strands.plan import plan_strands
from companion.knitting.strands.proof import fault_in
from tests import oracles
from tests.knitting.charts import limits
from tests.knitting.shaped import Shaped, shaped


@given(shaped(), limits())
def test_the_strands_are_the_fewest_with_the_least_carry_and_the_proof_holds(one: Shaped, carry: Carry) -> None:
    plan = plan_strands(one.rows(), carry)
    asked = carry.reach, carry.behind, carry.rest
    total = plan.strands.total
    assert (total.strands, total.carried) == (
        oracles.fewest_strands(one.plain(), *asked), oracles.least_carry(one.plain(), *asked)
    )  # fmt: skip
    assert not fault_in(plan.strands, carry, plan.proof)
