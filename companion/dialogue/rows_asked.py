"""Actions that need a word from the knitter: down to which row, up to which one, a note."""

from __future__ import annotations

from companion.dialogue.questions import Asking, Words, YesNo
from companion.knitting import words
from companion.knitting.cloth.fabric import Part
from companion.knitting.cloth.rows import Place, Rows
from companion.knitting.words import Terms
from companion.progress.actions import Action, AtRow, Note, RipBack
from companion.progress.deciding import would_rip
from companion.progress.session import Session
from companion.progress.typed import row_typed, rows_upto


def rip_back(session: Session, terms: Terms) -> Asking[Action | None]:
    """Rows undone down to one, told before it is done; None where it was left.

    Raises:
        Refused: there is no such row to rip back to.
    """
    row = yield from _row(session, words.rip_question(rows_upto(session.rows_done, session.rows), session.rows))
    if row is None:
        return None
    undone = would_rip(session, row)
    from_part, to_part, is_apart = _parts(session.rows, session.row, row)
    lines = words.rip_told(
        undone.rows, undone.stitches, undone.on_needle, undone.woven, terms, rows=session.rows,
        side=session.rows[row].side, from_part=from_part, to_part=to_part, is_apart=is_apart,
        free=_falling_free(session, row),
    )
    return RipBack(row) if (yield YesNo(tuple(lines), "rip back", "leave it")) else None


def _parts(rows: Rows, now: int, whole: int) -> tuple[Part, Part, bool]:
    """The part in which row ``now`` lies and the one that is ripped back into when ``whole`` rows stay, "" where they
    lie beside different openings; and whether the latter is joined to the other one above."""
    here, there = rows.fabric.block_of(now), rows.fabric.block_of(max(0, whole - 1))
    from_part = here.part if not there.part or here.opening == there.opening else ""
    return from_part, there.part, bool(there.part and rows.following(there.stop - 1))


def _falling_free(session: Session, row: int) -> list[str]:
    """The yarn of every strand whose first stitches are undone when so many rows stay."""
    now = Place(session.row, session.done)
    joined = (place for place in session.strands.first.values() if Place(row, 0) <= place < now)
    return [session.rows.segment(place).yarn for place in joined]


def at_row(session: Session) -> Asking[Action | None]:
    """Forward to a row; None where it was left.

    Raises:
        Refused: there is no such row.
    """
    row = yield from _row(session, words.at_row_question(session.rows), may_be_past=True)
    return None if row is None else AtRow(row)


def note(session: Session) -> Asking[Action | None]:
    """A note on the row in work; None where it was left."""
    row = session.row if session.done else 0
    answer = yield Words(words.note_question(session.rows[row]), session.notes.get(row, ""))
    return None if answer is None else Note(row + 1, answer)


def _row(session: Session, question: str, *, may_be_past: bool = False) -> Asking[int | None]:
    """A row's place in working order, from 1; None where none is told."""
    answer = yield Words(question, is_number=len(session.rows.fabric.blocks) == 1, is_row=True)
    return row_typed(answer, session.rows, may_be_past=may_be_past) if answer else None
