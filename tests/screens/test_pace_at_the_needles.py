"""How long the rest takes, as it is told at a turn, before one stops, in the basket and on the command line.

The swatch is 24 stitches wide and 32 rows high: 768 stitches.
"""

from __future__ import annotations

from collections.abc import Callable
from datetime import datetime, timedelta
from functools import partial
from pathlib import Path

import pytest
from at_the_needles import EVENING, SWATCH, begun, opened, until
from msgspec.structs import replace

from companion.dialogue.basket import BasketList
from companion.dialogue.knitter import Knitter
from companion.dialogue.opening import open_plan
from companion.dialogue.questions import Asking, show
from companion.plan.read import load
from companion.progress import exported
from companion.progress.actions import On, WholeRow
from companion.progress.shelf import Shelf
from companion.screens.knitting import KnittingScreen


class Watch:
    """A clock that goes on by so many seconds whenever it is looked at."""

    def __init__(self, seconds: float) -> None:
        self.seconds, self.at = seconds, EVENING

    def __call__(self) -> datetime:
        self.at += timedelta(seconds=self.seconds)
        return self.at


def worked(tmp_path: Path, rows: int, now: Callable[[], datetime]) -> Shelf:
    """A shelf with the swatch on it, so many rows worked a row at a press."""
    shelf = Shelf(tmp_path / "pieces", now)
    with shelf.start(load(SWATCH), SWATCH) as knitting:
        while knitting.session.rows_done < rows or knitting.session.act is not None:
            knitting.do(WholeRow())
    return shelf


@pytest.mark.parametrize("size", [(40, 15), (80, 24), (120, 40), (200, 60)])
async def test_it_is_told_at_a_turn_and_only_there(tmp_path: Path, size: tuple[int, int]) -> None:
    """48 seconds a row of 24 stitches are two a stitch, 1800 an hour. Nine rows are known, since the first has no
    step before it: 216 stitches. After the eleventh 21 rows are left, 1008 seconds; the next is near a minute."""
    shelf = worked(tmp_path, 10, Watch(48))
    async with opened(partial(open_plan, shelf=shelf, plan=SWATCH), size=size) as at:
        said = "About 1 min for the next row, about 15 min left, 1800 stitches an hour."
        assert "About" not in at.text
        await at.press("w")
        assert "Row 12 of 32" in at.text
        assert isinstance(at.app.screen, KnittingScreen)
        assert at.app.screen.sitting.pace[0] == said
        if size != (40, 15):
            assert at.part("end").endswith(f"Turn, the needle's tip toward you. {said}")
        await at.press("space")
        assert "About" not in at.text


async def test_not_before_two_hundred_stitches_whose_time_is_known(tmp_path: Path) -> None:
    shelf = worked(tmp_path, 7, Watch(48))
    async with opened(partial(open_plan, shelf=shelf, plan=SWATCH)) as at:
        told = []
        for _ in range(4):
            await at.press("w")
            told.append("stitches an hour" in at.text)
        assert told == [False, False, True, True]


async def test_it_is_not_told_where_the_knitter_does_not_want_it(tmp_path: Path) -> None:
    shelf = worked(tmp_path, 10, Watch(48))
    async with opened(partial(open_plan, shelf=shelf, plan=SWATCH)) as at:
        at.app.knitter.settings = replace(at.app.settings, pace="off")
        await at.press("w")
        assert "Row 11 is done." in at.part("end")
        assert "About" not in at.text


@pytest.mark.parametrize("size", [(80, 24), (120, 40)])
async def test_it_is_told_in_row_mode(tmp_path: Path, size: tuple[int, int]) -> None:
    shelf = worked(tmp_path, 10, Watch(48))
    async with opened(partial(open_plan, shelf=shelf, plan=SWATCH), size=size) as at:
        await at.press("m", "space")
        assert at.part("end").endswith("About 1 min for the next row, about 15 min left, 1800 stitches an hour.")


async def test_where_there_is_less_room_it_is_told_without_how_fast(tmp_path: Path) -> None:
    shelf = worked(tmp_path, 10, Watch(48))
    async with opened(partial(open_plan, shelf=shelf, plan=SWATCH), size=(72, 24)) as at:
        await at.press("w")
        assert at.part("end").endswith("toward you. About 1 min for the next row, about 15 min left.")
        assert at.part("chart")


async def test_going_to_a_row_and_going_back_say_nothing(tmp_path: Path) -> None:
    shelf = worked(tmp_path, 10, Watch(48))
    async with opened(partial(open_plan, shelf=shelf, plan=SWATCH)) as at:
        await at.press("w", "w")
        assert "About" in at.text
        await at.press("backspace")
        assert "Row 11 is done." in at.part("end")
        assert "About" not in at.text
        await at.press("g", "1", "4", "enter")
        await until(lambda: "Row 14 of 32" in at.text)
        assert "About" not in at.text


async def test_before_one_stops_in_mid_row_it_is_told_how_long_the_row_takes(tmp_path: Path) -> None:
    """Row 12 is 14 stitches and 10: ten are left, 20 seconds."""
    shelf = worked(tmp_path, 11, Watch(48))
    async with opened(partial(open_plan, shelf=shelf, plan=SWATCH)) as at:
        await at.press("space", "q")
        await until(lambda: "Stop here?" in at.text)
        said = "10 stitches to the end of row 12, a good place to stop. About 1 min to the end of this row."
        assert said in " ".join(at.text.replace("│", " ").split())


async def test_before_one_stops_nothing_is_said_of_it_where_nothing_is_known(tmp_path: Path) -> None:
    shelf = worked(tmp_path, 5, Watch(48))
    async with opened(partial(open_plan, shelf=shelf, plan=SWATCH)) as at:
        await at.press("space", "q")
        await until(lambda: "Stop here?" in at.text)
        assert "About" not in at.text


@pytest.mark.parametrize("size", [(40, 15), (60, 20), (80, 24), (120, 40)])
async def test_the_basket_tells_how_long_each_piece_takes(tmp_path: Path, size: tuple[int, int]) -> None:
    """22 rows of 48 seconds are 1056: 17.6 minutes. Where the list has not room for all, it is told below."""
    worked(tmp_path, 10, Watch(48))
    begun(tmp_path, SWATCH, row=3, name="For Ada")

    def basket(knitter: Knitter) -> Asking[None]:
        return show(BasketList(knitter, Shelf(tmp_path / "pieces"), tmp_path, (), now=lambda: EVENING))

    async with opened(basket, size=size) as at:
        await until(lambda: "about 20 min" in at.text)
        await until(lambda: ("about 20 min left" in at.text) == (size[0] <= 80))
        await at.press("down")
        await until(lambda: "about 20 min left" not in at.text)
        assert ("about" in at.text) == (size[0] > 60)


async def test_the_basket_tells_it_anew_after_some_rows(tmp_path: Path) -> None:
    shelf = worked(tmp_path, 10, Watch(48))
    async with opened(lambda knitter: show(BasketList(knitter, shelf, tmp_path, (), now=lambda: EVENING))) as at:
        await until(lambda: "about 20 min" in at.text)
        await at.press("enter")
        await until(lambda: isinstance(at.app.screen, KnittingScreen))
        await at.press("w", "w", "w", "w", "w", "w", "q", "y")
        await until(lambda: "the work basket" in at.text)
        await until(lambda: "about 15 min" in at.text)


def test_times_that_cannot_be_cost_no_more_than_themselves(tmp_path: Path) -> None:
    """From the disk: a clock that goes back a day after row 12, and on by a day after row 14."""
    watch = Watch(48)
    shelf = worked(tmp_path, 12, watch)
    for jump in (-86_400, 86_400):
        watch.at += timedelta(seconds=jump)
        with shelf.resume("Harbour practice swatch") as knitting:
            for _ in range(2):
                knitting.do(WholeRow())
    found = shelf.resume("Harbour practice swatch", look_only=True).forecast
    assert found is not None
    assert (found.stitches_an_hour, found.piece, found.is_next, found.is_last) == (1800, 2 * 24 * 16, True, False)


def test_in_mid_row_what_is_left_of_it_counts(tmp_path: Path) -> None:
    """Row 12 is 14 stitches and 10; 20 rows of 24 follow. The 14 took 48 seconds: their block alone is slower."""
    shelf = worked(tmp_path, 11, Watch(48))
    with shelf.resume("Harbour practice swatch") as knitting:
        knitting.do(On())
        assert knitting.forecast == (2.0 * 10, 2.0 * (10 + 20 * 24), 1800.0, False, False, False)


def test_what_is_taken_to_another_machine_keeps_its_pace(tmp_path: Path) -> None:
    here = worked(tmp_path / "here", 12, Watch(48))
    text = "".join(exported.written(here.contents("Harbour practice swatch")))
    there = Shelf(tmp_path / "there" / "pieces", Watch(48))
    name = there.take_in(exported.read(text, "swatch"), tmp_path)
    found = there.resume(name, look_only=True).forecast
    assert found is not None
    assert found == here.resume(name, look_only=True).forecast
    with there.resume(name) as knitting:
        knitting.do(On())
        assert knitting.forecast is not None
        assert knitting.forecast.stitches_an_hour == 1800


def test_once_every_row_is_worked_no_time_is_left_to_tell(tmp_path: Path) -> None:
    shelf = worked(tmp_path, 32, Watch(48))
    assert shelf.resume("Harbour practice swatch", look_only=True).forecast is None
