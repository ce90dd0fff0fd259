"""What is sewn on: each area with its chart, ticked off, saved; the way to finished."""

from __future__ import annotations

import re
from pathlib import Path

import pytest
from at_the_needles import at_the_needles, on_disk, painted

from companion.knitting.cloth.areas import Cell
from companion.screens.sewing import SewingScreen

GULL = """\
plan: 1
title: Gull
gauge: {stitches: 20, rows: 28}
yarns:
  sand: {colour: tan}
  ink: {colour: black}
symbols:
  s: sand
  k: {yarn: sand, sewn: ink}
rows:
  - chart: |
      ssssssssss
      sssssskkks
      ssssssssss
      ssksssssss
      ssssssssss
"""


@pytest.fixture
def gull(tmp_path: Path) -> Path:
    plan = tmp_path / "gull.yaml"
    plan.write_text(GULL, encoding="utf-8")
    return plan


async def test_areas_are_ticked_off_after_the_bind_off(tmp_path: Path, gull: Path) -> None:
    async with at_the_needles(tmp_path, gull, row=5) as at:
        await at.press("space", "space")
        assert "Weave in 2 ends" in at.part("now")
        await at.press("space", *["space", "down"] * 2, "escape")
        assert "Sew on 2 areas in duplicate stitch" in at.part("now")
        await at.press("space")
        assert isinstance(at.app.screen, SewingScreen)
        assert "Duplicate stitch: 2 areas to sew on." in at.text
        assert "○ to do ▏k▕ ink 1 2 8 1" in at.text
        assert "Ink, right to left, from the bottom up; leave 10 cm at both ends to weave in." in at.text
        drawn = [line for line in painted(at.app) if "[k]" in line]
        assert [line.rstrip().endswith("◀2") for line in drawn] == [True]
        await at.press("space", "down")
        assert "✓ done ▏k▕ ink 1 2 8 1" in at.text
        drawn = [line for line in painted(at.app) if "[k]" in line]
        assert [line.count("[k]") for line in drawn] == [3]
        await at.press("enter", "escape")
        assert "Wash the piece" in at.part("now")
    assert on_disk(tmp_path, "Gull").sewn == {Cell(1, 8), Cell(3, 2)}


async def test_before_the_bind_off_they_are_shown_and_not_ticked(tmp_path: Path, gull: Path) -> None:
    async with at_the_needles(tmp_path, gull, row=2) as at:
        assert "×" in at.part("chart")
        await at.press("d", "space")
        assert "Areas are sewn on when the piece is bound off." in at.text
        await at.press("escape")
    assert on_disk(tmp_path, "Gull").sewn == set()


async def test_a_piece_with_nothing_to_sew_says_so(tmp_path: Path) -> None:
    async with at_the_needles(tmp_path) as at:
        await at.press("d")
        assert "Nothing is sewn on to this piece." in at.part("end")


@pytest.mark.parametrize("size", [(40, 15), (80, 24), (120, 40), (200, 60)])
async def test_the_chart_and_the_list_have_room(tmp_path: Path, gull: Path, size: tuple[int, int]) -> None:
    async with at_the_needles(tmp_path, gull, row=2, size=size) as at:
        await at.press("d")
        assert any("[k]" in line for line in painted(at.app))
        assert re.search(r"○ (to do )?▏k▕ ink 1 2 8", at.text)
        if size[0] in (40, 120):
            beside = "".join(line[:40 if size[0] == 40 else 60] for line in at.lines).replace(" ", "")
            assert "todo:1stitchofinkfromrow2,stitch8fromtheright,with1length" in beside
