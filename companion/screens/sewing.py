"""What is sewn on afterwards: every area with a chart of its own, ticked off as they go."""

from __future__ import annotations

from companion.knitting import words
from companion.knitting.cloth.areas import Area, Cell
from companion.knitting.cloth.fabric import Stitch, cells_across
from companion.knitting.reckoning.savings import SEWN_TAIL_CM, lengths_of
from companion.knitting.words import yarn as yarn_words
from companion.progress.actions import Sew, Unsew
from companion.progress.knitting import Knitting
from companion.progress.repairs import left_to_sew, to_sew
from companion.screens.asking import safe
from companion.screens.chart import EMPTY, near_columns
from companion.screens.lines import Bit, Line, Lines, inked
from companion.screens.picking import PicturedScreen

WIDE = 100
"""From so many columns on the chart stands beside the list."""

LOW = 20
"""On fewer lines how to sew is not told; the chart is."""

AROUND = 3
"""So many stitches and rows are shown around an area."""


class SewingChart(Lines):
    """An area on the right side, with what lies around it: its own stitches by their symbol, all others quiet."""

    area: Area | None = None

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
        return f"[{yarn.symbol}]".center(columns), inked(yarn.colour)


class SewingScreen(PicturedScreen):
    """Space marks the area under the highlight as sewn on, or not."""

    keys = "space: sewn on, or not   escape: back"

    def __init__(self, knitting: Knitting, terms: words.Terms) -> None:
        self._chart = SewingChart(id="sewing")
        super().__init__(self._chart)
        self._knitting = knitting
        self._terms = terms
        self._areas: tuple[Area, ...] = ()

    def give_room(self) -> None:
        """The chart beside the list where there is room, or below it."""
        self.query("#beside_each_other").set_class(self.size.width < WIDE, "-below")
        self.how.display = self.size.height >= LOW

    def fill(self) -> None:
        """The plan's areas and the mistakes to sew over, as they lie."""
        session = self._knitting.session
        self._chart.session = session
        self._areas = tuple(sorted(to_sew(session), key=lambda area: area.first))
        title = words.sewing_title(len(left_to_sew(session)), self._terms)
        self.put(title, [self._line(area) for area in self._areas])
        self.tell()

    def _line(self, area: Area) -> str:
        session = self._knitting.session
        lengths = lengths_of(session.piece, area.stitches)
        return words.sewing_line(session.piece.fabric, area, lengths, is_sewn=area.first in session.sewn)

    def tell(self) -> None:
        """How this one is done, and where it lies."""
        at = self.options.highlighted
        self._chart.area = area = self._areas[at] if at is not None and at < len(self._areas) else None
        self._chart.redraw()
        tail = yarn_words.yarn_length(SEWN_TAIL_CM, is_inches=self._terms.is_inches)
        self.how.update(safe("\n".join(words.how_to_sew(area, tail) if area else [])))

    def choose(self, at: int) -> None:
        """Mark an area as sewn on, or not; saved before it is shown."""
        cell = self._areas[at].first
        self.try_to(lambda: self._knitting.do(Unsew(cell) if cell in self._knitting.session.sewn else Sew(cell)))
        self.fill()
