"""The chart scrolled by hand, then given another size: what is shown is chart, whatever was scrolled before."""

from __future__ import annotations

import re
from pathlib import Path

import pytest
from at_the_needles import CUSHION, MAT, SWATCH, At, at_the_needles
from textual import events

from companion.screens.chart import ChartPanel

ROWS = 32


def rows_shown(at: At) -> list[int]:
    """The numbers of the rows that the near chart shows, from the top; they stand at one end of each line above the
    foot, which has no letters."""
    strips = at.app.screen.query_one(ChartPanel)._strips
    lines = [strip.text.strip() for strip in strips if re.search("[a-z]", strip.text)]
    return [int(next(filter(None, found.groups()))) for line in lines if (found := re.search(r"^(\d+)|(\d+)$", line))]


@pytest.mark.parametrize("keys", ["up up up m", "up up up up c", "up up up up up up up up z", "m up up up up m"])
@pytest.mark.parametrize("row", [1, 19, 33])
async def test_looked_up_to_its_top_the_chart_is_given_another_size(tmp_path: Path, keys: str, row: int) -> None:
    async with at_the_needles(tmp_path, row=row, size=(100, 40)) as at:
        await at.press(*keys.split())
        assert at.app.is_running
        if "z" not in keys:
            shown = rows_shown(at)
            assert shown == list(range(shown[0], shown[0] - len(shown), -1))
            assert shown[0] <= ROWS
            assert len(shown) == min(ROWS, at.app.screen.query_one(ChartPanel).size.height - 1)


async def test_looked_up_and_aside_the_window_is_made_larger_and_the_next_scroll_is_seen(tmp_path: Path) -> None:
    async with at_the_needles(tmp_path, CUSHION, row=51, size=(60, 24)) as at:
        await at.press("c", *["up"] * 10, *["left"] * 12, *["right"] * 2)
        for size in ((120, 40), (41, 15), (90, 30), (200, 60)):
            await at.pilot.resize_terminal(*size)
            await at.pilot.pause()
            assert at.app.is_running
            assert at.app.screen.query_one(ChartPanel).size.width == size[0], "it has its new size by then"
        assert rows_shown(at)[0] == 112
        await at.press("down")
        assert rows_shown(at)[0] < 112, "no key is lost on the way back"


async def test_the_wheel_over_a_chart_of_a_narrow_window_then_a_wide_one(tmp_path: Path) -> None:
    async with at_the_needles(tmp_path, SWATCH, row=3, size=(80, 24)) as at:
        chart = at.app.screen.query_one(ChartPanel)
        for _ in range(12):
            chart.post_message(events.MouseScrollUp(chart, 1, 1, 0, 0, 0, False, False, False))
        await at.pilot.pause()
        await at.pilot.resize_terminal(200, 60)
        await at.press("c", "c", "z", "c")
        assert at.app.is_running


async def test_the_arrow_leaves_a_row_with_the_needles_though_its_end_was_drawn(tmp_path: Path) -> None:
    async with at_the_needles(tmp_path, MAT, row=34, size=(100, 32)) as at:
        await at.press("w")
        for arrow in ("34▶", "◀35", "36▶"):
            assert re.findall(r"\d+▶|◀\d+", at.part("chart")) == [arrow]
            await at.press("space")
