"""A break is suggested when it was asked for, at a turn, and not again at once."""

from __future__ import annotations

from pathlib import Path

import pytest
from at_the_needles import at_the_needles
from msgspec.structs import replace

from companion.screens.knitting import KnittingScreen
from companion.screens.resting import PAUSE, Resting


class Clock:
    """Seconds as a test sets them."""

    def __init__(self) -> None:
        self.at = 1000.0

    def __call__(self) -> float:
        return self.at


def test_after_so_many_minutes_of_work_at_a_turn_once() -> None:
    clock = Clock()
    resting = Resting(clock)
    told = []
    for minute in range(100):
        clock.at = 1000.0 + 60 * minute
        told += [minute] if resting.is_due(30, is_at_turn=minute % 7 == 0) else []
    assert told == [35, 70]


def test_a_pause_is_a_break_and_never_is_never() -> None:
    clock = Clock()
    resting = Resting(clock)
    clock.at += 60 * 29
    assert not resting.is_due(30, is_at_turn=True)
    clock.at += PAUSE
    assert not resting.is_due(30, is_at_turn=True)
    clock.at += 4 * 60
    assert not resting.is_due(0, is_at_turn=True)
    assert not Resting(clock).is_due(1, is_at_turn=True)


@pytest.mark.parametrize(("minutes", "at_press"), [(0, 0), (30, 9), (14, 5)])
async def test_it_is_said_at_the_turn_and_gone_with_the_next_step(
    tmp_path: Path, minutes: int, at_press: int
) -> None:
    """Rows 1 to 4 of the swatch are a run each, after which tide is to be had ready; rows 5 and 6 are two runs each.
    A turn is reached with press 1, 2, 3, 5, 7 and 9: what is to be done at the end of row 4 comes before its turn."""
    async with at_the_needles(tmp_path) as at:
        at.app.settings = replace(at.app.settings, break_after=minutes)
        clock = Clock()
        assert isinstance(at.app.screen, KnittingScreen)
        at.app.screen._resting = Resting(clock)
        told = []
        for _ in range(12):
            clock.at += 4 * 60
            await at.press("space")
            told.append("put the needles down" in at.text)
        assert at_press == (told.index(True) + 1 if any(told) else 0)
        assert not told[at_press] or minutes < 30
