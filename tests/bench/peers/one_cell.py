"""A Textual app that paints one cell of a chart at a key: what a stroke on any screen of this kind must cost.

One widget drawn line by line fills 80 by 24 cells with a part of a chart of 120 by 160 stitches; space gives one
stitch the other of two colours and repaints its line. Nothing is read, counted or saved. Imports nothing of the
project.

    python -m one_cell
"""

from __future__ import annotations

import sys

from rich.segment import Segment
from rich.style import Style
from textual.app import App, ComposeResult
from textual.binding import Binding
from textual.geometry import Region
from textual.strip import Strip
from textual.widget import Widget

STITCHES, ROWS = 120, 160
AT = 12, 20
"""The line and the stitch that are painted."""

STYLES = Style(color="#000000", bgcolor="#f2e6cf"), Style(color="#ffffff", bgcolor="#225f6e")


class Chart(Widget):
    """The stitches, two columns each."""

    ALLOW_SELECT = False

    def __init__(self) -> None:
        super().__init__()
        self.cells = [[(row // 7 + stitch // 9) % 2 for stitch in range(STITCHES)] for row in range(ROWS)]

    def paint(self) -> None:
        """One stitch in the other colour."""
        row, stitch = AT
        self.cells[row][stitch] ^= 1
        self.refresh(Region(0, row, self.size.width, 1))

    def render_line(self, y: int) -> Strip:
        """A row of the chart."""
        row = [Segment(" s" if not cell else " t", STYLES[cell]) for cell in self.cells[y]]
        return Strip(row).crop(0, self.size.width)


class OneCell(App[None]):
    """The chart."""

    CSS = "Chart { width: 1fr; height: 1fr; }"
    BINDINGS = [Binding("space", "paint", "paint", show=False), Binding("q", "quit", "quit", show=False)]

    def compose(self) -> ComposeResult:
        """It alone."""
        yield Chart()

    def action_paint(self) -> None:
        """One stroke."""
        self.query_one(Chart).paint()


if __name__ == "__main__":
    OneCell().run()
    sys.exit(0)
