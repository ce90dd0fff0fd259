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
    """Which of their keys leads out is a matter of what was on the screen when it came: where nobody was at the
    needles any more to be killed, there is another evening."""
    done, evening = Counter[str](), 0
    while evening < EVENINGS or not all(done[kind] for kind in ("keys", "burst", "size", "mouse", "kill")):
        done += played(tmp_path, Random(f"odd hands, evening {evening}"))
        evening += 1
        assert evening < 5 * EVENINGS, done
