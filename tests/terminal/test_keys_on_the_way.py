"""Keys that come while another screen is on its way, all in one write, end nothing; the next keys are answered."""

from __future__ import annotations

import sys
from pathlib import Path

import pytest

if sys.platform == "win32":
    pytest.skip("no pseudo-terminals", allow_module_level=True)

from pseudo_terminal import PAGE_DOWN, SPACE, Terminal, knitting
from swatch import places, shown

from tests.patience import Patience

PAGE_UP, CTRL_P, ESCAPE, END = b"\x1b[5~", b"\x10", b"\x1b", b"\x1b[F"

BURSTS = (
    b"e" + PAGE_DOWN, PAGE_UP + b"e" + PAGE_DOWN * 3, b"e" + END + PAGE_UP, b"s" + PAGE_DOWN * 5, b"," + PAGE_DOWN,
    b"t" + PAGE_DOWN + b"g" + PAGE_UP, b"d" + PAGE_DOWN, PAGE_DOWN + b"d" + PAGE_UP, b"de" + PAGE_DOWN,
    CTRL_P + PAGE_DOWN, PAGE_DOWN + CTRL_P + PAGE_UP, CTRL_P * 3 + PAGE_UP * 4 + PAGE_DOWN,
    b"d" + CTRL_P + PAGE_DOWN, b"s" + CTRL_P + PAGE_UP, b"e" + CTRL_P + PAGE_UP * 2,
    b"eq" + PAGE_DOWN, b"sq" + CTRL_P + PAGE_UP, b"tq" + PAGE_DOWN + b"tq", b"?" + PAGE_DOWN + b"?" + CTRL_P,
)  # fmt: skip


def test_page_keys_that_come_with_the_key_for_a_list_end_nothing(tmp_path: Path) -> None:
    with knitting(tmp_path) as terminal:
        for burst in BURSTS:
            terminal.send(burst)
            leave(terminal, burst)
        at = places().index(shown(terminal.text) or places()[0])
        terminal.send(SPACE)
        terminal.wait_until(lambda: shown(terminal.text) == places()[at + 1], "the next step")


def leave(terminal: Terminal, burst: bytes) -> None:
    """Leave whatever is open, until the working screen is there."""
    patience = Patience()
    while not patience.is_over:
        terminal.wait_until_still()
        text = terminal.text
        assert terminal.process.poll() is None, f"{burst!r} ended it: {text}"
        if "q quit" in text and shown(text):
            return
        terminal.send(ESCAPE)
    raise AssertionError(f"{burst!r}: {terminal.text}")
