"""The drawing board in the real program: killed or ended between the paint of a stroke and its saving; and what is
painted stroke by stroke."""

from __future__ import annotations

import signal
import sys
from pathlib import Path

import pytest

if sys.platform == "win32":
    pytest.skip("no pseudo-terminals", allow_module_level=True)

from pseudo_terminal import Terminal

from tests.dialogue.at_the_easel import plan

STROKES = 5


@pytest.mark.parametrize("how", [signal.SIGKILL, signal.SIGTERM, signal.SIGINT])
def test_of_strokes_that_were_painted_a_kill_costs_the_last_at_most_and_an_end_none(
    tmp_path: Path, how: signal.Signals
) -> None:
    file = tmp_path / "pier.yaml"
    file.write_text(plan(), encoding="utf-8")
    with Terminal(tmp_path, "draw", "pier.yaml", is_fresh=False) as terminal:
        terminal.wait_for("1 strand", "quit")
        terminal.send(b"2p")
        terminal.wait_for("Row 2, stitch 1: ink")
        for at in range(2, STROKES + 1):
            terminal.send(b"\x1b[D")
            terminal.wait_for(f"Row 2, stitch {at}: ink")
        terminal.process.send_signal(how)
        if how == signal.SIGKILL:
            terminal.process.wait()
        else:
            terminal.wait_for_end()
    last = file.read_text(encoding="utf-8").splitlines()[-1].strip()
    assert last in ["s" * (8 - many) + "i" * many for many in (STROKES, STROKES - (how == signal.SIGKILL))]


def picture(terminal: Terminal) -> list[list[tuple[object, ...]]]:
    """Every cell that the terminal shows: its sign and how it looks."""
    return [[tuple(terminal.screen.buffer[y][x]) for x in range(80)] for y in range(24)]


def test_what_is_painted_stroke_by_stroke_is_what_is_painted_whole(tmp_path: Path) -> None:
    (tmp_path / "pier.yaml").write_text(plan(), encoding="utf-8")
    with Terminal(tmp_path, "draw", "pier.yaml", is_fresh=False) as terminal:
        terminal.wait_for("1 strand", "quit")
        for keys, then in (
            (b"2 ", "stitch 1: ink"), (b"\x1b[A\x1b[D3 ", "Row 3, stitch 2: brick"), (b"z", "▀"),
            (b"z", "[b]"), (b"z", ">b"),
            (b"2p\x1b[D\x1b[D\x1b[D", "stitch 5: ink"), (b"\x1b[A", "Row 4, stitch 5: ink"), (b"pu", "sand"),
        ):  # fmt: skip
            terminal.send(keys)
            terminal.wait_for(then)
        terminal.wait_until(lambda: terminal.text.count(" m\n") == 3, "metres of all and of two yarns")
        terminal.wait_until_still(1.0)
        painted = picture(terminal)
        terminal.resize(81, 24)
        terminal.wait_for("quit")
        terminal.resize(80, 24)
        terminal.wait_until(lambda: picture(terminal) == painted, "the same picture")
