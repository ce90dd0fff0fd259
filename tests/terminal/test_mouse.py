"""What a terminal sends for a mouse or a finger, and what is done then."""

from __future__ import annotations

import sys
import time
from pathlib import Path

import pytest

if sys.platform == "win32":
    pytest.skip("no pseudo-terminals", allow_module_level=True)

from pseudo_terminal import Terminal, knitting
from swatch import places, shown

from companion.screens.clicks import AGAIN, LONG

LEFT, RIGHT, WHEEL_UP = 0, 2, 64
"""Numbers of buttons as xterm reports them in its SGR mode ("XTerm Control Sequences", Mouse Tracking)."""


def down(button: int, column: int, line: int) -> bytes:
    """A button is pressed, in a cell counted from 0."""
    return b"\x1b[<%d;%d;%dM" % (button, column + 1, line + 1)


def up(button: int, column: int, line: int) -> bytes:
    """It is let go."""
    return b"\x1b[<%d;%d;%dm" % (button, column + 1, line + 1)


def click(terminal: Terminal, column: int, line: int, button: int = LEFT, held: float = 0.0) -> None:
    """One click, later than a double click of the one before."""
    time.sleep(AGAIN)
    terminal.send(down(button, column, line))
    if held:
        time.sleep(held)
    terminal.send(up(button, column, line))


def long_click(terminal: Terminal) -> None:
    """From step 1 back to the first. Where the machine stood still just when the button went down, the program may
    have seen it down for a moment only, which is a step on: that is taken back, and it is held down for longer."""
    for held in (LONG + 0.1, 2.0, 8.0, 20.0):
        click(terminal, 5, 3, held=held)
        terminal.wait_until(lambda: shown(terminal.text) in (places()[0], places()[2]), "a step back, or on")
        if shown(terminal.text) == places()[0]:
            return
        click(terminal, 5, 3, RIGHT)
        is_at(terminal, 1)
    raise AssertionError("a long click takes nothing back")


def is_at(terminal: Terminal, steps: int) -> None:
    """So many steps are shown."""
    terminal.wait_until(lambda: shown(terminal.text) == places()[steps], f"step {steps}")


def test_a_click_is_a_step_a_right_or_a_long_one_takes_it_back(tmp_path: Path) -> None:
    with knitting(tmp_path) as terminal:
        click(terminal, 5, 3)
        is_at(terminal, 1)
        click(terminal, 5, 3)
        is_at(terminal, 2)
        click(terminal, 5, 3, RIGHT)
        is_at(terminal, 1)
        long_click(terminal)
        time.sleep(AGAIN)
        terminal.send((down(LEFT, 5, 3) + up(LEFT, 5, 3)) * 2)
        is_at(terminal, 1)
        terminal.send(down(WHEEL_UP, 40, 18))
        keys = terminal.wait_for("? keys", "q quit").splitlines()[-1]
        click(terminal, keys.index("? keys"), 23)
        terminal.wait_for("type to find", "Something went wrong", " escape back")
        click(terminal, terminal.text.splitlines()[-1].index("escape"), 23)
        is_at(terminal, 1)
        click(terminal, keys.index("q quit"), 23)
        terminal.wait_for("y stop here")
        terminal.send(b"y")
        assert terminal.wait_for_end() == 0
