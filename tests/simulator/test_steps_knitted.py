"""The steps of the demo plans, knitted one by one from their JSON: the chart, where every strand and end hangs after
every row, the yarn of every strand. And lengths that end in a run, which no printed row knows."""

from __future__ import annotations

import json
from collections.abc import Callable
from dataclasses import replace
from typing import Any

import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from companion.knitting.cloth.rows import Place
from companion.knitting.hands.row_ends import row_end
from companion.knitting.hands.runs import row_runs
from companion.knitting.hands.steps import Shape, Slip
from companion.knitting.reckoning.quantities import Rates, yarn_of
from companion.knitting.strands.strands import Break, Strands
from companion.knitting.words import Terms
from companion.knitting.words.steps import Register, tell
from companion.pages import as_json
from tests.simulator import steps
from tests.simulator.charts import wanted
from tests.simulator.checking import as_listed, from_chart, from_corners, from_ledger, from_reckoning
from tests.simulator.looking import Refused, piece_of
from tests.simulator.plans import Drawn, plans
from tests.simulator.stitches import CannotBeDone
from tests.simulator.test_written_rows import PLANS, planned
from tests.simulator.words import NotUnderstood
from tests.simulator.working import knit


@pytest.mark.parametrize("is_mirrored", [False, True], ids=["right", "left"])
@pytest.mark.parametrize("name", PLANS)
def test_the_steps_of_a_demo_come_out_as_its_chart_its_strands_its_ends_and_its_yarn(
    name: str, is_mirrored: bool
) -> None:
    piece, strands = planned(name, is_mirrored=is_mirrored)
    asked = wanted(piece.fabric)
    knitted = as_listed(piece, strands, asked)
    assert list(from_chart(asked, knitted)) == []
    assert list(from_ledger(strands, knitted)) == []
    assert list(from_corners(strands, knitted)) == []
    assert list(from_reckoning(piece, strands, knitted)) == []
    assert knitted.needles.notes == []
    for index, row in enumerate(knitted.rows):
        assert row.needles == tuple((run.left, run.right) for run in row_runs(strands, index))


@pytest.mark.parametrize("name", PLANS)
def test_every_step_of_a_demo_has_words_in_every_register_and_a_cost(name: str) -> None:
    piece, strands = planned(name, is_mirrored=False)
    rates = Rates(piece)
    registers: tuple[Register, ...] = ("full", "short", "verb", "spoken")
    done = dict.fromkeys(step for index in range(len(piece.rows)) for step in row_end(strands, index))
    for index in range(len(piece.rows)):
        done |= dict.fromkeys(step for run in row_runs(strands, index, piece.catching) for step in run.steps)
    for step in done:
        assert yarn_of(step, rates) >= 0
        for terms in (Terms(), Terms("uk", True)):
            assert all(tell(step, register, terms) for register in registers), step


@settings(max_examples=settings().max_examples // 4)
@given(plans(), st.data())
def test_lengths_that_end_in_a_run_leave_their_ends_there(drawn: Drawn, data: st.DataObject) -> None:
    try:
        piece, strands = piece_of(drawn)
    except Refused:
        assume(False)
        return
    piece = replace(piece, is_trapping=False)
    places = st.sampled_from(list(strands.rows.places()))
    broken: list[Break] = []
    for place in data.draw(st.lists(places, min_size=1, max_size=3, unique=True)):
        most = strands.rows.segment(place).stitches - 1
        if most and not _is_shaped(place, strands):
            broken.append(Break(place, data.draw(st.integers(1, most)), data.draw(st.booleans())))
    assume(broken)
    strands = replace(strands, breaks=tuple(sorted(broken)))
    knitted = as_listed(piece, strands, drawn.rows)
    assert list(from_ledger(strands, knitted)) == []
    assert list(from_corners(strands, knitted)) == []
    ends = [tail for tail in knitted.needles.tails if tail.after]
    assert len(ends) == 2 * sum(not each.is_spliced for each in broken)


def _is_shaped(place: Place, strands: Strands) -> bool:
    """Whether the run makes or loses stitches, so that a break in it may fall among what one step makes."""
    return any(isinstance(step, Shape | Slip) for step in row_runs(strands, place.row)[place.segment].inside)


Change = Callable[[list[dict[str, Any]]], None]


def _swap(one: int, other: int) -> Change:
    def change(told: list[dict[str, Any]]) -> None:
        told[one], told[other] = told[other], told[one]

    return change


def _without(name: str) -> Change:
    def change(told: list[dict[str, Any]]) -> None:
        told[:] = [step for step in told if step["step"] != name]

    return change


def _and(step: dict[str, Any]) -> Change:
    def change(told: list[dict[str, Any]]) -> None:
        told.insert(next(at for at, one in enumerate(told) if one.get("segment") == step["segment"]), step)

    return change


def _with(name: str, **values: object) -> Change:
    def change(told: list[dict[str, Any]]) -> None:
        next(step for step in told if step["step"] == name).update(values)

    return change


@pytest.mark.parametrize(
    ("row", "change", "why"),
    [
        (5, _without("cross"), "0 crosses into run 2"),
        (5, _without("join"), "told to have ready"),
        (8, _without("turn"), "told as a RS row, and the WS faces"),
        (4, _without("have ready"), "told to have ready"),
        (6, _and({"step": "steady", "yarn": "tide", "side": "WS", "segment": 1}), "told to steady"),
        (6, _with("work", hands=[["p", 12]]), ""),
        (15, _with("fetch", on_needle=2), "tide is told to hang -2 ahead, and hangs -3 ahead"),
        (15, _with("fetch", stitches=2), "tide does not pass 2"),
        (15, _with("fetch", rows=1), "rested 1, 0"),
        (23, _without("cut"), "not worked, cut or left"),
        (8, _with("count", more=1), "1 more are told, 0 are"),
        (8, _with("turn", tip="toward"), "the tip toward you"),
        (32, _with("bind off", stitches=23), "23 are told to be bound off"),
        (32, _with("bind off", strand=2), "strand 2 is not in hand"),
    ],
)
def test_a_wrong_step_cannot_be_worked(row: int, change: Change, why: str) -> None:
    piece, strands = planned("swatch", is_mirrored=False)
    told = json.loads("".join(as_json.rows(piece, strands, 1, len(piece.rows))))
    change(told["rows"][row - 1]["steps"])
    asked = wanted(piece.fabric)
    if row == len(piece.rows):
        told["finishing"][0] = next(step for step in told["rows"][-1]["steps"] if step["step"] == "bind off")
    if not why:
        assert list(from_chart(asked, knit(steps.read(told), is_mirrored=False)))
        return
    with pytest.raises(CannotBeDone, match=why):
        knit(steps.read(told), is_mirrored=False)


@pytest.mark.parametrize(
    ("row", "change"),
    [
        (5, _swap(0, 1)),
        (5, _with("work", stitches=11)),
        (5, _with("cross", step="twist")),
        (5, _with("cross", why="so")),
    ],
)
def test_a_step_that_is_not_known_is_refused(row: int, change: Change) -> None:
    piece, strands = planned("swatch", is_mirrored=False)
    told = json.loads("".join(as_json.rows(piece, strands, 1, len(piece.rows))))
    change(told["rows"][row - 1]["steps"])
    with pytest.raises((NotUnderstood, KeyError)):
        steps.read(told)
