"""The written rows, worked on needles to the letter, come out as the chart: every yarn and face, every count."""

from __future__ import annotations

import pytest

from companion.knitting.strands.plan import plan_strands
from companion.plan.demo import demo_plans
from companion.plan.outline import mirrored_trouble
from companion.plan.read import load
from tests.simulator.charts import wanted
from tests.simulator.checking import as_listed, as_printed, from_chart, from_ledger, from_reckoning
from tests.simulator.words import Manner

PLANS = {path.stem: path for path in demo_plans()}


@pytest.mark.parametrize("manner", [Manner(), Manner(is_uk=True), Manner(is_mirrored=True)])
@pytest.mark.parametrize("name", PLANS)
def test_a_demo_comes_out_as_it_is_drawn(name: str, manner: Manner) -> None:
    piece = load(PLANS[name]).piece.for_hands(is_mirrored=manner.is_mirrored)
    if manner.is_mirrored and mirrored_trouble(piece.fabric):
        pytest.skip("left hands cannot work it, which the program says")
    strands, asked = plan_strands(piece.rows, piece.carry).strands, wanted(piece.fabric)
    printed = as_printed(piece, strands, asked, manner)
    assert list(from_chart(asked, printed)) == []
    listed = as_listed(piece, strands, asked)
    assert list(from_chart(asked, listed)) == []
    assert list(from_ledger(strands, listed)) == []
    assert list(from_reckoning(piece, strands, listed)) == []
    assert printed.needles.notes == listed.needles.notes == []
