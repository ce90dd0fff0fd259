"""Actions that need a word from the knitter: down to which row, up to which one, a note."""

from __future__ import annotations

from collections.abc import Awaitable, Callable

from companion.knitting import words
from companion.knitting.words import Terms
from companion.progress.actions import Action, AtRow, Note, RipBack
from companion.progress.deciding import would_rip
from companion.progress.session import Session
from companion.progress.typed import row_typed, rows_upto
from companion.screens.rowside import Rowside

Asking = Callable[[Rowside, Session, Terms], Awaitable[Action | None]]
"""Asks for an action; None where it was left."""


async def rip_back(app: Rowside, session: Session, terms: Terms) -> Action | None:
    """Rows undone down to one, told before it is done; None where it was left.

    Raises:
        Refused: there is no such row to rip back to.
    """
    from companion.screens.asking import AskYes

    row = await _row(app, session, words.rip_question(rows_upto(session.rows_done, session.rows)))
    if row is None:
        return None
    undone = would_rip(session, row)
    told = words.rip_told(
        undone.rows, undone.stitches, undone.on_needle, undone.woven, terms,
        from_part=session.rows[session.row].part, to_part=session.rows[row - 1].part if row else "",
    )
    return RipBack(row) if await app.push_screen_wait(AskYes(told, "rip back", "leave it")) else None


async def at_row(app: Rowside, session: Session, _terms: Terms) -> Action | None:
    """Forward to a row; None where it was left.

    Raises:
        Refused: there is no such row.
    """
    row = await _row(app, session, words.AT_ROW_QUESTION, may_be_past=True)
    return None if row is None else AtRow(row)


async def note(app: Rowside, session: Session, _terms: Terms) -> Action | None:
    """A note on the row in work; None where it was left."""
    from companion.screens.asking import AskWords

    row = session.row if session.done else 0
    told = session.notes.get(row, "")
    answer = await app.push_screen_wait(AskWords(words.note_question(session.rows[row]), told))
    return None if answer is None else Note(row + 1, answer)


async def _row(app: Rowside, session: Session, question: str, *, may_be_past: bool = False) -> int | None:
    """A row's place in working order, from 1; None where none is told."""
    from companion.screens.asking import AskWords

    kind = "text" if len(session.rows.fabric.starts) > 1 else "number"
    answer = await app.push_screen_wait(AskWords(question, kind=kind))
    return row_typed(answer, session.rows, may_be_past=may_be_past) if answer else None
