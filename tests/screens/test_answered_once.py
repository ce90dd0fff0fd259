"""A question is answered once: keys that come with the answer, as when a key is held, end nothing and answer nothing
else."""

from __future__ import annotations

import asyncio
from functools import partial
from pathlib import Path

import pytest
from at_the_needles import CUSHION, MAT, SWATCH, At, at_the_needles, begun, on_disk, opened, shelf, until, where
from msgspec.structs import replace
from textual import events
from textual.screen import Screen
from textual.widgets import Input

from companion.dialogue.basket import BasketList
from companion.dialogue.ends import EndsList
from companion.dialogue.opening import open_plan
from companion.dialogue.questions import Asking, YesNo, show
from companion.screens.asking import ReadingScreen
from companion.screens.ends import EndsScreen
from companion.screens.knitting import KnittingScreen
from companion.screens.lists import BasketScreen
from companion.screens.rowside import carry_out

CHARACTERS = {"space": " ", "comma": ",", "enter": "\r", "question_mark": "?"}


async def at_once(at: At, *keys: str) -> None:
    """Keys that arrive in one write."""
    for key in keys:
        at.app.post_message(events.Key(key, CHARACTERS.get(key, key if len(key) == 1 else None)))
    await at.pilot.pause()


async def asked(at: At, *keys: str) -> Screen[object]:
    """The question that stands open after these keys."""
    await at.press(*keys)
    assert not isinstance(at.app.screen, KnittingScreen)
    return at.app.screen


ANSWERED = [
    (("g", "2", "3"), ("enter", "enter"), (22, 4)),
    (("g", "2", "3"), ("enter", "enter", "enter", "enter"), (22, 4)),
    (("r", "1", "8", "enter"), ("y", "y", "y"), (18, 2)),
    (("x", "end"), ("enter", "enter"), (21, 2)),
    (("n", "h", "i"), ("enter", "enter"), (21, 2)),
    (("i",), ("enter", "enter"), (21, 2)),
    (("i", "z"), ("enter", "enter", "escape", "escape"), (21, 2)),
    (("question_mark",), ("escape", "escape", "escape"), (21, 2)),
    (("s",), ("escape", "escape", "q"), (21, 2)),
    (("s",), ("enter", "enter"), (21, 2)),
    (("s", "enter", "4"), ("enter", "enter", "enter"), (21, 2)),
    (("q",), ("escape", "escape", "escape"), (21, 2)),
]


@pytest.mark.parametrize(("ask", "keys", "there"), ANSWERED)
async def test_keys_that_come_with_the_answer_end_nothing(
    tmp_path: Path, ask: tuple[str, ...], keys: tuple[str, ...], there: tuple[int, int]
) -> None:
    async with at_the_needles(tmp_path, row=21, runs=2) as at:
        question = await asked(at, *ask)
        await at_once(at, *keys)
        assert at.app.is_running
        assert isinstance(at.app.screen_stack[1], KnittingScreen)
        assert where(on_disk(tmp_path)) == there
        if len(at.app.screen_stack) == 2:
            assert question not in at.app.screen_stack
            await at.press("u")
            assert where(on_disk(tmp_path)) != there, "the next key does something"


async def test_enter_says_neither_yes_nor_no(tmp_path: Path) -> None:
    async with at_the_needles(tmp_path, row=21, runs=2) as at:
        question = await asked(at, "q")
        await at.press("enter", "space", "enter")
        assert at.app.screen is question
        await at.press("n")
        assert isinstance(at.app.screen, KnittingScreen)


async def test_the_first_of_two_answers_counts(tmp_path: Path) -> None:
    async with at_the_needles(tmp_path, row=21, runs=2) as at:
        await asked(at, "q")
        await at_once(at, "escape", "y")
        assert at.app.is_running
        assert isinstance(at.app.screen, ReadingScreen)  # what y does at the needles: the reason for the step
        await at.press("escape")
        assert isinstance(at.app.screen, KnittingScreen)


async def test_a_technique_chosen_twice_at_once_is_chosen_once(tmp_path: Path) -> None:
    begun(tmp_path, MAT, row=9, runs=1)

    async with opened(partial(open_plan, shelf=shelf(tmp_path), plan=MAT)) as at:
        await at.press("t")
        await until(lambda: "worked with now" in at.text)
        await at.press("end")
        await at_once(at, "enter", "enter")
        assert isinstance(at.app.screen, KnittingScreen)
        limits = on_disk(tmp_path, "Mooring mat").limits
        await at.press("backspace")
        assert on_disk(tmp_path, "Mooring mat").limits != limits


async def test_two_enters_in_the_basket_open_one_piece_and_knit_nothing(tmp_path: Path) -> None:
    begun(tmp_path, row=19)

    async with opened(lambda knitter: show(BasketList(knitter, shelf(tmp_path), tmp_path, (CUSHION,)))) as at:
        await at_once(at, "enter", "enter", "enter")
        await until(lambda: isinstance(at.app.screen, KnittingScreen))
        assert len(at.app.screen_stack) == 3
        await at.press("w", "w")  # to a good place to stop, where nothing is asked
        assert where(on_disk(tmp_path))[0] == 20
        at.app.knitter.settings = replace(at.app.settings, offer_at=0)
        await at_once(at, "q", "q", "q")
        await until(lambda: isinstance(at.app.screen, BasketScreen))
        assert at.app.is_running
        with shelf(tmp_path).resume("Harbour practice swatch") as again:
            assert not again.is_look_only


@pytest.mark.parametrize("keys", ["escape escape escape", "q u i t down enter enter enter"])
async def test_help_is_answered_once(tmp_path: Path, keys: str) -> None:
    async with at_the_needles(tmp_path, row=21, runs=2) as at:
        await at.press("ctrl+p")
        await at_once(at, *keys.split())
        assert at.app.is_running


async def test_a_list_that_is_left_while_it_is_being_built_ends_nothing(tmp_path: Path) -> None:
    async with at_the_needles(tmp_path, CUSHION, row=64) as at:
        working = at.app.screen
        assert isinstance(working, KnittingScreen)
        for turns in range(6):
            at.app.push_screen(EndsScreen(EndsList(working.sitting)))
            for _ in range(turns):
                await asyncio.sleep(0)
            at.app.screen.dismiss(None)
            await at.pilot.pause(0.05)
            assert at.app.is_running
            assert at.app.screen is working


AHEAD = [
    ("g 2 5 enter", 24, 0, ""), ("space space g 2 6 enter", 25, 0, ""), ("n w space space k enter", 20, 0, "w  k"),
    ("e space escape", 20, 1, ""), ("e space down space escape", 20, 2, ""), ("q n", 20, 0, ""),
    ("question_mark g escape", 20, 0, ""), ("ctrl+p n o t e escape", 20, 0, ""), ("s down escape", 20, 0, ""),
]


@pytest.mark.parametrize(("keys", "rows", "woven", "note"), AHEAD)
async def test_keys_that_come_before_what_they_were_meant_for_is_there_are_for_it(
    tmp_path: Path, keys: str, rows: int, woven: int, note: str
) -> None:
    async with at_the_needles(tmp_path, row=21, runs=2) as at:
        await at_once(at, *keys.split())
        found = on_disk(tmp_path)

        def is_done() -> bool:
            nonlocal found
            found = on_disk(tmp_path)
            so_far = found.rows_done, len(found.woven), "".join(found.notes.values())
            return so_far == (rows, woven, note) and len(at.app.screen_stack) == 2 and not at.app._kept

        await until(is_done)
        await at.press()
        assert is_done()
        assert rows != 20 or found.done == 2
        await at_once(at, "space", "space")
        await until(lambda: on_disk(tmp_path).rows_done > rows or on_disk(tmp_path).done > found.done)


@pytest.mark.parametrize("turns", range(0, 30, 2))
async def test_keys_that_come_one_by_one_while_a_question_is_on_its_way_are_for_it_in_their_order(
    tmp_path: Path, turns: int
) -> None:
    async with at_the_needles(tmp_path, row=11, runs=0) as at:
        for key in ("g", "2", "5", "enter"):
            at.app.post_message(events.Key(key, CHARACTERS.get(key, key)))
            for _ in range(turns):
                await asyncio.sleep(0)
        await until(lambda: on_disk(tmp_path).rows_done == 24)


async def test_keys_that_were_kept_come_before_those_that_came_after_them(tmp_path: Path) -> None:
    async with at_the_needles(tmp_path, row=11, runs=0) as at:
        await at.press("g")
        at.app.post_message(events.Key("5", "5"))
        at.app.keep(events.Key("2", "2"))  # before the other one is looked at
        await until(lambda: at.app.screen.query_one(Input).value == "25")


async def test_what_is_told_before_rows_are_undone_is_not_answered_before_it_is_told(tmp_path: Path) -> None:
    async with at_the_needles(tmp_path, row=21, runs=2) as at:
        await at_once(at, "r", "5", "enter", "y")
        await until(lambda: "15 rows undone" in at.text or "16 rows undone" in at.text)
        assert where(on_disk(tmp_path)) == (21, 2)
        await at.press("y")
        assert on_disk(tmp_path).rows_done == 5


async def test_a_key_that_reaches_the_working_screen_late_is_for_what_lies_over_it(tmp_path: Path) -> None:
    async with at_the_needles(tmp_path, row=21, runs=2) as at:
        work = at.app.screen
        assert isinstance(work, KnittingScreen)
        await at.press("n")
        for key in ("2", "space"):
            work.on_key(events.Key(key, CHARACTERS.get(key, key)))
        await at.pilot.pause()
        assert at.app.screen.query_one(Input).value == "2 "
        await at.press("escape")
        assert where(on_disk(tmp_path)) == (21, 2)


@pytest.mark.parametrize("keys", ["z 5 enter", "8 9", "j space"])
async def test_keys_that_do_nothing_are_kept_for_nothing(tmp_path: Path, keys: str) -> None:
    async with at_the_needles(tmp_path, row=21, runs=2) as at:
        await at_once(at, *keys.split(), "g")
        await until(lambda: len(at.app.screen_stack) == 3)
        await at.pilot.pause(0.1)
        assert at.app.screen.query_one(Input).value == ""
        assert where(on_disk(tmp_path)) == (21, 2 + ("enter" in keys or "space" in keys))


@pytest.mark.parametrize("key", ["g", "r", "n", "i"])
@pytest.mark.parametrize("size", [(80, 24), (40, 15)], ids=str)
async def test_a_question_leaves_the_run_in_work_in_sight(tmp_path: Path, key: str, size: tuple[int, int]) -> None:
    """And in the chart; but the longest leaves no chart, and on the smallest screen the first line alone."""
    async with at_the_needles(tmp_path, SWATCH, row=19, runs=1, size=size) as at:
        seen = 1 if (key, size) == ("i", (40, 15)) else 4
        work = at.lines[:seen]
        in_the_chart = [line for line in at.lines if "[c][c]" in line]
        await at.press(key)
        assert at.app.screen.is_modal
        assert at.lines[:seen] == work
        assert key == "i" or [line for line in at.lines if "[c][c]" in line] == in_the_chart


@pytest.mark.parametrize("is_first", [True, False])
async def test_what_holds_something_open_lets_go_of_it_when_the_app_ends_at_a_question(is_first: bool) -> None:
    """At the one that was asked already, and at the next one."""
    let_go = []

    def holding() -> Asking[None]:
        try:
            yield YesNo(("Stop here?",), "stop", "knit on")
            yield YesNo(("And here?",), "stop", "knit on")
        finally:
            let_go.append("the piece")

    async def never(_: object) -> bool:
        await asyncio.Future[bool]()
        return True

    held = holding()
    asked_already = next(held) if is_first else None
    carrying = asyncio.create_task(carry_out(held, never, asked_already))
    await asyncio.sleep(0)
    carrying.cancel()
    await asyncio.gather(carrying, return_exceptions=True)
    assert let_go == ["the piece"]
