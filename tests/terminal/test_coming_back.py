"""Stopped anywhere, in any way, the program comes back to the stitch that was shown, or to a later one that was saved
while the terminal had not yet shown it; never to an earlier one."""

from __future__ import annotations

import sys
from pathlib import Path

import pytest

if sys.platform == "win32":
    pytest.skip("no pseudo-terminals", allow_module_level=True)

from pseudo_terminal import CTRL_C, CTRL_Q, SPACE, Terminal, knitting, pictures
from swatch import places, shown

MID_ROW = 12
"""Presses: rows 1 to 4 are one run each, what row 4's end asks for, 5 to 7 two each, and one of row 8."""

GREETING = (
    "Row 8, wrong side toward you. 12 stitches on the right needle, 12 on the left. "
    "You last worked tide; the tide strand is in your hand."
)


def _flat(screen: str) -> str:
    """A screen's lines as one."""
    return " ".join(screen.split())


def test_killed_in_mid_row_after_three_rows_of_two_yarns_it_opens_at_the_same_stitch(tmp_path: Path) -> None:
    with knitting(tmp_path) as terminal:
        for place in places()[1:MID_ROW + 1]:
            terminal.send(SPACE)
            terminal.wait_until(lambda place=place: shown(terminal.text) == place, str(place))
        assert places()[MID_ROW] == (8, "shell", 12)
        terminal.kill()
    with knitting(tmp_path) as terminal:
        terminal.wait_until(lambda: GREETING in _flat(terminal.text), GREETING)
        terminal.wait_until(lambda: shown(terminal.text) == (8, "shell", 12), "the same stitch")
        terminal.send(SPACE)
        terminal.wait_until(lambda: shown(terminal.text) == (9, "shell", 24), "the next row")


def test_whatever_was_shown_when_it_was_killed_amid_many_keys_is_saved(tmp_path: Path) -> None:
    with knitting(tmp_path) as terminal:
        terminal.send(SPACE * 40)
        terminal.wait_until(lambda: (shown(terminal.text) or places()[0])[0] >= 9, "row 9, or one that came after it")
        terminal.kill()
        terminal.wait_for_end()
        seen = [place for picture in pictures(terminal.written, 80, 24) if (place := shown(picture))]
    with knitting(tmp_path) as terminal:
        terminal.wait_until(lambda: shown(terminal.text) in places(), "a place")
        assert places().index(seen[-1]) <= places().index(shown(terminal.text)) <= 40


def test_ctrl_c_stops_nothing_and_ctrl_q_loses_nothing(tmp_path: Path) -> None:
    with knitting(tmp_path) as terminal:
        terminal.send(SPACE * 5 + CTRL_C + SPACE)
        terminal.wait_until(lambda: shown(terminal.text) == (5, "tide", 12), "mid-row")
        terminal.wait_for("Press ctrl+q to quit")
        terminal.send(CTRL_Q)
        assert terminal.wait_for_end() == 0
        assert terminal.settings() == terminal.before
    with knitting(tmp_path) as terminal:
        terminal.wait_until(lambda: shown(terminal.text) == (5, "tide", 12), "the same stitch")


def test_a_piece_open_in_another_terminal_may_only_be_looked_at(tmp_path: Path) -> None:
    with knitting(tmp_path) as first:
        first.send(SPACE)
        first.wait_for("Row 2 of 32")
        with Terminal(tmp_path, "knit", "swatch") as second:
            second.wait_for("Row 2 of 32", "look only")
            second.send(SPACE)
            second.wait_for("here you may only look.")
            assert "Row 2 of 32" in second.text
        first.send(SPACE)
        first.wait_for("Row 3 of 32")
