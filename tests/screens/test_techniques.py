"""Techniques and yarn at the needles: what is worked stays, and what is chosen is on disk."""

from __future__ import annotations

from pathlib import Path

from textual.widgets import OptionList

from companion.knitting.strands.limits import Carry
from companion.screens.knitting import KnittingScreen
from companion.screens.lists import TechniquesScreen
from tests.screens.at_the_needles import MAT, At, begun, on_disk, reopened, where

NAME = "Mooring mat"


async def compared(at: At) -> OptionList:
    """The screen of techniques with everything reckoned."""
    await at.pilot.press("t")
    for _ in range(200):
        await at.pilot.pause(0.02)
        screen = at.app.screen
        if isinstance(screen, TechniquesScreen) and screen.query_one(OptionList).option_count:
            return screen.query_one(OptionList)
    raise AssertionError("nothing was reckoned")


async def test_another_technique_is_worked_with_from_the_next_stitch(tmp_path: Path) -> None:
    begun(tmp_path, MAT, row=9, runs=1)
    before = on_disk(tmp_path, NAME)
    async with reopened(tmp_path, MAT) as at:
        lines = await compared(at)
        told = [str(lines.get_option_at_index(i).prompt) for i in range(lines.option_count)]
        assert told[0].startswith("worked with now  strict  ")
        assert told[-1].startswith("★ best  up to 3 sts behind, waiting up to 4 rows  5  10  ")
        await at.pilot.press("end", "enter")
        await at.pilot.pause(0.1)
        assert isinstance(at.app.screen, KnittingScreen)
        after = on_disk(tmp_path, NAME)
        assert (after.limits, where(after)) == (Carry(3, 3, 4), where(before))
        assert after.past.worked == before.past.worked
        assert after.strands.total.strands < before.strands.total.strands
        await at.press("backspace")
        assert on_disk(tmp_path, NAME).strands == before.strands


async def test_the_technique_in_force_is_not_chosen_twice(tmp_path: Path) -> None:
    begun(tmp_path, MAT, row=2)
    async with reopened(tmp_path, MAT) as at:
        await compared(at)
        await at.pilot.press("enter")
        await at.pilot.pause(0.1)
        assert "These limits are in force already." in at.text
        await at.pilot.press("g")
        await at.pilot.pause(1)
        assert at.app.screen.query_one(OptionList).option_count == 27
        await at.pilot.press("escape")
        assert on_disk(tmp_path, NAME).limits == Carry(3)


async def test_what_is_left_of_a_strand_lasts_or_not(tmp_path: Path) -> None:
    begun(tmp_path, MAT, row=5)
    async with reopened(tmp_path, MAT) as at:
        await at.press("s")
        await at.pilot.press("enter", *"40 cm", "enter")
        await at.pilot.pause(0.1)
        assert "Not enough: 40 cm of" in at.text
        assert "join new" in at.text
        await at.pilot.press("escape", "enter", *"80 m", "enter")
        await at.pilot.pause(0.1)
        assert "Enough: 80 m of" in at.text
        await at.pilot.press("escape", "enter", *"plenty", "enter")
        await at.pilot.pause(0.1)
        assert "must be a length such as 38 cm, 5 m, 15 in or 6 yd" in at.text
