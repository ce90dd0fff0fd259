"""Stitches of one worked row marked on the chart: arrows move, space marks, enter is done."""

from __future__ import annotations

from functools import lru_cache
from typing import ClassVar

from rich.style import Style
from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.reactive import reactive
from textual.widgets import Static

from companion.knitting import words
from companion.knitting.cloth.colour import ink_on
from companion.knitting.cloth.fabric import Stitch, cells_across
from companion.progress.repairs import is_worked
from companion.progress.session import Session
from companion.screens.answering import Answering
from companion.screens.asking import STYLES, safe
from companion.screens.chart import EMPTY, near_columns
from companion.screens.lines import Bit, Line, Lines

MARK = "!"


class MarkedChart(Lines):
    """The worked rows as the right side looks, around ``at`` (row from 0, column from 1)."""

    at: reactive[tuple[int, int]] = reactive((0, 1), repaint=False)
    marked: reactive[frozenset[int]] = reactive(frozenset(), repaint=False)

    def watch_at(self) -> None:
        """Moved."""
        self.redraw()

    def watch_marked(self) -> None:
        """Marked."""
        self.redraw()

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
        low = max(0, min(fabric.level(row) - height // 2, top - height))
        first = max(1, min(column - across // 2, session.piece.fabric.columns - across + 1))
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
        return f"[{mark}]" if is_at else mark, _ink(yarn.colour, is_at)


@lru_cache(maxsize=256)
def _ink(colour: str, is_at: bool) -> Style:
    return Style(color=ink_on(colour), bgcolor=colour, bold=is_at, reverse=is_at)


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
        self._session, self._terms = session, terms

    def compose(self) -> ComposeResult:
        """What to do, the chart, the keys."""
        yield Static(safe(words.MARK_WRONG), id="title", markup=False, classes="strong")
        yield MarkedChart(id="marking")
        told = "arrows: move   space: wrong, or not   enter: that is all   escape: leave it"
        yield Static(safe(told), id="foot", markup=False, classes="quiet")

    def on_mount(self) -> None:
        """The cursor on the stitch worked last."""
        chart, session = self.query_one(MarkedChart), self._session
        chart.terms, chart.session = self._terms, session
        place = session.last_place
        if place is not None:
            chart.at = (place.row, session.rows.segment(place).last)

    def action_move(self, up: int, left: int) -> None:
        """To another stitch that is worked; marks are of one row."""
        chart, session = self.query_one(MarkedChart), self._session
        row = self._moved(up)
        column = max(1, min(chart.at[1] + left, session.piece.fabric.columns))
        if row == chart.at[0] and not is_worked(session, row, column):
            return
        if not is_worked(session, row, column):
            worked = [c for c in range(1, session.piece.fabric.columns + 1) if is_worked(session, row, c)]
            column = min(worked, key=lambda c: abs(c - column))
        if row != chart.at[0]:
            chart.marked = frozenset()
        chart.at = (row, column)

    def _moved(self, up: int) -> int:
        """The row so many rows up, or with a minus down, as far as there is one that is begun."""
        session, (row, column) = self._session, self.query_one(MarkedChart).at
        fabric = session.rows.fabric
        for _ in range(abs(up)):
            beyond = fabric.above(row, column) if up > 0 else fabric.below(row)
            if beyond is None or beyond > session.row:
                break
            row = beyond
        return row

    def action_mark(self) -> None:
        """This stitch is wrong, or is not."""
        chart = self.query_one(MarkedChart)
        chart.marked = chart.marked ^ {chart.at[1]}

    def action_done(self) -> None:
        """Those marked, or the one under the cursor."""
        chart = self.query_one(MarkedChart)
        self.dismiss((chart.at[0], tuple(sorted(chart.marked or {chart.at[1]}))))
