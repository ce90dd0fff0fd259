"""The screen at a piece that another window writes shows what that one does; and a pedal that is held down."""

from __future__ import annotations

from functools import partial
from pathlib import Path

from textual import events

from companion.dialogue.opening import open_plan
from companion.dialogue.sitting import FOLLOWED_EVERY
from companion.progress.actions import On, RipBack
from companion.screens.knitting import KnittingScreen
from companion.settings import Settings
from tests.screens.at_the_needles import SWATCH, At, begun, on_disk, opened, shelf, until, where


def screen_of(at: At) -> KnittingScreen:
    screen = at.app.screen
    assert isinstance(screen, KnittingScreen)
    return screen


async def test_what_another_window_does_is_shown_by_itself(tmp_path: Path) -> None:
    begun(tmp_path, row=7)
    with shelf(tmp_path).resume("Harbour practice swatch") as writer:
        async with opened(partial(open_plan, shelf=shelf(tmp_path), plan=SWATCH), (100, 30)) as at:
            writer.do(On())
            await until(lambda: screen_of(at).sitting.session.done == 1)
            await at.pilot.pause()
            assert "Knit 12 in tide." in at.text
            writer.do(RipBack(2))
            await until(lambda: screen_of(at).sitting.session.row == 1)
            await at.pilot.pause()
            assert "It is ripped back to row 2." in at.text
            sitting = screen_of(at).sitting
            await at.press("e")
            writer.do(On())
            await at.pilot.pause(2 * FOLLOWED_EVERY)
            assert "It is ripped" in sitting.notice, "what lies under the list waits"
            await at.press("escape")
            await until(lambda: screen_of(at).sitting.session.row == 2)
            writer.close()
            shelf(tmp_path).remove("Harbour practice swatch")
            await until(lambda: "put away, moved or deleted" in screen_of(at).sitting.notice)


async def test_a_pedal_that_is_held_down_is_one_step_on_a_screen(tmp_path: Path) -> None:
    begun(tmp_path, row=21)
    async with opened(partial(open_plan, shelf=shelf(tmp_path), plan=SWATCH)) as at:
        screen = screen_of(at)
        screen.sitting.knitter.take_up(Settings(pedal="on"))
        for seconds in (0.0, 0.03, 0.06, 0.09, 0.5):
            key = events.Key("space", " ")
            key.time = 1000 + seconds
            screen.on_key(key)
        await until(lambda: where(on_disk(tmp_path)) == (21, 2))
        await at.press()
    assert where(on_disk(tmp_path)) == (21, 2)
