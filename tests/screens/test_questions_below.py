"""What is asked stands at the foot, and what it is about stays in sight above it."""

from __future__ import annotations

import re
from pathlib import Path

import pytest
from at_the_needles import COWL, CUSHION, JUMPER, SIZES, SWATCH, At, at_the_needles, until

from companion.screens.knitting import KnittingScreen
from companion.screens.touch import LargePlace


def below(at: At) -> KnittingScreen:
    """The working screen, which something is asked over."""
    screen = at.app.screen_stack[1]
    assert isinstance(screen, KnittingScreen)
    return screen


async def asked(at: At, *keys: str) -> int:
    """The line on which the question begins."""
    await at.press(*keys)
    await until(lambda: below(at)._lent > 0)
    await at.pilot.pause()
    return next(y for y, line in enumerate(at.lines) if "┌──" in line)


async def not_answered(at: At) -> None:
    """The question is left, and all of the screen is the piece's again."""
    await at.press("escape")
    await until(lambda: at.app.screen is below(at) and below(at)._lent == 0)
    await at.pilot.pause()


@pytest.mark.parametrize("size", SIZES)
async def test_the_run_in_work_stays_in_sight_above_a_question(tmp_path: Path, size: tuple[int, int]) -> None:
    async with at_the_needles(tmp_path, row=21, runs=1, size=size) as at:
        top = await asked(at, "q")
        above = " ".join(at.lines[:top])
        assert "Row 21 of 32" in above
        if size[1] > 20:  # on fewer lines the first act of it has all of the room
            assert re.search("▶ *c  ?k6 coral", above)
        assert "q quit" not in at.text, "its keys do nothing now"
        assert "y stop here" in at.lines[-2]


@pytest.mark.parametrize("size", [(80, 24), (120, 40), (200, 60)])
async def test_the_chart_stays_in_sight_above_a_question(tmp_path: Path, size: tuple[int, int]) -> None:
    async with at_the_needles(tmp_path, row=21, runs=1, size=size) as at:
        for keys in ("q", "g", "r", "n", "r 1 8 enter"):
            top = await asked(at, *keys.split())
            in_work = [line for line in at.lines[:top] if "◀21" in line or "[ c" in line or "[c]" in line]
            assert in_work, (keys, at.lines)
            await not_answered(at)


@pytest.mark.parametrize(
    ("plan", "row", "runs"), [(SWATCH, 10, 1), (CUSHION, 60, 4), (CUSHION, 61, 2), (JUMPER, 50, 1), (COWL, 20, 1)]
)
async def test_run_and_row_in_work_are_seen_in_the_chart_above_a_question(
    tmp_path: Path, plan: Path, row: int, runs: int
) -> None:
    """Where much is told of the run, that gives way; the longest question has ten lines."""
    async with at_the_needles(tmp_path, plan, row=row, runs=runs) as at:
        for key in ("g", "r", "n", "q", "x", "i"):
            top = await asked(at, key)
            above = at.lines[:top]
            assert [line for line in above if re.search(r"\[ ?\w.*\]|\[\w\]", line)], (key, at.lines)
            assert any(re.search("▶.*◀", line) for line in above), (key, at.lines)
            assert f"{row} of" in above[0], key
            await not_answered(at)


@pytest.fixture
def for_ever(monkeypatch: pytest.MonkeyPatch) -> None:
    """What is held is not painted before it is let go."""
    monkeypatch.setattr("companion.screens.whole_pictures.MOST_HELD", 3600)


@pytest.mark.usefixtures("for_ever")
async def test_a_question_that_something_was_looked_for_over_is_painted_again_at_once(tmp_path: Path) -> None:
    async with at_the_needles(tmp_path, row=21, runs=1) as at:
        await asked(at, "x")
        await at.press("ctrl+p")
        assert "type to find" in at.text
        await at.press("escape")
        assert not at.app.is_held, "its room was made before"
        assert not isinstance(at.app.screen, KnittingScreen)


@pytest.mark.usefixtures("for_ever")
async def test_what_was_answered_is_painted_as_soon_as_it_is_done(tmp_path: Path) -> None:
    async with at_the_needles(tmp_path, row=21, runs=1) as at:
        for keys in ("q n", "g 9 enter", "n h enter"):
            await at.press(*keys.split())
            assert at.app.screen is below(at)
            assert not at.app.is_held


async def test_the_room_is_given_back(tmp_path: Path) -> None:
    async with at_the_needles(tmp_path, row=21, runs=1) as at:
        before = at.lines
        for keys, answer in (("q", "n"), ("r", "escape"), ("x", "escape"), ("i z enter", "escape")):
            await at.press(*keys.split())
            await until(lambda: below(at)._lent > 0)
            await at.press(answer)
            screen = at.app.screen
            assert isinstance(screen, LargePlace)
            await until(lambda: below(at)._lent == 0)
            await at.pilot.pause()
            assert at.lines == before
