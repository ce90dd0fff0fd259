"""What is sewn on afterwards: every area with a chart of its own, ticked off as they go."""

from __future__ import annotations

from functools import lru_cache
from typing import ClassVar

from rich.style import Style
from textual.binding import Binding, BindingType
from textual.reactive import reactive
from textual.widgets import OptionList, Static

from companion.knitting import words
from companion.knitting.cloth.areas import Area, Cell
from companion.knitting.cloth.colour import ink_on
from companion.knitting.cloth.fabric import Stitch, cells_across
from companion.knitting.reckoning.savings import SEWN_TAIL_CM, lengths_of
from companion.knitting.words import yarn as yarn_words
from companion.progress.actions import Refused, Sew, Unsew
from companion.progress.knitting import Knitting
from companion.progress.repairs import left_to_sew, to_sew
from companion.progress.trouble import Trouble
from companion.screens.asking import safe
from companion.screens.chart import EMPTY, near_columns
from companion.screens.lines import Bit, Line, Lines
from companion.screens.picking import PicturedScreen

WIDE = 100
"""From so many columns on the chart stands beside the list."""

LOW = 20
"""On fewer lines how to sew is not told; the chart is."""

AROUND = 3
"""So many stitches and rows are shown around an area."""


class SewingChart(Lines):
    """An area on the right side, with what lies around it: its own stitches by their symbol, all others quiet."""

    area: reactive[Area | None] = reactive(None, repaint=False)

    def watch_area(self) -> None:
        """Another one."""
        self.redraw()

    def draw(self, width: int, height: int) -> list[Line]:
        """Rows from the top down, the number of each on the right, where it is begun."""
        session, area = self.session, self.area
        if session is None or area is None or not height:
            return []
        fabric, wanted = session.piece.fabric, set(area.cells)
        columns = max(3, near_columns(session.piece.gauge))
        gutter = len(str(len(fabric.levels))) + 2
        right = max(1, min(column for _, column in wanted) - AROUND)
        left = min(fabric.columns, max(column for _, column in wanted) + AROUND)
        left = min(left, right + max(1, (width - gutter) // columns) - 1)
        top = min(len(fabric.levels) - 1, max(fabric.level(strip.row) for strip in area.strips) + AROUND)
        low = max(0, fabric.level(area.strips[0].row) - AROUND, top - height + 1)
        shown = range(left, right - 1, -1)
        return [self._row(level, shown, wanted, columns, gutter) for level in range(top, low - 1, -1)]

    def _row(self, level: int, shown: range, wanted: set[Cell], columns: int, gutter: int) -> Line:
        """One row and its number; an arrow where there is something to sew in it."""
        assert self.session is not None
        fabric = self.session.piece.fabric
        stitches = cells_across(fabric, level)
        in_area = [(fabric.row_at(level, column), column) in wanted for column in shown]
        line: Line = [
            self._cell(stitches[column - 1], is_in, columns) for column, is_in in zip(shown, in_area, strict=True)
        ]
        is_in = any(in_area)
        return [*line, (f" {'◀' if is_in else ' '}{level + 1:<{gutter - 2}}", "now" if is_in else "quiet")]

    def _cell(self, stitch: Stitch | None, is_in: bool, columns: int) -> Bit:
        assert self.session is not None
        assert self.area is not None
        if stitch is None:
            return EMPTY.center(columns), "quiet"
        yarn = self.session.piece.yarn(self.area.yarn if is_in else stitch.yarn)
        if not is_in:
            return yarn.symbol.center(columns), "quiet"
        return f"[{yarn.symbol}]".center(columns), _ink(yarn.colour)


@lru_cache(maxsize=256)
def _ink(colour: str) -> Style:
    return Style(color=ink_on(colour), bgcolor=colour)


class SewingScreen(PicturedScreen):
    """Space marks the area under the highlight as sewn on, or not."""

    BINDINGS: ClassVar[list[BindingType]] = [Binding("space", "mark", "sewn on or not", priority=True)]
    foot = "space: sewn on, or not   escape: back"

    def __init__(self, knitting: Knitting, terms: words.Terms) -> None:
        super().__init__()
        self._knitting = knitting
        self._terms = terms
        self._said = ""
        self._areas: tuple[Area, ...] = ()

    def picture(self) -> SewingChart:
        """The area on the right side."""
        made = SewingChart(id="sewing")
        made.session = self._knitting.session
        return made

    def give_room(self) -> None:
        """The chart beside the list where there is room, or below it."""
        self.query_one("#beside_each_other").set_class(self.size.width < WIDE, "-below")
        self.query_one("#how").display = self.size.height >= LOW

    def fill(self) -> None:
        """The plan's areas and the mistakes to sew over, as they lie."""
        session = self._knitting.session
        self._areas = tuple(sorted(to_sew(session), key=lambda area: area.first))
        self.put(
            self._said or words.sewing_title(len(left_to_sew(session)), self._terms),
            [
                words.sewing_line(
                    session.piece.fabric,
                    area,
                    lengths_of(session.piece, area.stitches),
                    is_sewn=area.first in session.sewn,
                )
                for area in self._areas
            ],
        )
        self.tell()

    def tell(self) -> None:
        """How this one is done, and where it lies."""
        at = self.picked
        area = self._areas[at] if at is not None and at < len(self._areas) else None
        self.query_one(SewingChart).area = area
        tail = yarn_words.yarn_length(SEWN_TAIL_CM, is_inches=self._terms.is_inches)
        self.query_one("#how", Static).update(safe("\n".join(words.how_to_sew(area, tail) if area else [])))

    def on_option_list_option_selected(self, event: OptionList.OptionSelected) -> None:
        """Enter or a click on an area."""
        event.stop()
        self.action_mark()

    def action_mark(self) -> None:
        """Mark or unmark the area under the highlight; saved before it is shown."""
        if self.picked is None or self.picked >= len(self._areas):
            return
        cell = self._areas[self.picked].first
        self._said = ""
        try:
            self._knitting.do(Unsew(cell) if cell in self._knitting.session.sewn else Sew(cell))
        except (Refused, Trouble) as reason:
            self._said = str(reason)
        self.fill()
