"""The row's end line: the count, what to cut, how to turn, ready ends, what to have ready for the next row."""

from __future__ import annotations

from textual.reactive import reactive

from companion.knitting import words
from companion.knitting.hands.row_ends import row_end
from companion.knitting.hands.steps import BindOff
from companion.progress.ends import ready_ends
from companion.progress.session import Session
from companion.screens.lines import Line, Lines, cut_off, paragraphs

NOTE = 2
"""Lines that a note has for certain; the rest of it where there is room."""


class RowEndPanel(Lines):
    """Quiet while the row is worked, in bold at the turn. ``notice`` comes first: what must be said once."""

    notice: reactive[str] = reactive("", repaint=False)

    def watch_notice(self) -> None:
        """Something else to say: draw again."""
        self.redraw()

    def draw(self, width: int, height: int) -> list[Line]:
        """Wrapped sentences; at the turn they are what the hands do now, and notice and note give way to them."""
        if self.session is None:
            return []
        notice, note = _notice(self.notice, width), _note(self.session, width)
        about = _about(self.session, width, self.terms)
        noted = min(NOTE, len(note))
        if _is_turn(self.session):
            if len(notice) + len(about) + noted > height:
                about = _about(self.session, width, self.terms, is_short=True)
            notice = cut_off(notice, height - len(about), width)
            lines = [*notice, *about]
        else:
            lines = [*notice, *cut_off(about, height - noted - len(notice), width)]
        return [*lines, *cut_off(note, height - len(lines), width)]


def end_lines(session: Session, width: int, terms: words.Terms, notice: str, *, is_short: bool = False) -> int:
    """How many lines must be seen now: everything at a turn, whatever must be said once, the beginning of a note."""
    about = _about(session, width, terms, is_short=is_short) if _is_turn(session) else []
    return len(_notice(notice, width)) + len(about) + min(NOTE, len(_note(session, width)))


def _is_turn(session: Session) -> bool:
    return session.is_at_turn and session.done > 0


def _notice(notice: str, width: int) -> list[Line]:
    return paragraphs([notice], width, "alert")


def _note(session: Session, width: int) -> list[Line]:
    note = session.notes.get(session.row, "")
    return paragraphs([f"Note: {note}" if note else ""], width, "strong")


def _about(session: Session, width: int, terms: words.Terms, *, is_short: bool = False) -> list[Line]:
    """What stands at the row's end; past what is to be done there now, what comes after it. In short: cuts by place
    alone, and no word of ends, which the top line counts."""
    if session.is_bound_off:
        return []
    row, is_turn = session.rows[session.row], _is_turn(session)
    if session.act is not None:
        _, *later = session.row_end
        texts = [words.and_then([step for group in later for step in group], terms)]
    else:
        steps = session.row_end[-1] if is_turn else row_end(session.strands, session.row, session.cut)
        steps = tuple(step for step in steps if not (session.is_worked and isinstance(step, BindOff)))
        texts = words.at_the_end(steps, 0 if is_short else ready_ends(session), terms, is_short=is_short)
    if not is_turn:
        return paragraphs([" ".join([words.row_to_end(row), *texts])], width, "quiet")
    lead = words.row_done(row)
    about = paragraphs([" ".join([lead, *texts]).strip()], width, "strong")
    first = about[0][0][0]
    about[0] = [(lead, "now"), (first[len(lead):], "strong")]
    return about
