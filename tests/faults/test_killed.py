"""Killed at random moments, nothing that was shown is lost; see ``killed.py``."""

from __future__ import annotations

import sys
from pathlib import Path
from random import Random

import pytest

if sys.platform == "win32":
    pytest.skip("no pseudo-terminals", allow_module_level=True)

from tests.faults.killed import COASTER, rounds

ROUNDS = 15


def test_every_step_that_was_shown_is_there_after_a_kill_and_the_next_key_works(tmp_path: Path) -> None:
    tally = rounds(tmp_path, ROUNDS, Random(20_310_301), ROUNDS // 3)
    assert tally.rounds >= ROUNDS
    assert tally.at_row_ends >= ROUNDS / 3


def test_so_it_is_where_two_strands_share_a_run(tmp_path: Path) -> None:
    """Between its two parts, too: one strand has worked as far as the other hangs, which has not taken over yet."""
    tally = rounds(tmp_path, 9, Random(20_310_302), 2, COASTER)
    assert tally.rounds >= 9
    assert tally.at_row_ends >= 3
    assert tally.in_shared >= 2
