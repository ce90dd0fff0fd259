"""The written rows, worked on needles to the letter, come out as the chart: every yarn and face, every count."""

from __future__ import annotations

import pytest

from companion.knitting.piece import Piece
from companion.knitting.strands.plan import plan_strands
from companion.knitting.words import Terms
from companion.pages import written
from companion.plan.demo import demo_plans
from companion.plan.read import load
from tests.simulator.charts import Wanted, differences, wanted
from tests.simulator.reading import Manner, read
from tests.simulator.working import Knitted, knit


def worked(piece: Piece, manner: Manner) -> Knitted:
    terms = Terms("uk" if manner.is_uk else "us", manner.is_mirrored, worn=piece.worn)
    lines = written.whole(piece, plan_strands(piece.rows, piece.carry).strands, terms)
    column = min(wanted(piece.fabric)[0].cells)
    return knit(read(list(lines), manner), is_mirrored=manner.is_mirrored, column=column)


def agree(asked: tuple[Wanted, ...], knitted: Knitted) -> None:
    assert [(row.part, row.number, row.kind == "Round", row.side) for row in knitted.rows] == [
        (row.part, row.number, row.is_round, row.side) for row in asked
    ]
    for want, row in zip(asked, knitted.rows, strict=True):
        assert list(differences(want, row.cells)) == [], f"{want.part} {want.number}"


PLANS = {path.stem: path for path in demo_plans()}


@pytest.mark.parametrize("manner", [Manner(), Manner(is_uk=True), Manner(is_mirrored=True)])
@pytest.mark.parametrize("name", PLANS)
def test_a_demo_comes_out_as_it_is_drawn(name: str, manner: Manner) -> None:
    piece = load(PLANS[name]).piece.for_hands(is_mirrored=manner.is_mirrored)
    knitted = worked(piece, manner)
    agree(wanted(piece.fabric), knitted)
    assert knitted.needles.notes == []
