"""The same keys, with a screen and without one, give the same journal."""

from __future__ import annotations

import re
from collections.abc import Callable, Sequence
from functools import partial
from pathlib import Path

import pytest

from companion.dialogue.knitter import Knitter
from companion.dialogue.listing import Listing
from companion.dialogue.opening import Start, open_plan
from companion.dialogue.sitting import Sitting
from companion.dialogue.speaking import HowMuch, Speaking
from companion.dialogue.telling import telling
from companion.plan.demo import demo_plans
from companion.plan.read import load
from companion.progress.events import Entry
from companion.progress.finishing import phase_of
from companion.progress.session import Phase
from companion.screens.app import RowsideApp
from companion.screens.finding import FindingScreen
from companion.screens.knitting import KnittingScreen
from companion.screens.picking import PickingScreen
from companion.screens.rowside import ASKING
from companion.settings import Settings
from companion.speech import sayable
from tests.dialogue.keyboard import Keyboard
from tests.dialogue.scenarios import OWN
from tests.knitting.words.test_every_step import ABBREVIATIONS
from tests.screens.at_the_needles import SWATCH, At, begun, opened, shelf, until

DEMOS = {path.stem: path for path in demo_plans()}


def journal(home: Path) -> dict[str, tuple[Entry, ...]]:
    """Every piece on a shelf with all that was done to it; not when."""
    pieces = shelf(home)
    return {card.name: pieces.contents(card.name).entries for card in pieces.cards()}


def in_first_size(plan: Path) -> Start:
    """Of a plan in sizes the first, so that nothing is asked."""
    return Start(size=next(iter(load(plan).sizes), ""))


def at_a_keyboard(home: Path, plan: Path, settings: Settings | None = None) -> Keyboard:
    """A plan's piece open without a screen."""
    knitter = Knitter(settings)
    return Keyboard(knitter, open_plan(knitter, shelf(home), plan, in_first_size(plan)))


async def typed(at: At, *bursts: Sequence[str]) -> None:
    """Keys on a screen, so many at once; what takes time is waited for."""
    for keys in bursts:
        is_finding = isinstance(at.app.screen, FindingScreen)
        await at.press(*keys)
        if is_finding:  # what was found is done when the asking for it is over
            await until(lambda: all(one.is_finished for one in at.app.workers if one.group == ASKING))
            await at.press()
        if isinstance(screen := at.app.screen, PickingScreen):
            await until(lambda screen=screen: not screen.listing.is_slow)
            await at.pilot.pause()


def to_the_finish(board: Keyboard, each: Callable[[Sitting], None] = lambda _: None) -> list[list[str]]:
    """Press the key for On, and in every list tick each line, until the piece is finished; the keys, those for one
    thing that is open together. ``each``: what is looked at before every press."""
    keys = [list[str]()]

    def press(*more: str) -> None:
        keys[-1].extend(more)
        board.press(*more)

    while phase_of(board.sitting.session) is not Phase.FINISHED:
        before = board.sitting.session
        each(board.sitting)
        press("space")
        if isinstance(listing := board.top.request, Listing):
            keys.append([])
            for _ in listing.table.rows:
                press(*["space"] * ("✓" not in listing.table.rows[board.top.at][0].text), "down")
            press("escape")
            keys.append([])
        assert board.sitting.session is not before, telling(before, board.sitting.terms).full
    return keys


def nothing_abbreviated_aloud(board: Keyboard, ways: tuple[HowMuch, ...]) -> Callable[[Sitting], None]:
    """Looks at all that the computer's speaker would be given."""
    aloud = {how: Speaking(board.sitting) for how in ways}

    def look(_: Sitting) -> None:
        for how, speaking in aloud.items():
            text = speaking.text(how)
            assert text
            assert re.search(ABBREVIATIONS, text) is None, text
            assert sayable(text).replace("-", "") == text.replace("-", ""), "nothing in it is left out"

    return look


@pytest.mark.parametrize(("demo", "mode"), [*((demo, "runs") for demo in DEMOS), ("swatch", "rows")])
def test_every_demo_is_worked_to_its_finish_without_a_screen(tmp_path: Path, demo: str, mode: str) -> None:
    """Run by run; row by row the other demos are worked in ``tests/lines/test_same_journal_by_lines.py``."""
    keys = worked_by_keys(tmp_path, demo, is_by_rows=mode == "rows")
    rows = load(DEMOS[demo]).piece.rows
    presses = sum(len(row.segments) for row in rows) if mode == "runs" else len(rows)
    assert keys.count("space") > presses


def worked_by_keys(home: Path, demo: str, *, is_by_rows: bool) -> list[str]:
    """Work a demo on a shelf to its finish without a screen, and leave it; the keys up to the finish. All that would
    be said aloud on the way is listened to: run by run in short and in full, row by row in numbers."""
    board, mode = at_a_keyboard(home, DEMOS[demo]), ["m"] * is_by_rows
    board.press(*mode)
    keys = to_the_finish(board, nothing_abbreviated_aloud(board, ("count",) if is_by_rows else ("short", "full")))
    assert telling(board.sitting.session, board.sitting.terms).act == "finished"
    board.press("q")
    assert not board.open
    return [*mode, *(key for those in keys for key in those)]


@pytest.mark.parametrize("demo", DEMOS)
async def test_a_screen_works_every_demo_to_the_same_journal(tmp_path: Path, demo: str) -> None:
    """From the first stitch to the finish, key by key."""
    without, on_screen = tmp_path / "without", tmp_path / "on_screen"
    board = at_a_keyboard(without, DEMOS[demo])
    keys = to_the_finish(board)
    board.press("q")
    start = in_first_size(DEMOS[demo])
    async with opened(partial(open_plan, shelf=shelf(on_screen), plan=DEMOS[demo], start=start), (60, 20)) as at:
        await typed(at, *keys, ["q"])
        assert not at.app.is_running
    assert journal(on_screen) == journal(without)


async def test_a_screen_shows_and_takes_ones_own_keys_and_not_the_usual_ones(tmp_path: Path) -> None:
    """What they do everywhere, the table of scenarios shows."""
    begun(tmp_path, row=24, runs=2)
    app = RowsideApp(partial(open_plan, shelf=shelf(tmp_path), plan=SWATCH), Settings(keys=OWN))
    async with app.run_test(size=(100, 30)) as pilot:
        await until(lambda: len(app.screen_stack) > 1)
        at = At(app, pilot)
        assert app.knitter.notice == ""
        await at.press("e")
        assert at.text.endswith("t woven in, or not v filter m map of the back o other order ? keys b back")
        await at.press("b")
        await at.press("ctrl+p")
        assert isinstance(app.screen, KnittingScreen)
        await at.press("f9")
        assert isinstance(app.screen, FindingScreen)
