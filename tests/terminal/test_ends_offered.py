"""Ends woven in at the turn where they are offered are woven in after the program was killed."""

from __future__ import annotations

import sys
from pathlib import Path

import pytest

if sys.platform == "win32":
    pytest.skip("no pseudo-terminals", allow_module_level=True)

from pseudo_terminal import SPACE, Terminal

from companion.plan.demo import demo_folder
from companion.plan.read import load
from companion.progress.actions import AtRow
from companion.progress.ends import ready_ends
from companion.progress.shelf import Shelf

NAME = "Harbour light cushion"


def woven(shelf: Shelf) -> int:
    """How many ends are woven in on the disk."""
    return len(shelf.resume(NAME, look_only=True).session.woven)


def test_the_offer_at_the_turn_three_woven_killed_and_three_woven(tmp_path: Path) -> None:
    folder = demo_folder()
    assert folder is not None
    plan = folder / "harbour-light-cushion.yaml"
    shelf = Shelf(tmp_path / "pieces")
    with shelf.start(load(plan), plan) as piece:
        piece.do(AtRow(29))
        ready = ready_ends(piece.session)
    assert ready >= 8
    with Terminal(tmp_path, "knit", "harbour-light-cushion") as terminal:
        terminal.wait_for("Row 29 of", "q quit")
        terminal.send(b"w")
        terminal.wait_for("and the wrong side faces you")
        terminal.send(b"e")
        terminal.wait_for("Ends ready to weave in:")
        for left in (1, 2, 3):
            terminal.send(SPACE)
            terminal.wait_until(lambda left=left: woven(shelf) == left, f"{left} woven in")
        terminal.kill()
        terminal.wait_for_end()
    assert woven(shelf) == 3
    with Terminal(tmp_path, "knit", "harbour-light-cushion") as terminal:
        terminal.wait_for("Row 30 of", "q quit")
        terminal.send(b"e")
        terminal.wait_for("Ends, on the fabric")
        terminal.send(b"f")
        terminal.wait_for("Ends ready to weave in")
        terminal.send(b"f")
        terminal.wait_for("Ends, woven in: 3")
