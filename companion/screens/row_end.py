"""The row's end line: the count, what to cut, how to turn, ready ends, what to have ready for the next row."""

from __future__ import annotations

from textual.reactive import reactive

from companion.knitting import words
from companion.knitting.steps import row_end
from companion.progress.session import Session, ready_ends
from companion.screens.lines import Line, Lines, paragraphs


class RowEndPanel(Lines):
    """Quiet while the row is worked, in bold at the turn. ``notice`` comes first: what must be said once."""

    terms: reactive[words.Terms] = reactive(words.US, repaint=False)
    notice: reactive[str] = reactive("", repaint=False)

    def watch_notice(self) -> None:
        """Something else to say: draw again."""
        self.redraw()

    def draw(self, width: int, height: int) -> list[Line]:
        """Wrapped sentences; at the turn they are what the hands do now."""
        session = self.session
        if session is None:
            return []
        lines = paragraphs([self.notice], width, "alert")
        row, is_now = _row_told(session)
        if row is not None:
            end = row_end(session.strands, row)
            told = words.at_the_end(session.rows[row], end, ready_ends(session), self.terms)
            lead = words.row_done(session.rows[row]) if is_now else words.row_to_end(session.rows[row])
            lines += paragraphs([" ".join([lead, *told])], width, "strong" if is_now else "quiet")
        if note := session.notes.get(session.row if row is None else row, ""):
            lines += paragraphs([f"Note: {note}"], width, "strong")
        return lines[:height]


def _row_told(session: Session) -> tuple[int | None, bool]:
    """The row whose end is told, and whether it is reached: at the turn the row just done."""
    if session.is_bound_off:
        return None, False
    if session.is_at_turn and session.done:
        return session.row, True
    return session.row, False
