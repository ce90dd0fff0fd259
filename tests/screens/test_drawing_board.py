"""The drawing board on the screen, by keys alone and by the mouse alone, in every size and without colours."""

from __future__ import annotations

import os
import re
from collections.abc import AsyncIterator
from contextlib import asynccontextmanager
from pathlib import Path

import pytest
from at_the_needles import SIZES, SWATCH, At, opened, shelf, until
from textual import events
from textual.geometry import Region
from textual.pilot import Pilot
from textual.widgets import Input

from companion.board.letters import written
from companion.dialogue.at_the_board import draw
from companion.dialogue.basket import BasketList
from companion.dialogue.deeds import deeds_of
from companion.dialogue.questions import show
from companion.screens.canvas import Canvas
from companion.screens.costs_panel import CostsPanel
from companion.screens.drawing import DrawingScreen
from companion.screens.key_line import Foot, KeyLine
from companion.screens.lines import Lines
from companion.screens.offered import Offered
from companion.screens.tool_bar import ToolBar
from tests.dialogue.at_the_easel import BLANK, plan


@asynccontextmanager
async def at_the_board(folder: Path, size: tuple[int, int] = (80, 24)) -> AsyncIterator[At]:
    """The board with a blank drawing of eight stitches and five rows above a plain one."""
    (folder / "pier.yaml").write_text(plan(), encoding="utf-8")
    async with opened(lambda knitter: draw(knitter, folder / "pier.yaml", folder), size) as at:
        yield at


async def saved(at: At, folder: Path) -> tuple[str, ...]:
    """The drawing as it stands in the file, once the last stroke is there."""
    [board] = [screen for screen in at.app.screen_stack if isinstance(screen, DrawingScreen)]
    await until(lambda: board.painting.board.is_saved)
    return chart(folder)


def chart(folder: Path) -> tuple[str, ...]:
    """The same, as it stands there now."""
    lines = (folder / "pier.yaml").read_text(encoding="utf-8").splitlines()
    return tuple(line.strip() for line in lines[lines.index("  - chart: |  # from the top") + 1:])


def at_stitch(at: At, row: int, column: int) -> tuple[int, int]:
    """Where a stitch is on the terminal, both counted from 1."""
    canvas = at.app.screen.query_one(Canvas)
    for y in range(canvas.size.height):
        for x in range(canvas.size.width):
            if (row - 1, column) in canvas.frame(*canvas.size).cells_at(x, y):
                return canvas.region.x + x, canvas.region.y + y
    raise AssertionError(f"row {row}, stitch {column} is not on the screen")


async def click_key(at: At, deed: str) -> None:
    """Click a key of the tool bar."""
    await click_foot(at, deed, ToolBar)


async def click_foot(at: At, deed: str, line: type[KeyLine] = Foot) -> None:
    """Click a key that stands at the foot of a question."""
    spot = next(spot for spot in at.app.screen.query_one(line).spots if spot.deed == deed)
    at.app.clicks.again = 0
    await at.pilot.click(line, offset=(spot.start + 1, spot.line))
    await at.pilot.pause()


async def drag(pilot: Pilot[None], start: tuple[int, int], end: tuple[int, int]) -> None:
    await pilot.mouse_down(offset=start)
    await pilot.hover(offset=end)
    await pilot.mouse_up(offset=end)
    await pilot.pause()


async def test_a_boat_is_drawn_by_keys_alone_and_every_stroke_is_in_the_file(tmp_path: Path) -> None:
    async with at_the_board(tmp_path) as at:
        assert isinstance(at.app.screen, DrawingScreen)
        await at.press("left", "2", "l", "left", "left", "left", "space")
        assert (await saved(at, tmp_path)) == (*BLANK[:4], "sssiiiis")
        await at.press("up", "right", "3", "a", "up", "up", "right", "space")
        assert (await saved(at, tmp_path)) == ("ssssssss", *["ssssbbss"] * 3, "sssiiiis")
        await at.press("u", "u")
        assert (await saved(at, tmp_path)) == BLANK
        tools = at.app.screen.query_one(ToolBar)
        keys = {deed.name: deed.key for deed in deeds_of("drawing")}
        for spot in tools.spots[::2]:  # each key, and then its word
            assert at.lines[tools.region.y + spot.line][spot.start:spot.end].strip() == keys[spot.deed]
        await at.press("q")
        assert not at.app.is_running


@pytest.fixture
def unsaved(monkeypatch: pytest.MonkeyPatch) -> None:
    """Time stands still between the paint of a stroke and its saving."""
    monkeypatch.setattr("companion.screens.drawing.PAINTED", 3600)


@pytest.mark.usefixtures("unsaved")
async def test_a_stroke_is_painted_and_then_saved_before_the_next_one_and_before_the_board_is_left(
    tmp_path: Path,
) -> None:
    async with at_the_board(tmp_path) as at:
        await at.press("2", "space")
        assert chart(tmp_path) == BLANK
        assert "2 strands" in at.text
        assert "Row 2, stitch 1: ink" in at.text
        await at.press("left", "space")
        assert chart(tmp_path) == (*BLANK[:4], "sssssssi")
        await drag(at.pilot, at_stitch(at, 4, 2), at_stitch(at, 4, 3))
        assert chart(tmp_path) == (*BLANK[:4], "ssssssii")
        await at.press("q")
        assert chart(tmp_path) == ("ssssssss", "ssssssss", "sssssiis", "ssssssss", "ssssssii")


@pytest.mark.usefixtures("unsaved")
@pytest.mark.parametrize("key", ["q", "ctrl+q"])
async def test_the_app_ends_with_the_last_stroke_saved(tmp_path: Path, key: str) -> None:
    async with at_the_board(tmp_path) as at:
        await at.press("2", "space")
        assert chart(tmp_path) == BLANK
        await at.press(key)
        await until(lambda: not at.app.is_running)
    assert chart(tmp_path) == (*BLANK[:4], "sssssssi")


def no_room(*_: object) -> None:
    """A disk that is full."""
    raise OSError(28, "No space left on device")


async def test_what_cannot_be_saved_is_shown_no_longer_and_that_is_said(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("companion.screens.drawing.LOOKED", 3600)
    async with at_the_board(tmp_path) as at:
        with monkeypatch.context() as full:
            full.setattr(os, "fsync", no_room)
            await at.press("2", "space")
            await until(lambda: "This cannot be saved, and is not drawn: No space left on device." in at.text)
            assert "1 strand" in at.text
            assert "Row 2, stitch 1: sand" in at.text
        await at.press("space")
        assert (await saved(at, tmp_path)) == (*BLANK[:4], "sssssssi")


@pytest.mark.usefixtures("unsaved")
async def test_the_board_is_not_left_where_the_last_stroke_cannot_be_saved_until_that_is_read(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    async with at_the_board(tmp_path) as at:
        monkeypatch.setattr(os, "fsync", no_room)
        await at.press("2", "space", "q")
        assert isinstance(at.app.screen, DrawingScreen)
        assert "This cannot be saved, and is not drawn: No space left on device." in at.text
        await at.press("q")
        assert not at.app.is_running
    assert chart(tmp_path) == BLANK


@pytest.mark.usefixtures("unsaved")
async def test_a_bug_in_painting_costs_no_stroke(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    async def painted() -> None:
        async with at_the_board(tmp_path) as at:
            await at.press("2")
            monkeypatch.setattr(CostsPanel, "draw", lambda *_: 1 // 0)
            await at.press("space")

    with pytest.raises(ZeroDivisionError):
        await painted()
    assert chart(tmp_path) == (*BLANK[:4], "sssssssi")


async def test_the_same_boat_is_drawn_by_the_mouse_alone(tmp_path: Path) -> None:
    async with at_the_board(tmp_path) as at:
        yarns = at.app.screen.query_one(CostsPanel)
        line = next(y for y, text in enumerate(at.lines) if " ink" in text)
        await at.pilot.click(CostsPanel, offset=(5, line - yarns.region.y))
        await drag(at.pilot, at_stitch(at, 2, 2), at_stitch(at, 2, 5))
        assert (await saved(at, tmp_path)) == (*BLANK[:4], "sssiiiis")
        line = next(y for y, text in enumerate(at.lines) if " brick" in text)
        await at.pilot.click(CostsPanel, offset=(5, line - yarns.region.y))
        await click_key(at, "block")
        await drag(at.pilot, at_stitch(at, 3, 3), at_stitch(at, 5, 4))
        assert (await saved(at, tmp_path)) == ("ssssssss", *["ssssbbss"] * 3, "sssiiiis")
        await at.pilot.click(offset=at_stitch(at, 6, 1), button=3)
        assert (await saved(at, tmp_path))[0] == "ssssssss", "the right button looks"
        assert "Row 6, stitch 1: sand" in at.text
        await click_key(at, "text")
        letters = at.app.screen.query_one(Offered)
        top = at.lines[letters.region.y][letters.region.x:]
        for letter in "BDB":
            await at.pilot.click(letters, offset=(top.index(f" {letter} ") + 1, 0))
        assert at.app.screen.query_one(Input).value == "BDB"
        await at.pilot.click(letters, offset=(top.index(" B ") + 3, 0))
        assert at.app.screen.query_one(Input).value == "BDB", "beside the letters"
        await click_foot(at, "answer")
        assert at.app.screen.query_one(Canvas)._painting.parts.floating == written("BDB", "brick")
        await click_key(at, "let_go")
        await click_key(at, "undo")
        await click_key(at, "undo")
        assert (await saved(at, tmp_path)) == BLANK
        await click_key(at, "board_quit")
        assert not at.app.is_running


@pytest.mark.parametrize("size", [SIZES[0], SIZES[-1]])
async def test_what_it_costs_is_in_sight_in_every_size_and_so_is_the_way_to_all_keys(
    tmp_path: Path, size: tuple[int, int]
) -> None:
    async with at_the_board(tmp_path, size) as at:
        await at.press("up", "left", "left", "2", "space")
        await until(lambda: "3 at once" in at.text)
        for figure in ("3 strands", "6 ends", " m "):
            assert figure in at.text, figure
        if size[0] > 40:  # each yarn on a line of its own, with metres too
            await until(lambda: re.search(r"1 s sand -2 -\d\.\d m", at.part("costs")) is not None)
            assert "Strands if painted:" in at.part("costs")
        else:
            assert at.app.screen.query_one(CostsPanel).size.height == 2
            assert re.search(r"painted: 1 s [+-]\d ?▶2 i · 3 b [+-]?\d", at.part("costs")), "names have no room"
        assert "all q quit" in at.text
        assert at_stitch(at, 3, 3)
        await at.press("f1")
        assert "The drawing board: type to find" in at.text
        await at.press(*"outl", "enter")
        assert "to here" in at.text


NAMES = [f"harbourfront {letter}" for letter in "abcdefgh"]


@pytest.mark.parametrize("size", [SIZES[0], (80, 24)])
async def test_all_that_eight_yarns_of_long_names_cost_is_in_sight(tmp_path: Path, size: tuple[int, int]) -> None:
    """Beside the chart with metres, names shortened for them; above it in figures alone."""
    yarns = "".join(f"  {name}: {{colour: '#{at}{at}4060'}}\n" for at, name in enumerate(NAMES, 1))
    signs = ", ".join(f"{name[-1]}: {name}" for name in NAMES)
    rows = "aaaabbbbccccddddeeeeffffgggghhhh\n      " * 6
    text = f"""plan: 1
title: Eight
gauge: {{stitches: 20, rows: 28, over: 10 cm}}
yarns:
{yarns}symbols: {{{signs}}}
rows:
  - chart: |
      {rows}
"""
    (tmp_path / "eight.yaml").write_text(text, encoding="utf-8")
    async with opened(lambda knitter: draw(knitter, tmp_path / "eight.yaml", tmp_path), size) as at:
        await at.press("up")
        await until(lambda: "8 at once" in at.text)
        for figure in ("8 strands", "16 ends", r"\d\.\d m"):
            assert re.search(figure, at.part("costs")), figure
        if size[0] > 40:
            await until(lambda: at.part("costs").count(" m") == 1 + 7)
            for number, name in enumerate(NAMES[:7], 1):
                assert re.search(rf"{number} {name[-1]} harb\w*… \+\d \+\d\.\d m", at.part("costs")), name
        else:
            assert all(re.search(rf"{number} {name[-1]} [+-]?[\d·]", at.part("costs"))
                       for number, name in enumerate(NAMES, 1))


async def test_without_colours_letters_stand_in_the_cells_however_small_they_are(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setenv("NO_COLOR", "1")
    async with at_the_board(tmp_path) as at:
        await at.press("2", "space", "up")
        for wanted in ("sssssssi", " s  s  s  s  s  s  s  i ", "s s s s s s s i "):
            await at.press("z")
            assert any(wanted in line for line in at.lines[:8]), wanted
            assert "▀" not in at.text


async def test_where_a_row_is_wider_than_the_screen_it_says_what_shows_more(tmp_path: Path) -> None:
    (tmp_path / "wide.yaml").write_text(plan(["s" * 40] * 5), encoding="utf-8")
    async with opened(lambda knitter: draw(knitter, tmp_path / "wide.yaml", tmp_path), (40, 15)) as at:
        await at.press("left", "right")
        assert "18 of 40 stitches seen: z shows more." in at.text
        await at.press("s", "up", "up", "up", "ctrl+left")
        assert "Row 5, stitch 11: sand. Selecting 11 x 4. space to here" in at.text, "two lines, and nothing cut off"
        await at.press("escape")
        await at.press("z")
        assert "34 of 40 stitches seen" not in at.text, "nothing shows more than that"
        assert at_stitch(at, 2, 30)
    async with at_the_board(tmp_path) as at:
        assert "seen: z" not in at.text


async def test_in_the_smallest_view_two_rows_share_a_line_and_the_mouse_paints_both(tmp_path: Path) -> None:
    async with at_the_board(tmp_path) as at:
        await at.press("z", "2")
        assert "▀▀▀▀▀▀▀" in at.text
        await drag(at.pilot, at_stitch(at, 4, 2), at_stitch(at, 4, 4))
        assert (await saved(at, tmp_path)) == ("ssssssss", "ssssssss", "ssssiiis", "ssssiiis", "ssssssss")


async def test_a_stitch_that_cannot_be_painted_says_so_where_the_cursor_is(tmp_path: Path) -> None:
    async with at_the_board(tmp_path) as at:
        await at.press("down")
        why = "These are plain rows: a chart in their place can be painted (line 7)."
        assert f"It cannot be painted. {why}" in at.text
        assert "A new plan without a border can be painted all over." in at.text
        await at.press("y")
        assert "pier.yaml:7" in at.letters
        await at.press("escape", "up")
        assert "It cannot be painted" not in at.text


async def test_keys_that_come_all_at_once_are_for_what_is_asked(tmp_path: Path) -> None:
    async with at_the_board(tmp_path) as at:
        for key in ("2", "9", "space", "3", "t", "b", "p", "enter"):  # there is no ninth yarn
            at.app.post_message(events.Key(key, key if len(key) == 1 else None))
        parts = at.app.screen.query_one(Canvas)._painting.parts
        await until(lambda: parts.floating is not None)
        assert parts.floating == written("bp", "brick")
        assert (await saved(at, tmp_path)) == (*BLANK[:4], "sssssssi")


async def test_a_board_that_was_made_smaller_or_larger_has_its_parts_where_one_of_that_size_has_them(
    tmp_path: Path,
) -> None:
    wanted = dict[tuple[int, int], list[Region]]()
    for size in ((120, 40), (80, 24), (60, 20), (50, 20)):
        async with at_the_board(tmp_path, size) as at:
            wanted[size] = [part.region for part in at.app.screen.query(Lines)]
    async with at_the_board(tmp_path) as at:
        for size, regions in wanted.items():
            await at.pilot.resize_terminal(*size)
            await until(lambda regions=regions: [it.region for it in at.app.screen.query(Lines)] == regions)


async def test_names_from_files_are_shown_and_never_obeyed(tmp_path: Path) -> None:
    text = plan().replace("sand", '"[MC] [/ [red]x"')
    (tmp_path / "odd.yaml").write_text(text, encoding="utf-8")
    async with opened(lambda knitter: draw(knitter, tmp_path / "odd.yaml", tmp_path), (120, 40)) as at:
        await at.press("0")
        assert "[MC] [/ [red]x" in at.text
        await at.press("escape")
        assert "Row 2, stitch 1: [MC] [/ [red]x" in at.part("costs")


async def test_a_file_that_is_changed_elsewhere_is_seen_without_a_key(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("companion.screens.drawing.LOOKED", 0.05)
    async with at_the_board(tmp_path) as at:
        (tmp_path / "pier.yaml").write_text(plan(("ssssssib", *BLANK[1:])), encoding="utf-8")
        await until(lambda: "The plan file was changed elsewhere: it is shown as it is now." in at.text)
        assert "s i b" in " ".join(at.lines[0].split())


async def test_the_wheel_scrolls_and_the_next_key_comes_back(tmp_path: Path) -> None:
    """Up and down, with shift or ctrl or where it tilts sideways."""
    (tmp_path / "high.yaml").write_text(plan(["s" * 100] * 60), encoding="utf-8")
    async with opened(lambda knitter: draw(knitter, tmp_path / "high.yaml", tmp_path), (80, 24)) as at:
        canvas = at.app.screen.query_one(Canvas)
        corners = [(canvas.frame(*canvas.size).low, canvas.frame(*canvas.size).right)]
        for kind, shift, ctrl in (
            (events.MouseScrollUp, False, False), (events.MouseScrollUp, True, False),
            (events.MouseScrollLeft, False, False), (events.MouseScrollDown, False, True),
            (events.MouseScrollRight, False, False), (events.MouseScrollDown, False, False),
        ):  # fmt: skip
            canvas.post_message(kind(canvas, 1, 1, 0, 0, 0, shift, False, ctrl))
            await at.press()
            corners.append((canvas.frame(*canvas.size).low, canvas.frame(*canvas.size).right))
        assert corners == [(0, 1), (3, 1), (3, 4), (3, 7), (3, 4), (3, 1), (0, 1)]
        canvas.scroll_by(30, 0)
        assert canvas.frame(*canvas.size).low == 30
        canvas.scroll_by(300, 0)
        assert canvas.frame(*canvas.size).low == 61 - canvas.frame(*canvas.size).up
        await at.press("up")
        assert canvas.frame(*canvas.size).low == 0


async def test_a_demo_plan_in_the_basket_is_copied_and_the_copy_drawn_in(tmp_path: Path) -> None:
    async with opened(lambda knitter: show(BasketList(knitter, shelf(tmp_path), tmp_path, (SWATCH,)))) as at:
        await at.press("d")
        assert "A demo plan stays as it is: draw in a copy." in at.text
        await at.press("enter")
        assert isinstance(at.app.screen, DrawingScreen)
        await at.press("shift+up", "shift+left", "3", "space", "q")
        assert "Plans in this folder" in at.text
        await at.press("end", "d")
        assert "swatch-2.yaml" in at.text, "never over a file"
    copied, own = (tmp_path / "swatch.yaml").read_text(encoding="utf-8"), SWATCH.read_text(encoding="utf-8")
    assert len(copied.splitlines()) == len(own.splitlines())
    assert sum(one != other for one, other in zip(copied.splitlines(), own.splitlines(), strict=True)) == 1
