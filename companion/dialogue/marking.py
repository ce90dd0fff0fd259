"""Stitches of one worked row, marked one by one on the fabric."""

from __future__ import annotations

from companion.dialogue.deed import Where
from companion.knitting.cloth.areas import Cell
from companion.progress.mishaps import is_worked
from companion.progress.session import Session


class Marking:
    """``at`` is the stitch that is meant, at first the one worked last; ``columns`` are marked in its row."""

    where: Where = "marking"

    def __init__(self, session: Session) -> None:
        self.session = session
        last = session.last_place
        self.at = Cell(last.row, session.rows.segment(last).last) if last else Cell(0, 1)
        self.columns: frozenset[int] = frozenset()

    @property
    def answer(self) -> tuple[int, tuple[int, ...]]:
        """The row, from 0, and the columns marked in it; the stitch that is meant where none is."""
        return self.at.row, tuple(sorted(self.columns or {self.at.column}))

    def mark(self) -> None:
        """This stitch is wrong, or is not."""
        self.columns ^= {self.at.column}

    def move(self, up: int, left: int) -> None:
        """To another stitch that is worked; marks are of one row."""
        session, columns = self.session, self.session.piece.fabric.columns
        row = self._moved(up)
        column = max(1, min(self.at.column + left, columns))
        if not is_worked(session, row, column):
            if row == self.at.row:
                return
            worked = [c for c in range(1, columns + 1) if is_worked(session, row, c)]
            column = min(worked, key=lambda c: abs(c - column))
        if row != self.at.row:
            self.columns = frozenset()
        self.at = Cell(row, column)

    def _moved(self, up: int) -> int:
        """The row so many rows up, or with a minus down, as far as there is one that is begun."""
        (row, column), fabric = self.at, self.session.rows.fabric
        for _ in range(abs(up)):
            beyond = fabric.above(row, column) if up > 0 else fabric.under(row, column)
            if beyond is None or beyond > self.session.row:
                break
            row = beyond
        return row
