"""The wrong side of the fabric as one looks at it, turned over: left and right exchanged, the last row at the top.

The ends hang on it where they lie; the route of the chosen one is drawn stitch by stitch.
"""

from __future__ import annotations

from collections.abc import Set

from companion.knitting.cloth.areas import Cell
from companion.knitting.cloth.fabric import Stitch
from companion.knitting.hands.weaving import backs_of
from companion.progress.session import Session
from companion.screens.chart import EMPTY
from companion.screens.flowing import Bit, Line, flowed
from companion.screens.lines import inked
from companion.screens.stitch_map import StitchMap

END, CHOSEN, ROUTE = "○", "◉", "•"


class BackMap(StitchMap):
    """``cells`` are the route, from where the chosen end hangs; ``hung``: where ends hang that are not woven in."""

    is_back, is_pointed, least_columns = True, False, 1
    hung: Set[tuple[int, int]] = frozenset()

    def draw(self, width: int, height: int) -> list[Line]:
        """What the marks mean below it."""
        marks = ((CHOSEN, "this end"), (ROUTE, "its way"), (END, "another end"))
        key = flowed([[(f"{mark} {meaning}", "quiet")] for mark, meaning in marks], width)
        lines = super().draw(width, height - len(key))
        return [*lines, *key] if lines else []

    def stitch(self, session: Session, cell: Cell, stitch: Stitch | None) -> Bit:
        """The yarn that lies there, an end, or a step of the route."""
        is_there = cell.row < max(session.rows_done, 1)
        if not (is_there and (name := backs_of(session.piece, session.strands).yarn_at(cell))):
            return EMPTY, "quiet"
        yarn, is_on_route = session.piece.yarn(name), cell in self.cells
        mark = ROUTE if is_on_route else END if cell in self.hung else yarn.symbol
        return CHOSEN if cell == self.cells[0] else mark, inked(yarn.colour, bold=is_on_route, reverse=is_on_route)
