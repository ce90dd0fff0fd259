"""A key tells every step once in each register, however many parts of the screen show it."""

from __future__ import annotations

import sys
from collections import Counter
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from types import FrameType
from typing import Any

import pytest

from companion.knitting.words import steps
from tests.screens.at_the_needles import CUSHION, SWATCH, at_the_needles

TELL = steps.tell.__code__


@contextmanager
def watched() -> Iterator[Counter[tuple[int, str]]]:
    """Which steps are told meanwhile, each in which register, and how often."""
    counted = Counter[tuple[int, str]]()
    kept = []

    def watch(frame: FrameType, event: str, _: Any) -> None:
        if event == "call" and frame.f_code is TELL:
            step = frame.f_locals["step"]
            kept.append(step)  # so that no other one has its number
            counted[id(step), frame.f_locals["register"]] += 1

    sys.setprofile(watch)
    try:
        yield counted
    finally:
        sys.setprofile(None)


@pytest.mark.parametrize("size", [(80, 24), (120, 40)])
@pytest.mark.parametrize("mode", [[], ["m"]], ids=["run by run", "row by row"])
@pytest.mark.parametrize(("plan", "row"), [(SWATCH, 19), (CUSHION, 51)], ids=["swatch", "cushion"])
async def test_no_step_is_told_twice_for_one_key(
    tmp_path: Path, plan: Path, row: int, size: tuple[int, int], mode: list[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    """What is foreseen is told before its key; it would be counted now and then with the key before it."""
    monkeypatch.setattr("companion.screens.one_by_one.FORESEES_AFTER", 3600)
    async with at_the_needles(tmp_path, plan, row=row, size=size) as at:
        await at.press(*mode, "space")
        total = 0
        for _ in range(4 if mode else 10):
            with watched() as counted:
                await at.press("space")
            assert not [pair for pair, times in counted.items() if times > 1]
            total += counted.total()
        assert total, "something is told"
