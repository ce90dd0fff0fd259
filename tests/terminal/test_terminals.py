"""Every size and colour of terminal tells the count, the yarn and the change; none is left in disorder."""

from __future__ import annotations

import os
import re
import subprocess
import sys
from pathlib import Path

import pytest

if sys.platform == "win32":
    pytest.skip("no pseudo-terminals", allow_module_level=True)

from pseudo_terminal import ENTER, ROOT, SPACE, Terminal, knitting
from swatch import shown

MODES_SET_AND_LEFT = {1049, 1000, 1003, 1006, 1004, 2004, 25}
"""Alternate screen, mouse, focus and paste reports, the cursor."""

_COLOUR = re.compile(rb"(?:38|48);(?:2;\d+;\d+;\d+|5;\d+)|(?<=[\[;])(?:3[0-7]|4[0-7]|9[0-7]|10[0-7])(?=[;m])")


def _colours(written: bytes) -> set[bytes]:
    """Every colour that the control sequences in some output name."""
    return {colour for told in re.findall(rb"\x1b(\[[0-9;]*m)", written) for colour in _COLOUR.findall(told)}


def _to_the_coral(terminal: Terminal) -> None:
    """Knit to row 19, the first coral run: six shell are worked, a new strand is joined, a cross is made. At the ends
    of rows 4 and 18 new yarns are had ready."""
    terminal.send(SPACE * 35)


CORAL_19 = ("Row 19 of 32", "▶c new k2 coral◀", "Cross", "coral")


def test_at_every_size_it_is_dragged_to_the_row_the_yarn_and_the_change_are_there(tmp_path: Path) -> None:
    with knitting(tmp_path) as terminal:
        _to_the_coral(terminal)
        terminal.wait_for(*CORAL_19, "18 of 24 ")
        for columns, lines in ((40, 15), (120, 40), (80, 24)):
            terminal.resize(columns, lines)
            terminal.wait_for("Row 19 of 32", "coral", "Cross", "Knit 2", "quit")
            assert max(map(len, terminal.text.split("\n"))) <= columns
        terminal.send(SPACE)
        terminal.wait_for("▶s new k4 shell◀", "16 of 24 ")


def test_forty_columns_by_fifteen_lines_are_enough_to_knit_by(tmp_path: Path) -> None:
    with knitting(tmp_path, columns=40, lines=15) as terminal:
        _to_the_coral(terminal)
        terminal.wait_for("Row 19 of 32", "coral", "Knit 2", "Cross", "▶c new k2 coral◀")


def test_without_colours_brackets_and_marks_tell_done_now_and_to_come(tmp_path: Path) -> None:
    with knitting(tmp_path, COLORTERM="truecolor", NO_COLOR="1") as terminal:
        _to_the_coral(terminal)
        terminal.wait_for("✓s k6 shell", "▶c new k2 coral◀", "s new k4 shell", "t k12 tide", "[c][c]")
        terminal.wait_until(lambda: bool(re.search("▏[ ▀▄█]+▕", terminal.text)), "edges of the yarn's chip")
        told = {tuple(colour.split(b";")[2:]) for colour in _colours(bytes(terminal.written))}
        assert len(told) > 2
        assert all(red == green == blue for red, green, blue in told)


@pytest.mark.parametrize(
    "variables", [{"TERM": "linux"}, {"TERM": "xterm", "TEXTUAL_COLOR_SYSTEM": "standard"}, {"TERM": "vt100"}]
)
def test_a_terminal_of_sixteen_colours_is_asked_for_no_others(tmp_path: Path, variables: dict[str, str]) -> None:
    with knitting(tmp_path, **variables) as terminal:
        _to_the_coral(terminal)
        terminal.wait_for(*CORAL_19)
        assert _colours(bytes(terminal.written))
        assert not [colour for colour in _colours(bytes(terminal.written)) if b";" in colour]


def test_from_the_basket_a_demo_plan_is_opened_by_keys_and_q_leads_out(tmp_path: Path) -> None:
    with Terminal(tmp_path) as terminal:
        terminal.wait_for("Demo plans", "swatch", "escape leave")
        terminal.send(ENTER)  # the easiest comes first
        terminal.wait_for("Row 1 of 32", "q quit")
        terminal.send(SPACE * 2)
        terminal.wait_for("Row 3 of 32")  # a good place to stop, where nothing is asked
        terminal.send(b"q")
        terminal.wait_for("On the needles", "Harbour practice swatch")
        terminal.send(b"q")
        assert terminal.wait_for_end() == 0


def test_quitting_leaves_the_terminal_as_it_was(tmp_path: Path) -> None:
    with knitting(tmp_path) as terminal:
        assert terminal.settings() != terminal.before
        assert set(terminal.left_on) >= MODES_SET_AND_LEFT
        terminal.send(SPACE * 2)
        terminal.wait_for("Row 3 of 32")
        terminal.send(b"q")
        assert terminal.wait_for_end() == 0
        assert terminal.left_on == []
        assert terminal.settings() == terminal.before


def test_in_mid_row_q_says_where_to_stop_and_stays_unless_told_yes(tmp_path: Path) -> None:
    with knitting(tmp_path) as terminal:
        terminal.send(SPACE * 6)
        terminal.wait_until(lambda: shown(terminal.text) == (5, "tide", 12), "mid-row")
        terminal.send(b"q")
        terminal.wait_for("Everything is saved. Stop here?")
        terminal.send(b"n")
        terminal.wait_for("q quit")
        terminal.wait_until(lambda: shown(terminal.text) == (5, "tide", 12), "the same stitch")
        terminal.send(SPACE)
        terminal.wait_for("Row 6 of 32")


@pytest.mark.parametrize("words", [[], ["knit", "swatch"]])
def test_without_a_terminal_it_says_so_in_one_sentence(tmp_path: Path, words: list[str]) -> None:
    environment = {**os.environ, "PYTHONPATH": str(ROOT), "ROWSIDE_HOME": str(tmp_path), "COLUMNS": "200"}
    environment |= {"TERM": "xterm", "ACCESSIBLE": ""}
    done = subprocess.run(
        [sys.executable, "-m", "companion", *words],
        cwd=tmp_path, env=environment, stdin=subprocess.DEVNULL, capture_output=True, check=False, timeout=300,
    )  # fmt: skip
    sentence = "rowside: The rows can only be shown in a terminal; rowside rows prints them as text."
    assert (done.returncode, done.stdout.decode(), done.stderr.decode().strip()) == (1, "", sentence)
    assert not list(tmp_path.iterdir())
