"""Stitches of one worked row marked on the chart: arrows move, space marks, enter is done."""

from __future__ import annotations

from typing import ClassVar

from textual.app import ComposeResult
from textual.binding import Binding, BindingType

from companion.knitting import words
from companion.knitting.cloth.fabric import Stitch, cells_across
from companion.progress.repairs import is_worked
from companion.progress.session import Session
from companion.screens.answering import Answering
from companion.screens.asking import STYLES, shown
from companion.screens.chart import EMPTY, around, near_columns
from companion.screens.lines import Bit, Line, Lines, inked

MARK = "!"


class MarkedChart(Lines):
    """The worked rows as the right side looks, around ``at`` (row from 0, column from 1); ``marked`` are columns."""

    at = (0, 1)
    marked: frozenset[int] = frozenset()

    def draw(self, width: int, height: int) -> list[Line]:
        """Rows from the top down, each with its number on the right."""
        session = self.session
        if session is None or not height:
            return []
        row, column = self.at
        columns = max(3, near_columns(session.piece.gauge))
        fabric = session.rows.fabric
        gutter = len(str(len(fabric.levels))) + 1
        across = min(session.piece.fabric.columns, max(1, (width - gutter) // columns))
        top = max(fabric.level(index) for index in range(session.row + 1)) + 1
        low = around(fabric.level(row), height, 0, top - 1)
        first = around(column, across, 1, session.piece.fabric.columns)
        lines = []
        for level in range(low, min(low + height, top))[::-1]:
            stitches = cells_across(fabric, level)
            drawn = [
                self._cell(session, fabric.row_at(level, c), c, stitches[c - 1]) for c in range(first, first + across)
            ]
            number = session.rows[fabric.levels[level][0]].number
            told: Bit = (f" {number:<{gutter - 1}}", "now" if row in fabric.levels[level] else "quiet")
            lines.append([(text.center(columns), style) for text, style in reversed(drawn)] + [told])
        return lines

    def _cell(self, session: Session, row: int | None, column: int, stitch: Stitch | None) -> Bit:
        if row is None or stitch is None or not is_worked(session, row, column):
            return EMPTY, "quiet"
        yarn = session.piece.yarn(stitch.yarn)
        mark = MARK if row == self.at[0] and column in self.marked else yarn.symbol
        is_at = (row, column) == self.at
        return f"[{mark}]" if is_at else mark, inked(yarn.colour, bold=is_at, reverse=is_at)


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
        self._chart = MarkedChart(id="marking")
        self._chart.session, self._chart.terms = session, terms
        if (place := session.last_place) is not None:
            self._chart.at = (place.row, session.rows.segment(place).last)

    def compose(self) -> ComposeResult:
        """What to do, the chart with the cursor on the stitch worked last, the keys."""
        yield shown(words.MARK_WRONG, "strong", id="title")
        yield self._chart
        yield shown("arrows: move   space: wrong, or not   enter: that is all   escape: leave it", "quiet", id="foot")

    def action_move(self, up: int, left: int) -> None:
        """To another stitch that is worked; marks are of one row."""
        chart, session = self._chart, self._session
        row = self._moved(up)
        column = max(1, min(chart.at[1] + left, session.piece.fabric.columns))
        if not is_worked(session, row, column):
            if row == chart.at[0]:
                return
            worked = [c for c in range(1, session.piece.fabric.columns + 1) if is_worked(session, row, c)]
            column = min(worked, key=lambda c: abs(c - column))
        if row != chart.at[0]:
            chart.marked = frozenset()
        chart.at = (row, column)
        chart.redraw()

    def _moved(self, up: int) -> int:
        """The row so many rows up, or with a minus down, as far as there is one that is begun."""
        session, (row, column) = self._session, self._chart.at
        fabric = session.rows.fabric
        for _ in range(abs(up)):
            beyond = fabric.above(row, column) if up > 0 else fabric.below(row)
            if beyond is None or beyond > session.row:
                break
            row = beyond
        return row

    def action_mark(self) -> None:
        """This stitch is wrong, or is not."""
        self._chart.marked ^= {self._chart.at[1]}
        self._chart.redraw()

    def action_done(self) -> None:
        """Those marked, or the one under the cursor."""
        row, column = self._chart.at
        self.dismiss((row, tuple(sorted(self._chart.marked or {column}))))
