"""What is clicked at the drawing board stays where it is and is there in whole, in every size."""

from __future__ import annotations

from pathlib import Path

from test_drawing_board import at_stitch, at_the_board, chart
from textual.widgets import Input

from companion.screens.costs_panel import CostsPanel
from companion.screens.key_line import Foot
from companion.screens.offered import Offered
from companion.screens.tool_bar import ToolBar
from tests.dialogue.at_the_easel import BLANK


async def test_what_can_be_written_and_how_often_is_clicked_on_as_many_lines_as_it_takes(tmp_path: Path) -> None:
    async with at_the_board(tmp_path, (40, 15)) as at:
        await at.press("t")
        offered = at.app.screen.query_one(Offered)
        for sign in ("A", "S", "space", "5"):
            y, x = next((y, line.index(f" {sign} ")) for y, line in enumerate(at.lines) if f" {sign} " in line)
            await at.pilot.click(offset=(x + 1, y))
        at.app.clicks.again = 3600
        await at.pilot.click(offset=(x + 1, y))  # the finger bounces
        assert at.app.screen.query_one(Input).value == "AS 5"
        assert offered.size.height == 6, "46 signs of four cells each, and the space, in 36 cells"
        assert offered.region.bottom <= at.app.screen.query_one(Foot).region.y


async def test_the_chart_stays_where_it_is_under_the_mouse_whatever_is_in_hand(tmp_path: Path) -> None:
    """There are more keys then, which take a line more where they do not fill those that there are."""
    async with at_the_board(tmp_path, (120, 40)) as at:
        before, tools = at_stitch(at, 2, 2), at.app.screen.query_one(ToolBar)
        assert len({spot.line for spot in tools.spots}) == 2
        await at.press("t", *"a", "enter")
        assert "6 x 10 in hand" in at.text
        assert len({spot.line for spot in tools.spots}) == 3
        assert {"mirror", "board_quit"} <= {spot.deed for spot in tools.spots}
        assert at_stitch(at, 2, 2) == before


async def test_a_line_that_is_dragged_away_and_back_is_none_yet(tmp_path: Path) -> None:
    async with at_the_board(tmp_path) as at:
        await at.press("2", "l")
        start, away = at_stitch(at, 2, 2), at_stitch(at, 2, 6)
        await at.pilot.mouse_down(offset=start)
        await at.pilot.hover(offset=away)
        await at.pilot.hover(offset=start)
        await at.pilot.mouse_up(offset=start)
        await at.pilot.pause()
        assert "Now click the other end." in at.text
        assert chart(tmp_path) == BLANK


async def test_a_yarn_that_is_clicked_is_marked_at_once(tmp_path: Path) -> None:
    async with at_the_board(tmp_path) as at:
        costs = at.app.screen.query_one(CostsPanel)
        y, start, *_ = costs._spots[2]
        await at.pilot.click(CostsPanel, offset=(start + 3, y))
        assert "▶3" in at.part("costs")


async def test_a_yarn_is_clicked_where_it_is_drawn_however_often_its_room_was_reckoned(tmp_path: Path) -> None:
    async with at_the_board(tmp_path, (40, 15)) as at:
        costs = at.app.screen.query_one(CostsPanel)
        drawn = [*costs._spots]
        costs.lines_above(20)
        assert costs._spots == drawn
