"""Where am I? The row is found by what lies on the needle; going there is left to the knitter."""

from __future__ import annotations

from textual.app import App

from companion.knitting import words
from companion.knitting.whereabouts import rows_like
from companion.problems import Problems, show
from companion.progress.session import Session
from companion.screens.asking import AskWords, Reading


async def tell_where(app: App[None], session: Session) -> None:
    """Ask what lies on the needle, and tell the rows that fit."""
    from companion.plan.needle import runs_on_needle

    told = await app.push_screen_wait(AskWords(words.WHERE_QUESTION))
    if not told:
        return
    try:
        runs = runs_on_needle(told, session.piece.yarns)
    except Problems as found:
        lines = [show(problem) for problem in found.problems]
    else:
        lines = words.rows_found(session.rows, rows_like(session.rows, runs))
    await app.push_screen_wait(Reading("Where am I?", lines))
