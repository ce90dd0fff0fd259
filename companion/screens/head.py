"""The line on top: which row of how many, which side, which way along the drawn chart."""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction

from rich.cells import cell_len

from companion.knitting import words
from companion.knitting.piece import Piece
from companion.problems import plain, shorten
from companion.progress.ends import ready_ends
from companion.screens.lines import Line, Lines, cells


class HeadLine(Lines):
    """Row, side and arrow always; ready ends, how high it is and the piece's title where there is room.

    ``is_held``: the chart shows wrong-side rows as they are held, so the arrow goes the other way in them.
    """

    is_look_only = is_held = False
    _heights: tuple[Piece | None, Sequence[Fraction]] = (None, ())
    _highest = Fraction(0)

    def draw(self, width: int, height: int) -> list[Line]:
        """One line."""
        session = self.session
        if session is None:
            return []
        at = session.at.row
        row = session.rows[at]
        number = (f" {words.row_of(row, session.rows.in_part(at))} ", "strong")
        is_turned = self.is_held and row.side == "WS"
        arrow = "◀──" if (row.toward == "left") != is_turned else "──▶"
        line: Line = [number, (f" {row.side} ", "strong"), (f"{arrow} ", "strong")]
        ready = ready_ends(session)
        if self.is_look_only:
            line += [("  ", ""), ("look only", "strong")]
        heights = self._heights_of(session.piece)
        high = words.height(heights[session.rows_done], self._highest, self.terms)
        for text in (f"ends ready: {ready}" if ready else "", words.side_facing(row.side), high):
            if text and cells(line) + 2 + cell_len(text) <= width:
                line += [("  ", ""), (text, "quiet")]
        free = width - cells(line) - 2
        title = plain(session.piece.title)
        if free >= min(12, cell_len(title)):
            line += [("  ", ""), (shorten(title, free), "quiet")]
        return [line]

    def _heights_of(self, piece: Piece) -> Sequence[Fraction]:
        """How high the piece is after every number of rows; reckoned once."""
        if self._heights[0] is not piece:
            from companion.knitting.reckoning.size import heights

            self._heights = (piece, heights(piece))
            self._highest = max(self._heights[1])
        return self._heights[1]

