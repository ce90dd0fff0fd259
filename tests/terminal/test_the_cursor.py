"""The terminal's cursor stands where what is done now is told: braille displays show the line it is on."""

from __future__ import annotations

import sys
from pathlib import Path

import pytest

if sys.platform == "win32":
    pytest.skip("no pseudo-terminals", allow_module_level=True)

from pseudo_terminal import SPACE, Terminal, knitting

ROW = "Knit 24 in shell."


def at_the_cursor(terminal: Terminal) -> str:
    """The line with the cursor, from the cursor on."""
    cursor = terminal.screen.cursor
    return terminal.screen.display[cursor.y][cursor.x:].rstrip()


def test_the_cursor_stands_at_the_sentence_that_tells_the_act(tmp_path: Path) -> None:
    with knitting(tmp_path) as terminal:
        cast_on = "Cast on 24 sts in shell (8 m, bobbin)."
        terminal.wait_until(lambda: at_the_cursor(terminal).startswith(cast_on), "the cast-on")
        terminal.send(SPACE)
        terminal.wait_until(lambda: at_the_cursor(terminal) == ROW, "the second row")
        terminal.send(SPACE * 3)
        terminal.wait_until(lambda: at_the_cursor(terminal).startswith("24 stitches must be on"), "the row's end")


def test_the_cursor_follows_row_by_row_in_the_far_view_and_after_a_list(tmp_path: Path) -> None:
    with knitting(tmp_path) as terminal:
        terminal.send(SPACE + b"f")
        terminal.wait_until(lambda: at_the_cursor(terminal) == ROW, "the far view")
        terminal.send(b"fm")
        terminal.wait_until(lambda: "k24 shell" in at_the_cursor(terminal), "the row")
        terminal.send(b"mn")
        terminal.wait_for("leave it")
        terminal.send(b"ok\r" + SPACE)
        terminal.wait_until(lambda: at_the_cursor(terminal) == ROW, "the third row")
