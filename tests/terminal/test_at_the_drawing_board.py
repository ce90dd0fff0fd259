"""The drawing board in the real program: killed or ended between the paint of a stroke and its saving."""

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
