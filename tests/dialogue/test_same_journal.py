"""The same keys, with a screen and without one, give the same journal."""

from __future__ import annotations

import re
from collections.abc import Callable, Sequence
from functools import partial
from pathlib import Path

import pytest

from companion.dialogue.knitter import Knitter
from companion.dialogue.listing import Listing
from companion.dialogue.opening import open_plan
from companion.dialogue.sitting import Sitting
from companion.dialogue.speaking import HowMuch, Speaking
from companion.dialogue.telling import telling
from companion.plan.demo import demo_plans
from companion.plan.read import load
from companion.progress import events as did
from companion.progress.actions import AtRow, Weave
from companion.progress.ends import all_ends
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
from tests.knitting.words.test_every_step import ABBREVIATIONS
from tests.screens.at_the_needles import SWATCH, At, begun, opened, shelf, until, work

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


@pytest.mark.parametrize("demo", DEMOS)
@pytest.mark.parametrize("mode", [[], ["m"]], ids=["run by run", "row by row"])
def test_every_demo_is_worked_to_its_finish_without_a_screen(tmp_path: Path, demo: str, mode: list[str]) -> None:
    board = at_a_keyboard(tmp_path, DEMOS[demo])
    board.press(*mode)
    keys = to_the_finish(board, nothing_abbreviated_aloud(board, ("count", "full") if mode else ("short", "full")))
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
    async with opened(partial(open_plan, shelf=shelf(on_screen), plan=DEMOS[demo]), (60, 20)) as at:
        await typed(at, *keys, ["q"])
        assert not at.app.is_running
    assert journal(on_screen) == journal(without)


def take_up_late(home: Path, plan: Path) -> None:
    """A piece with few rows to come, and few ends."""
    with shelf(home).start(load(plan), plan) as knitting:
        work(knitting, AtRow(len(knitting.session.rows) - LAST_ROWS))
        work(knitting, *(Weave(end) for end, state in all_ends(knitting.session) if state == "ready"))


SCENARIOS: dict[str, tuple[list[str], ...]] = {
    "a run on, back, unpicked": (["space", "space", "backspace", "u", "space"],),
    "forward to a row": (["g"], ["2", "5", "enter"]),
    "to a row that is not there": (["g"], ["9", "9", "enter"], ["space"]),
    "left unanswered": (["r"], ["escape"], ["n"], ["escape"], ["g"], ["enter"], ["space"]),
    "ripped back": (["r"], ["1", "8", "enter"], ["y"], ["space"]),
    "not ripped back after all": (["r"], ["1", "8", "enter"], ["n"], ["w"]),
    "a note, and another in its place": (["n"], [*"loose", "enter"], ["n"], [*["backspace"] * 5, *"ok", "enter"]),
    "a length ended, spliced": (["x"], ["enter"], ["1", "enter"], ["space"]),
    "a length ended, joined": (["x"], ["down", "enter"], ["1", "enter"], ["space"]),
    "wrong stitches to sew over": (
        ["x"], ["end", "enter"], ["down", "left", "space", "left", "space", "enter"], ["enter"], ["enter"],
    ),
    "wrong stitches to rip to": (["x"], ["end", "enter"], ["down", "enter"], ["enter"], ["end", "enter"], ["u"]),
    "a cross that was missed": (["x"], ["end", "enter"], ["enter"], ["end", "enter"], ["space"]),
    "no mistake after all": (["x"], ["end", "enter"], ["down", "escape"], ["x"], ["escape"], ["space"]),
    "where am I, with and without an answer": (["i"], [*"z", "enter"], ["escape"], ["i"], ["escape"], ["space"]),
    "ends woven in, filtered, and not after all": (
        ["e"], ["space", "down", "space", "f", "f", "end", "space", "f", "m", "m", "escape"], ["space"],
    ),
    "whether a strand lasts": (["s"], ["enter"], ["4", "0", "enter"], ["escape"], ["escape"], ["space"]),
    "nothing is sewn on here": (["d"], ["space"]),
    "another technique": (["t"], ["end", "enter"], ["space"]),
    "another of every technique": (["t"], ["g"], ["end", "enter"], ["space"]),
    "other settings, tails laid in": (["comma"], [*["down"] * 4, "enter", "escape"], ["w", "w", "w"]),
    "every way to look at it": (["m", "c", "z", "h", "up", "down", "left", "right", "home", "l", "c", "space"],),
    "help is read": (["f1"], ["escape"], ["space"]),
    "a deed is found by its name and done": (["f1"], [*"whole row", "enter"], ["ctrl+p"], [*"unpick", "enter"]),
    "found in a list": (["e"], ["question_mark"], [*"fabric", "enter"], ["f1"], ["escape"], ["escape"], ["space"]),
    "the lines of a list in other orders": (["s"], ["o", "o", "o", "o", "escape"], ["e"], ["o", "space", "escape"]),
    "stopped in mid-row, or not": (["q"], ["n"], ["space"], ["q"], ["y"]),
    "ends that are named on leaving": (
        ["g"], ["2", "6", "enter"], ["q"], ["n"], ["e"], ["f"], ["space", "escape"], ["w"],
    ),
}  # fmt: skip
"""Keys pressed at run 3 of row 21 of the swatch, a row of 4 runs, those for each thing that is open together."""


@pytest.mark.parametrize("name", SCENARIOS)
async def test_whatever_is_asked_and_answered_a_screen_saves_the_same(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, name: str
) -> None:
    without, on_screen = tmp_path / "without", tmp_path / "on_screen"
    for home in (without, on_screen):
        begun(home, row=21, runs=2)
    monkeypatch.setenv("ROWSIDE_HOME", str(without))
    board = at_a_keyboard(without, SWATCH)
    for keys in SCENARIOS[name]:
        board.press(*keys)
    monkeypatch.setenv("ROWSIDE_HOME", str(on_screen))
    async with opened(partial(open_plan, shelf=shelf(on_screen), plan=SWATCH), (100, 30)) as at:
        await typed(at, *SCENARIOS[name])
        assert at.app.is_running == bool(board.open)
        if board.open:
            assert isinstance(screen := at.app.screen, KnittingScreen), "everything is answered"
            assert board.top.request is board.sitting
            assert (screen.sitting.notice, screen.sitting.view) == (board.sitting.notice, board.sitting.view)
            assert screen.sitting.session == board.sitting.session
    assert journal(on_screen) == journal(without)


def test_the_scenarios_reach_every_kind_of_action_that_a_row_in_work_allows(tmp_path: Path) -> None:
    """But for those at the end of all, which the demos reach, and for joins of other strands, which need two of a
    yarn side by side."""
    done = set[type]()
    for number, scenario in enumerate(SCENARIOS.values()):
        home = tmp_path / str(number)
        begun(home, row=21, runs=2)
        board = at_a_keyboard(home, SWATCH)
        known = len(journal(home)["Harbour practice swatch"])
        for keys in scenario:
            board.press(*keys)
        entries = journal(home)["Harbour practice swatch"][known:]
        done |= {type(event) for entry in entries for event in entry}
    wanted = {
        did.Worked, did.WentBack, did.Unpicked, did.RippedBack, did.Broke, did.Noted, did.Wove, did.Unwove,
        did.Mistook, did.MissedCross, did.Limited, did.Planned,
    }  # fmt: skip
    assert done >= wanted, wanted - done


async def test_ones_own_keys_reach_lists_questions_and_what_is_read(tmp_path: Path) -> None:
    """Each is pressed in place of the usual one, which does nothing there any more."""
    own = {
        "tick": ("t",), "filter": ("v",), "leave": ("b",), "yes": ("j",), "no": ("k",), "put_away": ("p",),
        "answer": ("f5",), "leave_it": ("f6",), "mark": ("y",), "palette": ("f9",),
    }  # fmt: skip
    bursts = (
        ["e"], ["space", "t", "f", "v", "t", "escape", "b"], ["i"], ["z", "f5"], ["escape", "space", "p"],
        ["r"], ["1", "8", "enter", "f5"], ["y", "escape", "k"], ["n"], ["escape", "f6"],
        ["x"], ["end", "f5"], ["space", "y", "left", "y", "enter"], ["f5"], ["f6"], ["space"],
    )  # fmt: skip
    without, on_screen = tmp_path / "without", tmp_path / "on_screen"
    for home in (without, on_screen):
        begun(home, row=24, runs=2)
    board = at_a_keyboard(without, SWATCH, Settings(keys=own))
    assert board.knitter.notice == ""
    for keys in bursts:
        board.press(*keys)
    assert board.top.request is board.sitting
    app = RowsideApp(partial(open_plan, shelf=shelf(on_screen), plan=SWATCH), Settings(keys=own))
    async with app.run_test(size=(100, 30)) as pilot:
        await until(lambda: len(app.screen_stack) > 1)
        at = At(app, pilot)
        await at.press("e")
        assert at.text.endswith("t woven in, or not v filter m map of the back o other order ? keys b back")
        await at.press("b")
        await typed(at, *bursts)
        assert isinstance(app.screen, KnittingScreen)
        await at.press("ctrl+p")
        assert isinstance(app.screen, KnittingScreen)
        await at.press("f9")
        assert isinstance(app.screen, FindingScreen)
    assert journal(on_screen) == journal(without)
