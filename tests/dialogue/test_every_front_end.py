"""One table of scenarios through every front end: the same journal but for times.

What the keyboard without a screen makes of the keys is what all the others are held to.
"""

from __future__ import annotations

import shutil
from collections.abc import Awaitable, Callable, Mapping
from functools import partial
from pathlib import Path

import pytest

from companion.dialogue.opening import open_plan
from companion.dialogue.sitting import Sitting
from companion.knitting.value import Record
from companion.progress import events as did
from companion.screens.app import RowsideApp
from companion.screens.knitting import KnittingScreen
from tests.dialogue.keyboard import Keyboard
from tests.dialogue.scenarios import SCENARIOS, Scenario
from tests.dialogue.test_same_journal import at_a_keyboard, journal, typed
from tests.lines.at_lines import as_lines
from tests.lines.at_lines import typed as typed_lines
from tests.page.at_page import as_presses, page_of, play
from tests.screens.at_the_needles import At, begun, shelf, until


class Done(Record):
    """What became of it: whether the piece ``is_left``, and the sitting, of a front end that can show it."""

    is_left: bool
    sitting: Sitting | None = None


async def on_a_screen(home: Path, scenario: Scenario) -> Done:
    """The keys pressed on the app's screens."""
    app = RowsideApp(partial(open_plan, shelf=shelf(home), plan=scenario.plan), scenario.settings)
    async with app.run_test(size=(100, 30)) as pilot:
        await until(lambda: len(app.screen_stack) > 1)
        await pilot.pause()
        await typed(At(app, pilot), *scenario.bursts)
        if not app.is_running:
            return Done(is_left=True)
        screen = app.screen
        assert isinstance(screen, KnittingScreen), "everything is answered"
        return Done(is_left=False, sitting=screen.sitting)


async def by_lines(home: Path, scenario: Scenario) -> Done:
    """The lines that a knitter would type for them. What the keys come to is found on a copy of the shelf."""
    copy = home.with_name("copy")
    shutil.copytree(home, copy)
    keys = [key for burst in scenario.bursts for key in burst]
    lines = list(as_lines(at_a_keyboard(copy, scenario.plan, scenario.settings), keys))
    talked = typed_lines(home, *lines, plan=scenario.plan, settings=scenario.settings)
    assert talked.unread == []
    assert talked.is_left or talked.said[-2], "every line is answered"
    return Done(talked.is_left)


async def by_page(home: Path, scenario: Scenario) -> Done:
    """What a knitter would press for them on the page, found on a copy of the shelf, too."""
    copy = home.with_name("copy")
    shutil.copytree(home, copy)
    keys = [key for burst in scenario.bursts for key in burst]
    presses = list(as_presses(at_a_keyboard(copy, scenario.plan, scenario.settings), keys))
    with page_of(home, scenario.plan, settings=scenario.settings) as page:
        play(page, presses)
        assert not page.asked, "everything is answered"
        return Done(page.is_left)


FRONT_ENDS: Mapping[str, Callable[[Path, Scenario], Awaitable[Done]]] = {
    "screen": on_a_screen, "lines": by_lines, "page": by_page,
}
"""A new one is a line here."""


def at_keys(home: Path, scenario: Scenario) -> Keyboard:
    """The keys pressed where there is no screen."""
    board = at_a_keyboard(home, scenario.plan, scenario.settings)
    for burst in scenario.bursts:
        board.press(*burst)
    return board


@pytest.mark.parametrize("front_end", FRONT_ENDS)
@pytest.mark.parametrize("name", SCENARIOS)
async def test_whatever_is_asked_and_answered_every_front_end_saves_the_same(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, name: str, front_end: str
) -> None:
    without, here, scenario = tmp_path / "without", tmp_path / "here", SCENARIOS[name]
    begun(without, scenario.plan, scenario.row, scenario.runs)
    shutil.copytree(without, here)
    monkeypatch.setenv("ROWSIDE_HOME", str(without))
    board = at_keys(without, scenario)
    monkeypatch.setenv("ROWSIDE_HOME", str(here))
    done = await FRONT_ENDS[front_end](here, scenario)
    assert journal(here) == journal(without)
    assert done.is_left == (not board.open)
    if done.sitting is not None:
        assert board.top.request is board.sitting
        assert (done.sitting.notice, done.sitting.view) == (board.sitting.notice, board.sitting.view)
        assert done.sitting.session == board.sitting.session


def test_the_scenarios_reach_every_kind_of_action_that_a_row_in_work_allows(tmp_path: Path) -> None:
    """But for those at the end of all, which the demos reach."""
    done = set[type]()
    for number, scenario in enumerate(SCENARIOS.values()):
        home = tmp_path / str(number)
        name = begun(home, scenario.plan, scenario.row, scenario.runs)
        known = len(journal(home)[name])
        at_keys(home, scenario)
        entries = journal(home)[name][known:]
        done |= {type(event) for entry in entries for event in entry}
    wanted = {
        did.Worked, did.WentBack, did.Unpicked, did.RippedBack, did.Broke, did.Noted, did.Wove, did.Unwove,
        did.Mistook, did.MissedCross, did.Limited, did.Planned, did.JoinedNew, did.WentOn,
    }  # fmt: skip
    assert done >= wanted, wanted - done
