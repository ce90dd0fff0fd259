"""The line on top: which row of how many, which side, which way along the drawn chart."""

from __future__ import annotations

from rich.cells import cell_len
from textual.reactive import reactive

from companion.knitting import words
from companion.problems import plain, shorten
from companion.progress.ends import ready_ends
from companion.screens.lines import Line, Lines, cells


class HeadLine(Lines):
    """Row, side and arrow always; ready ends and the piece's title where there is room."""

    is_look_only: reactive[bool] = reactive(False, repaint=False)

    def draw(self, width: int, height: int) -> list[Line]:
        """One line."""
        session = self.session
        if session is None:
            return []
        place = session.next_place
        row = session.rows[session.row if place is None else place.row]
        name = "Round" if row.is_round else "Row"
        number = (f" {name} {row.number} of {len(session.rows)} ", "strong")
        arrow = "◀──" if row.toward == "left" else "──▶"
        line: Line = [number, (f" {row.side} ", "strong"), (f"{arrow} ", "strong")]
        ready = ready_ends(session)
        if self.is_look_only:
            line += [("  ", ""), ("look only", "strong")]
        for text in (f"ends ready: {ready}" if ready else "", words.side_facing(row.side)):
            if text and cells(line) + 2 + cell_len(text) <= width:
                line += [("  ", ""), (text, "quiet")]
        free = width - cells(line) - 2
        title = plain(session.piece.title)
        if free >= min(12, cell_len(title)):
            line += [("  ", ""), (shorten(title, free), "quiet")]
        return [line]

