"""Stitches of one worked row marked on the chart: arrows move, space marks, enter is done."""

from __future__ import annotations

from typing import ClassVar

from textual.app import ComposeResult
from textual.binding import BindingType

from companion.dialogue.marking import Marking
from companion.knitting import words
from companion.knitting.cloth.areas import Cell
from companion.knitting.cloth.fabric import Stitch
from companion.progress.mishaps import is_worked
from companion.progress.session import Session
from companion.screens.bound import bound
from companion.screens.chart import EMPTY
from companion.screens.flowing import Bit
from companion.screens.key_line import Foot
from companion.screens.lines import inked
from companion.screens.plain_parts import STYLES, shown
from companion.screens.rowside import Answering
from companion.screens.stitch_map import StitchMap

MARK = "!"


class MarkedChart(StitchMap):
    """The worked rows as the right side looks; ``cells`` is the one under the cursor, ``marked`` are columns of its
    row."""

    marked: frozenset[int] = frozenset()

    def stitch(self, session: Session, cell: Cell, stitch: Stitch | None) -> Bit:
        """A worked stitch, marked or not, in brackets under the cursor."""
        if stitch is None or not is_worked(session, *cell):
            return EMPTY, "quiet"
        yarn, at = session.piece.yarn(stitch.yarn), Cell(*self.cells[0])
        mark = MARK if cell.row == at.row and cell.column in self.marked else yarn.symbol
        return f"[{mark}]" if cell == at else mark, inked(yarn.colour, bold=cell == at, reverse=cell == at)


class MarkingScreen(Answering[tuple[int, tuple[int, ...]] | None]):
    """Shows what is marked, and the stitch that is meant."""

    CSS_PATH: ClassVar[str] = STYLES
    BINDINGS: ClassVar[list[BindingType]] = bound("marking")
    where = "marking"

    def __init__(self, marking: Marking) -> None:
        super().__init__()
        self.here = self.marking = marking
        self._chart = MarkedChart(id="marking")
        session = self._chart.session = marking.session
        self._chart.top = max(session.rows.fabric.level(row) for row in range(session.row + 1))
        self._chart.cells = (marking.at,)

    def compose(self) -> ComposeResult:
        """What to do, the chart with the cursor on the stitch worked last, the keys."""
        yield shown(words.mark_wrong(self.marking.session.rows), "strong", id="title")
        yield self._chart
        yield Foot(self.keys)

    def show(self) -> None:
        """Where the cursor is now, and what is marked."""
        super().show()
        self._chart.cells, self._chart.marked = (self.marking.at,), self.marking.columns
        self._chart.redraw()
