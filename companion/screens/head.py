"""The line on top: which row of how many, which side, which way along the drawn chart."""

from __future__ import annotations

from rich.cells import cell_len
from textual.reactive import reactive

from companion.knitting import words
from companion.problems import shorten
from companion.progress.session import ready_ends
from companion.screens.lines import Bit, Line, Lines


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
        number = (f" {name} {row.number} of {len(session.rows)} ", "now")
        arrow = "◀──" if row.toward == "left" else "──▶"
        line: Line = [number, (f" {row.side} ", "strong"), (f"{arrow} ", "strong")]
        ready = ready_ends(session)
        extra = [
            "look only" if self.is_look_only else "",
            f"ends ready: {ready}" if ready else "",
            words.side_facing(row.side),
            session.piece.title,
        ]
        for text in extra:
            line += _if_it_fits(line, text, width)
        return [line]


def _if_it_fits(line: Line, text: str, width: int) -> list[Bit]:
    """The text with a gap before it, shortened to what is free; nothing where less than 12 cells are free."""
    free = width - sum(cell_len(bit) for bit, _ in line) - 2
    if not text or free < min(12, cell_len(text)):
        return []
    return [("  ", ""), (shorten(text, free), "quiet")]
