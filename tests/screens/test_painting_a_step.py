"""What a step is on the screen: laid out and painted once, in lines that Textual, which paints every other widget,
would paint alike."""

from __future__ import annotations

import asyncio
import gc
from pathlib import Path

import pytest
from at_the_needles import CUSHION, At, at_the_needles, until
from rich.segment import Segment
from rich.style import Style
from textual.color import Color
from textual.filter import LineFilter
from textual.geometry import Region
from textual.widget import Widget

from companion.screens.app import SELDOM, _look_for_garbage
from companion.screens.fitting import fitted
from companion.screens.flowing import Line
from companion.screens.ground import Ground
from companion.screens.knitting import KnittingScreen
from companion.screens.lines import Lines

A_SECOND_PAINT = 0.04
"""Seconds after which a second one would have come: Textual paints sixty times a second."""


async def test_a_step_is_painted_once_and_laid_out_only_where_parts_get_other_lines(tmp_path: Path) -> None:
    async with at_the_needles(tmp_path, CUSHION) as at:
        screen, layouts, paints, moved = at.app.screen, list[object](), list[None](), list[bool]()
        screen.screen_layout_refresh_signal.subscribe(screen, layouts.append)
        at.app.post_display_hook = lambda: paints.append(None)  # called by Textual when a picture is painted
        for _ in range(11):
            before = {part: part.region for part in screen.query(Lines)}
            layouts.clear()
            paints.clear()
            await at.press("space")
            await asyncio.sleep(A_SECOND_PAINT)
            moved.append(any(part.region != region for part, region in before.items()))
            assert (len(paints), len(layouts)) == (1, int(moved[-1]))
        assert {*moved} == {True, False}


async def test_while_the_hands_are_busy_the_next_step_is_laid_out(tmp_path: Path) -> None:
    async with at_the_needles(tmp_path, CUSHION, row=51) as at:
        screen = at.app.screen
        assert isinstance(screen, KnittingScreen)
        foresee, known = screen.foresee, list[tuple[int, int]]()

        def looks_on() -> None:
            known.append((fitted.cache_info().hits, fitted.cache_info().misses))
            foresee()

        screen.foresee = looks_on  # type: ignore[method-assign]  # it is told of, and done
        for _ in range(3):  # none of them the last of its row
            known.clear()
            await at.press("space")
            await until(lambda: bool(known))
            before = fitted.cache_info()
            known.clear()
            await at.press("space")
            await until(lambda: bool(known))
            hits, misses = known[0]  # before the one after it is foreseen
            assert (misses - before.misses, hits > before.hits) == (0, True)


class Sunk(LineFilter):
    """Shows every line in the colour that lies below it."""

    def apply(self, segments: list[Segment], background: Color) -> list[Segment]:
        return [Segment(text, Style(bgcolor=background.rich_color)) for text, *_ in segments]


@pytest.mark.parametrize("colours", ["all", "none", "those below"])
@pytest.mark.parametrize("size", [(80, 24), (120, 40)])
async def test_every_line_is_the_one_that_textual_would_paint_in_every_light(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, size: tuple[int, int], colours: str
) -> None:
    if colours == "none":
        monkeypatch.setenv("NO_COLOR", "1")
    async with at_the_needles(tmp_path, CUSHION, row=51, size=size) as at:
        if colours == "those below":
            at.app._filters.append(Sunk())
        for key in ("space", "l"):
            await at.press(key)
            assert _kinds_compared(at) == {Lines, Ground}


async def test_a_part_with_room_around_its_lines_is_painted_with_it(tmp_path: Path) -> None:
    async with at_the_needles(tmp_path, CUSHION, row=51) as at:
        await at.press("x")
        await at.choose("Stitches below are wrong")
        assert any(part.size != part.outer_size for part in at.app.screen.query(Lines))
        assert _kinds_compared(at) == {Lines}


class Long(Lines):
    """Lines that are longer than there is room, and a short one."""

    def draw(self, width: int, height: int) -> list[Line]:
        return [[("x" * (width + 5), "")], [("x", ""), ("界" * width, "strong")], [("short", "quiet")]]


async def test_every_line_takes_the_width_there_is_and_is_cut_at_it(tmp_path: Path) -> None:
    async with at_the_needles(tmp_path) as at:
        long = Long()
        long.styles.width, long.styles.height = 40, 3
        await at.app.screen.mount(long)
        await at.pilot.pause()
        texts = [strip.text for strip in long.render_lines(Region(0, 0, 40, 3))]
        assert texts == ["x" * 40, "x" + "界" * 19 + " ", "short" + " " * 35]


def test_garbage_is_looked_for_once_the_first_screen_is_painted_and_then_seldom() -> None:
    usual = gc.get_threshold()
    gc.disable()
    try:
        _look_for_garbage()
        assert gc.isenabled()
        assert gc.get_threshold() == (SELDOM, *usual[1:])
    finally:
        gc.set_threshold(*usual)
        gc.unfreeze()
        gc.enable()


def _kinds_compared(at: At) -> set[type[Widget]]:
    """Every part that paints itself is compared with how Textual paints it, whole and cut off on all sides."""
    kinds = set[type[Widget]]()
    for part in (at.app.screen, *at.app.screen.walk_children(Widget)):
        width, height = part.outer_size
        if part.display and width and height and isinstance(part, Lines | Ground):
            kinds.add(Lines if isinstance(part, Lines) else Ground)
            whole = Region(0, 0, width, height)
            for crop in (whole, Region(3, height // 2, width - 5, 1), whole):
                own = [Segment.simplify(strip) for strip in part.render_lines(crop)]
                usual = [Segment.simplify(strip) for strip in Widget.render_lines(part, crop)]
                assert list(map(list, own)) == list(map(list, usual)), part
    return kinds
