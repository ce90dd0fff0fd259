"""Techniques and yarn at the needles: what is worked stays, and what is chosen is on disk."""

from __future__ import annotations

from pathlib import Path

from textual.widgets import OptionList

from companion.knitting.strands.limits import Carry
from companion.screens.knitting import KnittingScreen
from companion.screens.lists import TechniquesScreen
from tests.screens.at_the_needles import MAT, At, begun, on_disk, reopened, until, where

NAME = "Mooring mat"


async def compared(at: At) -> OptionList:
    """The screen of techniques with everything reckoned."""
    await at.pilot.press("t")
    await until(lambda: isinstance(at.app.screen, TechniquesScreen) and bool(options(at).option_count))
    return options(at)


def options(at: At) -> OptionList:
    """The list on top."""
    return at.app.screen.query_one(OptionList)


async def test_another_technique_is_worked_with_from_the_next_stitch(tmp_path: Path) -> None:
    begun(tmp_path, MAT, row=9, runs=1)
    before = on_disk(tmp_path, NAME)
    async with reopened(tmp_path, MAT) as at:
        lines = await compared(at)
        told = [str(lines.get_option_at_index(i).prompt) for i in range(lines.option_count)]
        assert told[0].startswith("worked with now  strict  ")
        assert told[-1].startswith("★ best  up to 3 sts behind, waiting up to 4 rows  5  10  ")
        await at.pilot.press("end", "enter")
        await until(lambda: on_disk(tmp_path, NAME).limits == Carry(3, 3, 4))
        await until(lambda: isinstance(at.app.screen, KnittingScreen))
        after = on_disk(tmp_path, NAME)
        assert where(after) == where(before)
        assert after.past.worked == before.past.worked
        assert after.strands.total.strands < before.strands.total.strands
        await at.press("backspace")
        await until(lambda: on_disk(tmp_path, NAME).strands == before.strands)


async def test_the_technique_in_force_is_not_chosen_twice(tmp_path: Path) -> None:
    begun(tmp_path, MAT, row=2)
    async with reopened(tmp_path, MAT) as at:
        await compared(at)
        await at.pilot.press("enter")
        await until(lambda: "These limits are in force already." in at.text)
        await at.pilot.press("g")
        await until(lambda: options(at).option_count == 27)
        await at.pilot.press("escape")
        assert on_disk(tmp_path, NAME).limits == Carry(3)


async def test_what_is_left_of_a_strand_lasts_or_not(tmp_path: Path) -> None:
    begun(tmp_path, MAT, row=5)
    async with reopened(tmp_path, MAT) as at:
        await at.press("s")
        await at.pilot.press("enter", *"40 cm", "enter")
        await until(lambda: "Not enough: 40 cm of" in at.text)
        assert "join new" in at.text
        await at.pilot.press("escape", "enter", *"80 m", "enter")
        await until(lambda: "Enough: 80 m of" in at.text)
        await at.pilot.press("escape", "enter", *"plenty", "enter")
        await until(lambda: "must be a length such as 38 cm, 5 m, 15 in or 6 yd" in at.text)
