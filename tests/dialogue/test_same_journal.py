"""The same keys, with a screen and without one, give the same journal."""

from __future__ import annotations

from collections.abc import Sequence
from functools import partial
from pathlib import Path

import pytest

from companion.dialogue.knitter import Knitter
from companion.dialogue.listing import Listing
from companion.dialogue.opening import open_plan
from companion.dialogue.telling import telling
from companion.plan.demo import demo_plans
from companion.plan.read import load
from companion.progress.actions import AtRow, Weave
from companion.progress.ends import all_ends
from companion.progress.events import Entry
from companion.progress.finishing import is_finished
from companion.screens.picking import PickingScreen
from companion.settings import Settings
from tests.dialogue.keyboard import Keyboard
from tests.screens.at_the_needles import At, opened, shelf, until, work

DEMOS = {path.stem: path for path in demo_plans()}
WHOLE = ("swatch", "wrist-warmer-left")
"""Demos that a screen works from the first stitch on; the others it takes up before their last rows, with every end
woven in that is ready there. Without a screen every demo is worked from the first stitch."""

LAST_ROWS = 8


def journal(home: Path) -> dict[str, tuple[Entry, ...]]:
    """Every piece on a shelf with all that was done to it; not when."""
    pieces = shelf(home)
    return {card.name: pieces.contents(card.name).entries for card in pieces.cards()}


def at_a_keyboard(home: Path, plan: Path, settings: Settings | None = None) -> Keyboard:
    """A plan's piece open without a screen."""
    knitter = Knitter(settings)
    return Keyboard(knitter, open_plan(knitter, shelf(home), plan))


async def typed(at: At, *bursts: Sequence[str]) -> None:
    """Keys on a screen, so many at once; what takes time is waited for."""
    for keys in bursts:
        await at.press(*keys)
        if isinstance(screen := at.app.screen, PickingScreen):
            await until(lambda screen=screen: not screen.listing.is_slow)
            await at.pilot.pause()


def to_the_finish(board: Keyboard) -> list[list[str]]:
    """Press the key for On, and in every list tick each line, until the piece is finished; the keys, those for one
    thing that is open together."""
    keys = [list[str]()]

    def press(*more: str) -> None:
        keys[-1].extend(more)
        board.press(*more)

    while not is_finished(board.sitting.session):
        before = board.sitting.session
        press("space")
        if isinstance(listing := board.top.request, Listing):
            keys.append([])
            for _ in listing.lines:
                press(*["space"] * ("✓" not in listing.lines[board.top.at]), "down")
            press("escape")
            keys.append([])
        assert board.sitting.session is not before, telling(before, board.sitting.terms).full
    return keys


@pytest.mark.parametrize("demo", DEMOS)
@pytest.mark.parametrize("mode", [[], ["m"]], ids=["run by run", "row by row"])
def test_every_demo_is_worked_to_its_finish_without_a_screen(tmp_path: Path, demo: str, mode: list[str]) -> None:
    board = at_a_keyboard(tmp_path, DEMOS[demo])
    board.press(*mode)
    keys = to_the_finish(board)
    rows = load(DEMOS[demo]).piece.rows
    presses = sum(len(row.segments) for row in rows) if not mode else len(rows)
    assert sum(each.count("space") for each in keys) > presses
    assert telling(board.sitting.session, board.sitting.terms).act == "finished"
    board.press("q")
    assert not board.open


@pytest.mark.parametrize("demo", DEMOS)
async def test_a_screen_works_every_demo_to_the_same_journal(tmp_path: Path, demo: str) -> None:
    without, on_screen = tmp_path / "without", tmp_path / "on_screen"
    if demo not in WHOLE:
        for home in (without, on_screen):
            take_up_late(home, DEMOS[demo])
    board = at_a_keyboard(without, DEMOS[demo])
    keys = to_the_finish(board)
    board.press("q")
    async with opened(partial(open_plan, shelf=shelf(on_screen), plan=DEMOS[demo]), (100, 30)) as at:
        await typed(at, *keys, ["q"])
        assert not at.app.is_running
    assert journal(on_screen) == journal(without)


def take_up_late(home: Path, plan: Path) -> None:
    """A piece with few rows to come, and few ends."""
    with shelf(home).start(load(plan), plan) as knitting:
        work(knitting, AtRow(len(knitting.session.rows) - LAST_ROWS))
        work(knitting, *(Weave(end) for end, state in all_ends(knitting.session) if state == "ready"))
