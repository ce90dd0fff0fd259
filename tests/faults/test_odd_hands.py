"""Odd and hasty hands never end the program, and lose nothing; see ``odd_hands.py``."""

from __future__ import annotations

import sys
from collections import Counter
from pathlib import Path
from random import Random

import pytest

if sys.platform == "win32":
    pytest.skip("no pseudo-terminals", allow_module_level=True)

from tests.faults.odd_hands import played

EVENINGS = 8


def test_odd_and_hasty_hands_end_nothing_and_lose_nothing(tmp_path: Path) -> None:
    done = Counter[str]()
    for evening in range(EVENINGS):
        done += played(tmp_path, Random(f"odd hands, evening {evening}"))
    assert all(done[kind] for kind in ("keys", "burst", "size", "mouse", "kill"))
