"""The wrong side of the fabric as one looks at it, turned over: left and right exchanged, the last row at the top.

The ends hang on it where they lie; the route of the chosen one is drawn stitch by stitch.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence, Set

from companion.knitting.hands.weaving import Cell, Weaving, backs_of
from companion.progress.session import Session
from companion.screens.chart import EMPTY, around, near_columns
from companion.screens.lines import Bit, Line, Lines, inked

END, CHOSEN, ROUTE = "○", "◉", "•"


class BackMap(Lines):
    """Shows the surroundings of ``chosen``. ``hung``: where ends hang that are not woven in."""

    chosen: Weaving | None = None
    hung: Set[Cell] = frozenset()

    def draw(self, width: int, height: int) -> list[Line]:
        """Lines from the upper row down to the lower one, each with the number of its row."""
        session, chosen = self.session, self.chosen
        if session is None or chosen is None or not height:
            return []
        columns = near_columns(session.piece.gauge)
        fabric = session.rows.fabric
        gutter = len(str(len(fabric.levels))) + 1
        across = min(session.piece.fabric.columns, max(1, (width - gutter) // columns))
        level, column = _middle([(fabric.level(row), at) for row, at in chosen.cells])
        top = max((fabric.level(row) for row in range(session.rows_done)), default=0) + 1
        low = around(level, height, 0, top - 1)
        first = around(column, across, 1, session.piece.fabric.columns)
        route = {cell: at for at, cell in reversed(list(enumerate(chosen.cells)))}
        lines = []
        for at in range(low, min(low + height, top))[::-1]:
            number: Bit = (f"{session.rows[fabric.levels[at][0]].number:>{gutter - 1}} ", "quiet")
            shown = range(first, first + across)
            cells = [self._cell(session, fabric.row_at(at, column), column, columns, route) for column in shown]
            lines.append([number, *cells])
        return lines

    def _cell(self, session: Session, row: int | None, column: int, columns: int, route: Mapping[Cell, int]) -> Bit:
        if row is None or row >= max(session.rows_done, 1):
            return EMPTY.center(columns), "quiet"
        cell = (row, column)
        yarn = backs_of(session.piece, session.strands).yarn_at(cell)
        if not yarn:
            return EMPTY.center(columns), "quiet"
        known = session.piece.yarn(yarn)
        at = route.get(cell)
        mark = CHOSEN if at == 0 else ROUTE if at is not None else END if cell in self.hung else known.symbol
        return mark.center(columns), inked(known.colour, bold=at is not None, reverse=at is not None)


def _middle(cells: Sequence[Cell]) -> Cell:
    rows, columns = [row for row, _ in cells], [column for _, column in cells]
    return (min(rows) + max(rows)) // 2, (min(columns) + max(columns)) // 2
