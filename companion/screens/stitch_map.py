"""Some stitches of the fabric and what lies around them: rows from the top down, each with its number."""

from __future__ import annotations

from collections.abc import Sequence

from companion.knitting.cloth.areas import Cell
from companion.knitting.cloth.fabric import Stitch, cells_across
from companion.progress.session import Session
from companion.screens.chart import around, near_columns
from companion.screens.flowing import Bit, Line
from companion.screens.lines import Lines


class StitchMap(Lines):
    """``cells`` (row from 0, column from 1) are in the middle; where it ``is_pointed`` arrows point to their rows;
    no row of the picture above ``top`` (from 0) is shown. As the right side looks, or the wrong side (``is_back``):
    left and right exchanged."""

    cells: Sequence[tuple[int, int]] = ()
    top = 0
    is_back, is_pointed, least_columns = False, True, 3

    def stitch(self, session: Session, cell: Cell, stitch: Stitch | None) -> Bit:
        """How a stitch is shown; None where the row has none."""
        raise NotImplementedError(f"{type(self).__name__} shows no stitches")

    def draw(self, width: int, height: int) -> list[Line]:
        """As many lines as there is room for."""
        session = self.session
        if session is None or not self.cells:
            return []
        fabric, meant = session.rows.fabric, {row for row, _ in self.cells} if self.is_pointed else ()
        places = [(fabric.level(row), column) for row, column in self.cells]
        level, column = ((min(along) + max(along)) // 2 for along in zip(*places, strict=True))
        columns, gutter = max(self.least_columns, near_columns(session.piece.gauge)), len(str(len(fabric.levels))) + 2
        across = min(fabric.columns, max(1, (width - gutter) // columns))
        low, first = around(level, height, 0, self.top), around(column, across, 1, fabric.columns)
        lines = []
        for at in range(low, min(low + height, self.top + 1))[::-1]:
            line: Line = []
            for c, stitch in enumerate(cells_across(fabric, at)[first - 1:first - 1 + across], first):
                row = fabric.row_at(at, c)
                text, style = ("·", "quiet") if row is None else self.stitch(session, Cell(row, c), stitch)
                line.append((text.center(columns), style))
            is_meant = any(row in meant for row in fabric.levels[at])
            mark, manner = ("▶" if self.is_back else "◀", "now") if is_meant else (" ", "quiet")
            number = session.rows[fabric.levels[at][0]].number
            left, right = f"{number:>{gutter - 2}}{mark} ", f" {mark}{number:<{gutter - 2}}"
            lines.append([(left, manner), *line] if self.is_back else [*line[::-1], (right, manner)])
        return lines
