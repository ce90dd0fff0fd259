"""Mouse and touch: what is told now is done with a click, keys and lines are clicked, two clicks at once are one."""

from __future__ import annotations

from pathlib import Path

import pytest
from at_the_needles import COWL, CUSHION, At, at_the_needles, begun, on_disk, opened, shelf, until, where
from textual import events
from textual.widget import Widget

from companion.dialogue.basket import BasketList
from companion.dialogue.knitter import Knitter
from companion.dialogue.questions import Asking, show
from companion.screens.chart import ChartPanel
from companion.screens.clicks import Clicks
from companion.screens.key_line import KeyLine
from companion.screens.knitting import KnittingScreen
from companion.screens.lists import StrandsScreen


async def click(at: At, part: str | Widget, x: int = 1, y: int = 1, button: int = 1) -> None:
    """One click, and what it does."""
    await at.pilot.click(part if isinstance(part, Widget) else f"#{part}", offset=(x, y), button=button)
    await at.press()


async def double_click(at: At, part: str, x: int = 1, y: int = 1) -> None:
    """Two clicks, which are quick enough however busy the machine is."""
    at.app.clicks.again = 60
    await at.pilot.click(f"#{part}", offset=(x, y), times=2)
    await at.press()


async def again(at: At, *clicked: object, **more: int) -> None:
    """One more, later than a double click."""
    at.app.clicks.again = 0
    await click(at, *clicked, **more)  # type: ignore[arg-type]


async def click_key(at: At, deed: str) -> None:
    """The key of a deed, wherever it stands."""
    line = at.app.screen.query_one(KeyLine)
    spot = next(spot for spot in line.spots if spot.deed == deed)
    await again(at, line, spot.start + 1, spot.line)


async def test_a_click_on_what_is_told_now_does_it_and_the_right_button_takes_it_back(tmp_path: Path) -> None:
    async with at_the_needles(tmp_path, row=19) as at:
        await click(at, "now")
        assert where(on_disk(tmp_path)) == (19, 1)
        await again(at, "now")
        assert where(on_disk(tmp_path)) == (19, 2)
        await again(at, "now", button=3)
        assert where(on_disk(tmp_path)) == (19, 1)
        await again(at, "chart")
        assert where(on_disk(tmp_path)) == (19, 1), "a click on the chart is no step"


async def test_in_row_mode_the_row_is_clicked(tmp_path: Path) -> None:
    async with at_the_needles(tmp_path, row=19) as at:
        await at.press("m")
        await click(at, "whole")
        assert where(on_disk(tmp_path)) == (19, 4)


async def test_a_double_click_is_one_step(tmp_path: Path) -> None:
    async with at_the_needles(tmp_path, row=19) as at:
        await double_click(at, "now")
        assert where(on_disk(tmp_path)) == (19, 1)


def test_of_two_clicks_the_first_counts_unless_they_are_apart() -> None:
    clicks = Clicks()
    told = [(1.0, 5, 5), (1.1, 5, 5), (1.25, 6, 4), (1.31, 5, 5), (1.4, 5, 9), (1.5, 40, 9), (1.85, 40, 9)]
    assert [clicks.counts(*one) for one in told] == [True, False, False, True, True, True, True]


async def test_every_key_on_the_key_line_is_clicked(tmp_path: Path) -> None:
    async with at_the_needles(tmp_path, row=19, size=(160, 40)) as at:
        for deed, there in (("on", (19, 1)), ("row", (19, 4)), ("unpick", (19, 3)), ("back", (19, 4))):
            await click_key(at, deed)
            assert where(on_disk(tmp_path)) == there
        await click_key(at, "strands")
        assert isinstance(at.app.screen, StrandsScreen)
        await click_key(at, "leave")
        assert isinstance(at.app.screen, KnittingScreen)


async def test_a_question_is_answered_with_clicks(tmp_path: Path) -> None:
    async with at_the_needles(tmp_path, row=19, runs=1) as at:
        await at.press("q")
        await click_key(at, "no")
        assert isinstance(at.app.screen, KnittingScreen)
        await at.press("x")
        await again(at, at.app.screen.query_one("PlainList"), 3, 0)
        assert "After how many of the" in at.text
        await click_key(at, "leave_it")
        await at.press("q")
        await click_key(at, "yes")
        assert not at.app.is_running


async def test_a_click_on_a_line_ticks_it_and_two_at_once_do_not_untick_it(tmp_path: Path) -> None:
    async with at_the_needles(tmp_path, row=24, size=(120, 40)) as at:
        await at.press("e")
        await double_click(at, "list", 3, 1)
        assert len(on_disk(tmp_path).woven) == 1
        await again(at, "list", 3, 1)
        assert not on_disk(tmp_path).woven


async def test_a_double_click_in_the_basket_opens_a_piece_and_knits_nothing(tmp_path: Path) -> None:
    begun(tmp_path, row=19)

    def first(knitter: Knitter) -> Asking[None]:
        return show(BasketList(knitter, shelf(tmp_path), tmp_path, (CUSHION,)))

    async with opened(first) as at:
        at.app.clicks.again = 60
        await click(at, "list", 5, 1)
        await until(lambda: isinstance(at.app.screen, KnittingScreen))
        x, y = at.app.screen.query_one("#now").region.offset
        await at.pilot.click(offset=(6, 3))
        await at.press()
        assert y <= 3
        assert x <= 6
        assert where(on_disk(tmp_path)) == (18, 2)


async def test_the_wheel_moves_the_chart_and_no_stitch(tmp_path: Path) -> None:
    """Up and down, with shift or ctrl or where it tilts sideways; the cowl is wider than its chart."""
    async with at_the_needles(tmp_path, COWL, row=22, size=(80, 24)) as at:
        there = where(on_disk(tmp_path, "Breakwater cowl"))
        chart = at.app.screen.query_one(ChartPanel)
        corners = []
        for kind, shift, ctrl in (
            (events.MouseScrollUp, False, False), (events.MouseScrollDown, False, True),
            (events.MouseScrollRight, False, False), (events.MouseScrollUp, True, False),
            (events.MouseScrollLeft, False, False), (events.MouseScrollDown, False, False),
        ):  # fmt: skip
            before = at.part("chart")
            chart.post_message(kind(chart, 1, 1, 0, 0, 0, shift, False, ctrl))
            await at.press()
            assert at.part("chart") != before
            corners.append(chart.looked_at or (0, 0))
        low, right = corners[0]
        assert corners == [
            (low, right), (low, right - 3), (low, right - 6), (low, right - 3), (low, right), (low - 3, right),
        ]
        assert where(on_disk(tmp_path, "Breakwater cowl")) == there


@pytest.mark.parametrize("size", [(9, 24), (80, 4), (5, 3)])
async def test_a_list_without_room_says_so_and_waits(tmp_path: Path, size: tuple[int, int]) -> None:
    async with at_the_needles(tmp_path, row=24, size=size) as at:
        for key in ("e", "s", "question_mark"):
            await at.press(key)
            assert "toosmall".startswith(at.letters) or "toosmall" in at.letters
            await at.press("pagedown", "pageup", "o")
            await at.pilot.resize_terminal(80, 24)
            await until(lambda: "too small" not in at.text)
            await at.pilot.pause()
            assert " keys" in at.text or "do it" in at.text
            await at.press("escape")
            await at.pilot.resize_terminal(*size)
