"""The row's end line: the count, what to cut, how to turn, ready ends, what to have ready for the next row."""

from __future__ import annotations

from textual.reactive import reactive

from companion.knitting import words
from companion.knitting.steps import row_end
from companion.progress.session import Session, ready_ends
from companion.screens.lines import Line, Lines, paragraphs


class RowEndPanel(Lines):
    """Quiet while the row is worked, in bold at the turn. ``notice`` comes first: what must be said once."""

    notice: reactive[str] = reactive("", repaint=False)

    def watch_notice(self) -> None:
        """Something else to say: draw again."""
        self.redraw()

    def draw(self, width: int, height: int) -> list[Line]:
        """Wrapped sentences; at the turn they are what the hands do now."""
        return self._told(self.session, width)[:height] if self.session else []

    def wanted(self, session: Session, width: int) -> int:
        """How many lines must be seen now: everything at a turn and whatever must be said once, else none."""
        is_turn = session.is_at_turn and session.done
        return len(self._told(session, width)) if is_turn or self.notice else 0

    def _told(self, session: Session, width: int) -> list[Line]:
        lines = paragraphs([self.notice], width, "alert")
        if not session.is_bound_off:
            row = session.rows[session.row]
            is_now = session.is_at_turn and session.done > 0
            end = row_end(session.strands, session.row)
            told = words.at_the_end(row, end, ready_ends(session), self.terms)
            lead = words.row_done(row) if is_now else words.row_to_end(row)
            about = paragraphs([" ".join([lead, *told])], width, "strong" if is_now else "quiet")
            if is_now:
                first = about[0][0][0]
                about[0] = [(lead, "now"), (first[len(lead):], "strong")]
            lines += about
        if note := session.notes.get(session.row, ""):
            lines += paragraphs([f"Note: {note}"], width, "strong")
        return lines
