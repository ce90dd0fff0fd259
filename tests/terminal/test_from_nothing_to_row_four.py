"""The real program in the hands of somebody who never sees a plan's text: from the empty basket to a panel in two
yarns with a letter and a line on it, and three rows of it knitted, by the mouse alone and by keys alone."""

from __future__ import annotations

import sys
import time
from pathlib import Path
from typing import NamedTuple

import pytest

if sys.platform == "win32":
    pytest.skip("no pseudo-terminals", allow_module_level=True)

from pseudo_terminal import DOWN, ENTER, SPACE, Terminal
from test_mouse import LEFT, down, up

from companion.knitting.cloth.fabric import cells
from companion.plan.read import load
from companion.progress.shelf import Shelf
from companion.screens.clicks import AGAIN, NEAR

SIZES = [(80, 24), (120, 40)]

DRAG = 32
"""What is added to a button's number while the mouse moves ("XTerm Control Sequences", Mouse Tracking)."""

ESCAPE, TO_THE_LEFT, TO_THE_RIGHT, UPWARD = b"\x1b", b"\x1b[D", b"\x1b[C", b"\x1b[A"

COLOUR, KEPT = "coral #ff7f50", "enter answer"
"""The second chip of the second row; and what is clicked where the words that stand there are the answer."""


class Asked(NamedTuple):
    """A question by words of it; what is clicked; and the keys instead of that."""

    about: str
    clicked: str = KEPT
    keys: bytes = ENTER


QUESTIONS = (
    Asked("What is it made from?", "A blank panel"), Asked("What is the piece called?"),
    Asked("The gauge:", "I counted stitches and rows"), Asked("How many stitches did you count"),
    Asked("Over how many centimetres"), Asked("How many rows did you count"), Asked("Over what height?"),
    Asked("How wide, with its border"), Asked("How high, with its border"), Asked("Yarn 1, the ground"),
    Asked('The colour of "sand"', COLOUR, TO_THE_RIGHT + DOWN + ENTER), Asked('What a ball of "sand" holds'),
    Asked("Yarns: sand.", "One more yarn"), Asked("Yarn 2:"), Asked('The colour of "brick"'),
    Asked('What a ball of "brick" holds'), Asked("Yarns: sand, brick.", "These are all"),
    Asked("A border", "Garter stitch"), Asked("Where is the border?", "All round"),
    Asked("How high is the border"), Asked("How wide at each side"), Asked("How far may a strand go", "Strict"),
    Asked("The plan is ready.", "Save it"), Asked("The plan goes to the file"), Asked("is written.", "Draw in it"),
)  # fmt: skip
"""All that a panel with a border is asked for."""

LETTER = (
    "..##..", ".####.", ".####.", "##..##", "##..##", "######", "######", "##..##", "##..##", "##..##",
)  # fmt: skip
"""An A as the board writes it, in strokes two stitches wide."""


def place(terminal: Terminal, text: str) -> tuple[int, int]:
    """Where a text stands, its column and line from 0: the lowest, as a question lies over what was there before."""
    lines = terminal.wait_for(text).splitlines()
    line = max(at for at, line in enumerate(lines) if text in line)
    return lines[line].index(text), line


class Mouse:
    """Clicks. Of two in one spot the second waits until it is no double click."""

    def __init__(self, terminal: Terminal) -> None:
        self.terminal = terminal
        self._into = 0
        self._last = -9, -9

    def click_at(self, column: int, line: int) -> None:
        if all(abs(one - other) <= NEAR for one, other in zip(self._last, (column, line), strict=True)):
            time.sleep(AGAIN)
        self._last = column, line
        self.terminal.send(down(LEFT, column, line) + up(LEFT, column, line))

    def click(self, text: str) -> None:
        """A text on the screen, now at its beginning, now further in."""
        self._into = 3 - self._into
        column, line = place(self.terminal, text)
        self.click_at(column + self._into, line)

    def answer(self, asked: Asked) -> None:
        """Click a line; or what stands there is kept, where a colour is wanted after its chip was clicked."""
        column, line = place(self.terminal, asked.about)
        if asked.clicked == COLOUR:
            self.click_at(column + 5, line + 3)
            self.terminal.wait_for(COLOUR)
        self.click(KEPT if asked.clicked == COLOUR else asked.clicked)


def stitch(terminal: Terminal, row: int, column: int) -> tuple[int, int]:
    """Where a stitch of an even row stands on a chart whose stitches are two columns wide, once nothing more is
    painted: even rows have their number on the left, every tenth stitch has its own below it."""

    def lines() -> list[int]:
        return [at for at, line in enumerate(terminal.text.splitlines()) if line[:2].strip() == str(row)]

    def feet() -> list[str]:
        return [
            line
            for line in terminal.text.splitlines()
            if "20" in line.split() and line.replace(" ", "").isdecimal()
        ]

    terminal.wait_until(lambda: len(lines()) == len(feet()) == 1, f"row {row} and the numbers below the chart")
    terminal.wait_until_still()
    [line], [foot] = lines(), feet()
    return foot.index("20") + 1 + 2 * (20 - column), line


def drag(terminal: Terminal, start: tuple[int, int], end: tuple[int, int]) -> None:
    terminal.send(down(LEFT, *start) + down(LEFT + DRAG, *end) + up(LEFT, *end))


def press(terminal: Terminal, asked: Asked) -> None:
    """Answer with keys, pressed once as soon as the question is seen."""
    terminal.wait_for(asked.about)
    if asked.clicked == COLOUR:
        terminal.send(DOWN)
        terminal.wait_for("white #ffffff")
    terminal.send(asked.keys)
    terminal.wait_until(lambda: asked.about not in terminal.text, f"an answer to {asked.about}")


def is_drawn_and_begun(home: Path) -> None:
    """The letter stands in rows 9 to 18 from stitch 8 on, the line in row 8 from stitch 6 to 20; three rows are done.
    """
    piece = load(home / "quay-panel.yaml").piece
    rows = [
        "".join(".#"[bool(it and it.yarn == "brick")] for it in reversed([*cells(row)])) for row in piece.fabric.rows
    ]
    assert rows[17:6:-1] == [*(f"{'.' * 27}{row}{'.' * 7}" for row in LETTER), f"{'.' * 20}{'#' * 15}{'.' * 5}"]
    assert "#" not in "".join(rows[:7] + rows[18:])
    # Coral is #ff7f50 in CSS Color Module Level 4, 6.1.
    assert [yarn.colour for yarn in piece.yarns] == ["#ff7f50", "#a8432f"]
    [card] = Shelf(home / "pieces").cards()
    assert card.rows_done == 3


@pytest.mark.parametrize(("columns", "lines"), SIZES)
def test_by_the_mouse_alone_a_panel_is_made_drawn_and_begun(tmp_path: Path, columns: int, lines: int) -> None:
    with Terminal(tmp_path, columns=columns, lines=lines, is_fresh=False) as terminal:
        mouse = Mouse(terminal)
        mouse.click("N plan of your own")
        for asked in QUESTIONS:
            mouse.answer(asked)
        terminal.wait_for("▶2 b  brick", "Pen up")
        mouse.click("t text")
        terminal.wait_for("What is to be written")
        column, line = place(terminal, " A   B ")
        mouse.click_at(column + 1, line)
        terminal.wait_for("│ A  ")
        mouse.click(KEPT)
        terminal.wait_for("6 x 10 in hand", "set it down")
        drag(terminal, stitch(terminal, 8, 6), stitch(terminal, 10, 9))
        terminal.wait_for("Row 9, stitch 8:", "10 in hand: +6")
        mouse.click_at(*stitch(terminal, 12, 10))
        terminal.wait_for("Row 9, stitch 8:", "7 strands", "Pen up")
        drag(terminal, stitch(terminal, 8, 6), stitch(terminal, 8, 20))
        terminal.wait_for("Row 8, stitch 20:", "8 strands", "Pen up")
        mouse.click("q quit")
        terminal.wait_for("Just written")
        mouse.click("quay-panel")
        for row in (1, 2, 3):
            terminal.wait_for(f"Row {row} of 56", "q quit")
            mouse.click_at(3 * row, 3 + row)
        terminal.wait_for("Row 4 of 56", "q quit")
        mouse.click("q quit")
        mouse.click("y stop here")
        mouse.click("escape leave")
        assert terminal.wait_for_end() == 0
    is_drawn_and_begun(tmp_path)


@pytest.mark.parametrize(("columns", "lines"), SIZES)
def test_by_keys_alone_the_same_panel_is_made_drawn_and_begun(tmp_path: Path, columns: int, lines: int) -> None:
    with Terminal(tmp_path, columns=columns, lines=lines, is_fresh=False) as terminal:
        terminal.wait_for("Demo plans")
        terminal.send(b"N")
        for asked in QUESTIONS:
            press(terminal, asked)
        terminal.wait_for("▶2 b  brick", "Pen up")
        terminal.send(b"tA" + ENTER)
        terminal.wait_for("6 x 10 in hand", "set it down")
        terminal.send(UPWARD * 2 + TO_THE_LEFT * 3 + SPACE)
        terminal.wait_for("Row 9, stitch 8:", "7 strands", "Pen up")
        terminal.send(DOWN + TO_THE_RIGHT * 2 + b"l" + TO_THE_LEFT * 14 + SPACE)
        terminal.wait_for("Row 8, stitch 20:", "8 strands", "Pen up")
        terminal.send(b"q")
        terminal.wait_for("Just written")
        terminal.send(ENTER)
        for row in (1, 2, 3):
            terminal.wait_for(f"Row {row} of 56", "q quit")
            terminal.send(SPACE)
        terminal.wait_for("Row 4 of 56", "q quit")
        terminal.send(b"q")
        terminal.wait_for("y stop here")
        terminal.send(b"y")
        terminal.wait_for("escape leave")
        terminal.send(ESCAPE)
        assert terminal.wait_for_end() == 0
    is_drawn_and_begun(tmp_path)
