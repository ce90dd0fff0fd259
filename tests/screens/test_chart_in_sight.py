"""What is seen of the chart on the drawing board, how much of it, and that it stands still under the hands."""

from __future__ import annotations

import re
from pathlib import Path

import pytest
from at_the_needles import opened, until

from companion.dialogue.at_the_board import draw
from companion.screens.canvas import Canvas
from companion.screens.costs_panel import CostsPanel
from tests.dialogue.at_the_easel import plan


async def test_as_many_stitches_are_told_to_be_seen_as_are_once_the_chart_has_its_room(tmp_path: Path) -> None:
    (tmp_path / "wide.yaml").write_text(plan(["s" * 40] * 5), encoding="utf-8")
    async with opened(lambda knitter: draw(knitter, tmp_path / "wide.yaml", tmp_path), (80, 24)) as at:
        canvas = at.app.screen.query_one(Canvas)
        for columns in (3, 2, 1, 3, 2):
            while canvas.frame(*canvas.size).wide != columns:
                await at.press("z")
            told = re.search(r"(\d+) of 40 stitches seen", at.text)
            assert (int(told[1]) if told else 40) == canvas.frame(*canvas.size).across


async def test_what_floats_is_in_sight_as_far_as_there_is_room(tmp_path: Path) -> None:
    """Two letters of 10 rows and 12 stitches: at the top of the screen's part of the chart they would not be seen."""
    (tmp_path / "tall.yaml").write_text(plan(["s" * 40] * 40), encoding="utf-8")
    async with opened(lambda knitter: draw(knitter, tmp_path / "tall.yaml", tmp_path), (80, 24)) as at:
        await at.press("pageup", "up", "up", "up", "home", "left", "left", "left", "t")
        await at.type("HI")
        floats, canvas = at.app.screen.painting.parts.lies, at.app.screen.query_one(Canvas)
        frame = canvas.frame(*canvas.size)
        assert frame.low <= floats.low <= floats.high < frame.low + frame.up
        assert frame.right <= floats.right <= floats.left < frame.right + frame.across
        await at.press("right", "down")
        assert canvas.frame(*canvas.size)[:2] == frame[:2], "it is in sight still, so nothing else moves"
        canvas.scroll_by(-3, 0)
        assert canvas.frame(*canvas.size).low == frame.low - 3, "the wheel looks elsewhere all the same"


@pytest.mark.parametrize("size", [(40, 15), (80, 24)])
async def test_which_of_several_sizes_is_drawn_in_stays_in_sight(tmp_path: Path, size: tuple[int, int]) -> None:
    sizes = plan().replace("title: Pier\n", "title: Pier\nsizes: [S, M]\n").replace("rows: 1,", "rows: 1 (3),")
    (tmp_path / "pier.yaml").write_text(sizes, encoding="utf-8")
    async with opened(lambda knitter: draw(knitter, tmp_path / "pier.yaml", tmp_path, "M"), size) as at:
        assert "This is size M." in at.text
        await at.press("up", "space", "up", "l")
        assert "A line begins here" in at.text
        await at.press("up")
        assert "Size M of S and M." in at.text


async def test_the_chart_stays_where_it_is_whatever_it_costs(tmp_path: Path) -> None:
    """At its foot no row can be painted, so no yarn has a cost; lone stitches beyond reach make longer figures."""
    (tmp_path / "wide.yaml").write_text(plan(["s" * 40] * 20), encoding="utf-8")
    async with opened(lambda knitter: draw(knitter, tmp_path / "wide.yaml", tmp_path), (40, 15)) as at:
        canvas, costs = at.app.screen.query_one(Canvas), at.app.screen.query_one(CostsPanel)
        there, places = canvas.region, [*costs._spots]
        assert [spot[3] for spot in places] == ["sand", "ink", "brick"]
        await at.press("2")
        for _ in range(9):
            await at.press("up", "space", *["left"] * 4)
            assert canvas.region == there
            assert costs._spots == places, "a click finds each yarn where it was"
        await until(lambda: re.search(r"\d\d strands \d\d ends \d+ at once \d+\.\d m", at.part("costs")) is not None)
        await at.press("pagedown", "pagedown")
        assert "It cannot be painted" in at.text
        assert (canvas.region, costs._spots) == (there, places)
