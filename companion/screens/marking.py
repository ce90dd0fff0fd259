"""Stitches of one worked row marked on the chart: arrows move, space marks, enter is done."""

from __future__ import annotations

from typing import ClassVar

from textual.app import ComposeResult
from textual.binding import Binding, BindingType

from companion.knitting import words
from companion.knitting.cloth.areas import Cell
from companion.knitting.cloth.fabric import Stitch
from companion.progress.mishaps import is_worked
from companion.progress.session import Session
from companion.screens.asking import STYLES, shown
from companion.screens.chart import EMPTY
from companion.screens.lines import Bit, inked
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
    """Answers with a row, from 0, and the columns marked in it; the stitch under the cursor where none is."""

    CSS_PATH: ClassVar[str] = STYLES
    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("left", "move(0, 1)", "left"),
        Binding("right", "move(0, -1)", "right"),
        Binding("up", "move(1, 0)", "up"),
        Binding("down", "move(-1, 0)", "down"),
        Binding("pageup", "move(8, 0)", show=False),
        Binding("pagedown", "move(-8, 0)", show=False),
        Binding("space", "mark", "wrong, or not"),
        Binding("enter", "done", "that is all"),
        Binding("escape,q", "dismiss(None)", "leave it"),
    ]

    def __init__(self, session: Session, terms: words.Terms) -> None:
        super().__init__()
        self._session = session
        self._chart = chart = MarkedChart(id="marking")
        chart.session, chart.terms = session, terms
        chart.top = max(session.rows.fabric.level(row) for row in range(session.row + 1))
        last = session.last_place
        chart.cells = (Cell(last.row, session.rows.segment(last).last) if last else Cell(0, 1),)

    @property
    def at(self) -> Cell:
        """The stitch under the cursor."""
        return Cell(*self._chart.cells[0])

    def compose(self) -> ComposeResult:
        """What to do, the chart with the cursor on the stitch worked last, the keys."""
        yield shown(words.MARK_WRONG, "strong", id="title")
        yield self._chart
        yield shown("arrows: move   space: wrong, or not   enter: that is all   escape: leave it", "quiet", id="foot")

    def action_move(self, up: int, left: int) -> None:
        """To another stitch that is worked; marks are of one row."""
        chart, session, columns = self._chart, self._session, self._session.piece.fabric.columns
        row = self._moved(up)
        column = max(1, min(self.at.column + left, columns))
        if not is_worked(session, row, column):
            if row == self.at.row:
                return
            worked = [c for c in range(1, columns + 1) if is_worked(session, row, c)]
            column = min(worked, key=lambda c: abs(c - column))
        if row != self.at.row:
            chart.marked = frozenset()
        chart.cells = (Cell(row, column),)
        chart.redraw()

    def _moved(self, up: int) -> int:
        """The row so many rows up, or with a minus down, as far as there is one that is begun."""
        (row, column), fabric = self.at, self._session.rows.fabric
        for _ in range(abs(up)):
            beyond = fabric.above(row, column) if up > 0 else fabric.below(row)
            if beyond is None or beyond > self._session.row:
                break
            row = beyond
        return row

    def action_mark(self) -> None:
        """This stitch is wrong, or is not."""
        self._chart.marked ^= {self.at.column}
        self._chart.redraw()

    def action_done(self) -> None:
        """Those marked, or the one under the cursor."""
        self.dismiss((self.at.row, tuple(sorted(self._chart.marked or {self.at.column}))))
