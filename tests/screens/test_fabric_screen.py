"""The fabric on the screen: either side, whole or round the needles, at the needles and from the basket."""

from __future__ import annotations

from functools import partial
from pathlib import Path

import pytest
from textual.containers import ScrollableContainer
from textual.widgets import Static

from companion.dialogue.basket import BasketList
from companion.dialogue.knitter import Knitter
from companion.dialogue.opening import open_plan
from companion.dialogue.pictured import Pictured
from companion.dialogue.questions import Choice, show
from companion.plan.demo import demo_plans
from companion.screens.fabric import FabricScreen
from tests.dialogue.keyboard import Keyboard
from tests.screens.at_the_needles import SWATCH, begun, opened, shelf


def test_a_side_is_asked_for_and_shown_and_leaves_the_piece_as_it_is(tmp_path: Path) -> None:
    begun(tmp_path, row=19)
    board = Keyboard(knitter := Knitter(), open_plan(knitter, shelf(tmp_path), SWATCH))
    before = board.sitting.session
    board.press("p")
    assert isinstance(board.top.request, Choice)
    board.press("down", "down", "down", "enter")
    shown = board.top.request
    assert isinstance(shown, Pictured)
    assert (shown.session, shown.side, shown.is_near) == (before, "WS", True)
    assert shown.title == "Harbour practice swatch: the wrong side"
    board.press("escape", "p", "escape")
    assert board.top.request is board.sitting
    assert board.sitting.session is before


def test_from_the_basket_nothing_is_begun_by_it(tmp_path: Path) -> None:
    knitter = Knitter()
    board = Keyboard(knitter, show(BasketList(knitter, shelf(tmp_path), tmp_path, demo_plans())))
    board.press("p", "enter")
    shown = board.top.request
    assert isinstance(shown, Pictured)
    assert (shown.side, shown.is_near, shown.session.piece.title) == ("RS", False, "Harbour practice swatch")
    board.press("escape")
    assert isinstance(board.top.request, BasketList)
    assert shelf(tmp_path).cards() == ()


@pytest.mark.parametrize("size", [(120, 40), (40, 15)])
async def test_all_of_it_fits_or_it_is_large_and_begins_at_the_needles(tmp_path: Path, size: tuple[int, int]) -> None:
    """24 stitches and 32 rows at 20 x 28: 24 cells are 22.9 pairs of points high. In 40 x 15 cells, of which title
    and keys take some, it is narrower; round the needles 48 cells wide, in row 20 of 32."""
    begun(tmp_path, row=19)
    async with opened(partial(open_plan, shelf=shelf(tmp_path), plan=SWATCH), size) as at:
        await at.press("p", "enter")
        assert isinstance(at.app.screen, FabricScreen)
        cloth, around = at.app.screen.query_one("#cloth", Static), at.app.screen.query_one(ScrollableContainer)
        assert (around.max_scroll_x, around.max_scroll_y) == (0, 0)
        assert cloth.size.width == (24 if size == (120, 40) else cloth.size.width)
        points = 2 * cloth.size.height
        assert abs(points / cloth.size.width - (32 / 28) / (24 / 20)) * cloth.size.width <= 2
        assert "the right side" in at.text
        await at.press("escape", "p", "down", "down", "enter")
        cloth, around = at.app.screen.query_one("#cloth", Static), at.app.screen.query_one(ScrollableContainer)
        assert cloth.size.width == 48
        needles = round(cloth.size.height * (32 - 19.5) / 32)
        assert around.scroll_y <= needles <= around.scroll_y + around.size.height
        if around.max_scroll_y:
            before = around.scroll_y
            await at.press("up")
            assert around.scroll_y == before - 1
        await at.press("escape")
        assert "the right side" not in at.text


async def test_below_the_wrong_side_its_signs_are_told(tmp_path: Path) -> None:
    """Of 19 rows some ends are there; large, crosses too."""
    begun(tmp_path, row=19)
    async with opened(partial(open_plan, shelf=shelf(tmp_path), plan=SWATCH), (100, 40)) as at:
        await at.press("p", "down", "enter")
        assert at.text.count("○") > 1
        assert "○ an end. A PNG shows crosses and carried strands, too" in at.text
        assert "×" not in at.text
        await at.press("escape", "p", "end", "enter")
        assert "○ an end, × a cross. A PNG shows carried strands, too" in at.text
        assert at.text.count("×") > 1
        await at.press("escape", "p", "enter")
        assert "an end" not in at.text
