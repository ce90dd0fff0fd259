"""Every known fault by its smallest plan. A test that passes here is a fault mended: take it from the list."""

from __future__ import annotations

import pytest

from companion.plan.read import load_text
from tests.simulator.charts import wanted
from tests.simulator.known import KNOWN, Known
from tests.simulator.looking import look
from tests.simulator.plans import HEAD, Drawn


@pytest.mark.xfail(reason="known, not mended yet")
@pytest.mark.parametrize("known", KNOWN, ids=lambda known: known.kind)
def test_a_known_fault_is_mended(known: Known) -> None:
    text = "\n".join([*HEAD, "symbols: {a: sand, b: brick}", *known.more, "rows:", known.rows])
    asked = wanted(load_text(text, "quay.yaml", {}).piece.fabric)
    drawn = Drawn(text, asked, is_mirrored=False, is_trapping=known.is_trapping, shaping=0, has_slipped_edges=False)
    assert [fault for fault in look(drawn).faults if fault.kind == known.kind] == []
