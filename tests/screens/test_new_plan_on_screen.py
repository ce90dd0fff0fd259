"""A plan by questions on the screen: in a list, in a field, in chips; and by the mouse alone on the smallest one."""

from __future__ import annotations

from contextlib import AbstractAsyncContextManager
from functools import partial
from pathlib import Path
from typing import Any

import pytest
from at_the_needles import At, on_disk, opened, shelf
from test_touch import again, click_key
from textual import events
from textual.screen import Screen
from textual.widgets import OptionList

from companion.dialogue.basket import new_here
from companion.dialogue.new.asked import COLOURS
from companion.plan.read import load
from companion.screens.asking import AskWords, Choose
from companion.screens.chips import ACROSS, CELLS, Chips
from companion.screens.knitting import KnittingScreen
from companion.screens.plain_parts import PlainInput
from tests.dialogue.new_sources import chosen, lay

SMALL, USUAL = (40, 15), (80, 24)


@pytest.fixture(autouse=True)
def here(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """In the folder of this test."""
    monkeypatch.chdir(tmp_path)


def asked(folder: Path, size: tuple[int, int] = USUAL) -> AbstractAsyncContextManager[At]:
    """The app where a plan is asked for."""
    return opened(partial(new_here, shelf=shelf(folder)), size)


async def keep(at: At, until: str) -> None:
    """Enter at every question up to the one that says so."""
    while until not in at.text:
        await at.press("enter")


async def answer(at: At, text: str) -> None:
    """Other words in the place of those that stand there."""
    at.app.screen.query_one(PlainInput).value = ""
    await at.type(text)


async def test_a_border_round_written_rows_is_asked_for_on_the_screen_as_without_one(tmp_path: Path) -> None:
    one, other = tmp_path / "one", tmp_path
    one.mkdir()
    by_keys = chosen(one, "Written rows")
    by_keys.until("A border")
    by_keys.choose("Garter")
    by_keys.choose("All round")
    by_keys.type("3")
    by_keys.type("2")
    by_keys.choose("brick")
    lay(other, "Written rows")
    async with asked(tmp_path, SMALL) as at:
        await at.press("end", "enter")
        await keep(at, "A border")
        is_whole(at.app.screen)
        await at.press("down", "enter", "enter")
        await answer(at, "3")
        await answer(at, "2")
        await at.press("down", "enter")
        await keep(at, "is written")
    assert load(other / "buoy.yaml").text == by_keys.finish().text


def is_whole(screen: Screen[Any]) -> None:
    """A question's keys stand within its frame, and that within the screen."""
    box, foot = screen.query_one(".question, .reading").region, screen.query_one("#foot").region
    assert box.contains_region(foot)
    assert foot.bottom < box.bottom <= screen.size.height


async def test_by_the_mouse_alone_a_panel_is_made_and_knitted_on_the_smallest_screen(tmp_path: Path) -> None:
    async with asked(tmp_path, SMALL) as at:
        while not isinstance(at.app.screen, KnittingScreen):
            screen = at.app.screen
            is_whole(screen)
            if isinstance(screen, AskWords) and screen.chips and "sand" in at.text:
                await again(at, screen.chips, 2 * CELLS + 1, 3)
                assert screen.field.value == "seagreen"
                assert "seagreen #2e8b57 Or click one. enter" in at.text, "no word of it is cut off"
            if isinstance(screen, Choose):
                is_last = "is written" in at.text
                await again(at, screen.options, 2, 1 if is_last else screen.options.highlighted or 0)
            else:
                await click_key(at, "answer")
        for _ in range(6):
            await again(at, "now")
        assert on_disk(tmp_path, "Quay panel").rows_done >= 3
    assert load(tmp_path / "quay-panel.yaml").piece.yarns[0].colour == "#2e8b57"  # in CSS Color Module Level 4, 6.1


async def test_the_rest_is_kept_by_a_key_or_a_click_in_a_field_and_in_a_list(tmp_path: Path) -> None:
    async with asked(tmp_path) as at:
        assert "keep the rest" not in at.text
        await at.press("enter")
        assert "F3 keep the rest" in at.text
        await answer(at, "Slip")
        await at.press("f2", "f3")
        assert "The plan is ready." in at.text
        await click_key(at, "keep_rest")
        assert "is written" in at.text
    assert (tmp_path / "slip.yaml").exists()


async def test_a_list_that_has_no_room_scrolls_and_its_keys_stay(tmp_path: Path) -> None:
    async with asked(tmp_path, SMALL) as at:
        await at.press("down", "enter")
        options = at.app.screen.query_one(OptionList)
        assert options.virtual_size.height > options.size.height >= 6
        assert "F2 the question before" in at.text
        await at.press("end")
        assert "armholes and a neck" in at.text


async def test_the_arrows_go_from_the_field_to_the_chips_and_back(tmp_path: Path) -> None:
    async with asked(tmp_path) as at:
        await keep(at, "The colour of")
        chips, field = at.app.screen.query_one(Chips), at.app.screen.query_one(PlainInput)
        assert "#d9c9a5 Or one of these: down, then the arrows, or a click." in at.text
        await again(at, chips, CELLS * ACROSS, 1)  # beside them
        assert field.value == "#d9c9a5"
        await at.press("down", "left", "up")
        assert field.value == "white"
        await at.press("left")
        assert (field.value, field.cursor_position) == ("white", 4), "an arrow is for the text again"
        await at.press(*["down"] * 6, *["left"] * 2)
        assert "cadetblue #5f9ea0" in at.text
        await at.press(*["right"] * 2)
        assert field.value == "palegreen"


async def test_no_key_of_one_burst_among_the_chips_is_lost_or_done_before_another(tmp_path: Path) -> None:
    async with asked(tmp_path) as at:
        await keep(at, "The colour of")
        field = at.app.screen.query_one(PlainInput)
        for key in ("down", "right", "right", "down", "left", "x"):
            at.app.post_message(events.Key(key, key if len(key) == 1 else None))
        await at.pilot.pause()
        assert field.value == f"{COLOURS[ACROSS + 1][0]}x"


async def test_left_at_the_first_question_the_app_ends(tmp_path: Path) -> None:
    async with asked(tmp_path) as at:
        await at.press("escape")
        assert not at.app.is_running
