"""A question opens in one picture and closes in one: what lies above it is divided anew by then, and nobody sees half
of one picture and half of the next."""

from __future__ import annotations

import sys
from itertools import groupby
from pathlib import Path

import pytest

if sys.platform == "win32":
    pytest.skip("no pseudo-terminals", allow_module_level=True)

from pseudo_terminal import ENTER, SPACE, knitting, pictures

ESCAPE = b"\x1b"

KEYS = (
    (SPACE * 6, "Row 5 of 32"),  # in mid-row, where it is asked whether to stop
    (b"q", "Stop here?"), (b"n", "q quit"), (b"g", "I am at the start"), (ESCAPE, "q quit"),
    (b"g", "I am at the start"), (b"9", " 9 "), (ENTER, "Row 9 of 32"),
    (b"r", "Rip back: which row"), (b"3", " 3 "), (ENTER, "undone"), (b"n", "Row 9 of 32"),
    (b"x", "Stitches below are wrong"), (ESCAPE, "? keys"), (b"n", "A note on"), (b"o", " o "), (ENTER, "Note: o"),
)  # fmt: skip


def test_what_is_asked_over_the_piece_opens_and_closes_in_one_picture(tmp_path: Path) -> None:
    with knitting(tmp_path) as terminal:
        there = []
        for keys, then in KEYS:
            terminal.send(keys)
            terminal.wait_for(then)
            terminal.wait_until_still()
            there.append(terminal.text)
        seen = [picture for picture, _ in groupby(pictures(terminal.written, 80, 24))]
    assert seen[seen.index(there[0]):] == there
