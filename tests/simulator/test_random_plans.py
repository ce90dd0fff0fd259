"""Any plan, knitted as its rows are printed and as its steps are listed, comes out as it is drawn; strands, ends and
yarn are where and what the ledgers say. For more plans than are tried here: ``python -m tests.simulator.walk 20000``.
"""

from __future__ import annotations

from hypothesis import assume, given
from hypothesis import strategies as st

from tests.simulator.looking import Refused, look
from tests.simulator.plans import Drawn, plans


@given(plans(), st.booleans())
def test_a_random_plan_comes_out_as_it_is_drawn(drawn: Drawn, is_uk: bool) -> None:
    try:
        looked = look(drawn, is_uk=is_uk)
    except Refused:
        assume(False)
        return
    assert looked.faults == ()
