"""Where am I? The row is found by what lies on the needle; going there is left to the knitter."""

from __future__ import annotations

from companion.dialogue.questions import Asking, Reading, Words
from companion.knitting import words
from companion.knitting.hands.whereabouts import rows_like
from companion.problems import Problems, show
from companion.progress.session import Session


def where_am_i(session: Session) -> Asking[None]:
    """Ask what lies on the needle, and tell the rows that fit."""
    from companion.plan.needle import runs_on_needle

    yarns = session.piece.yarns
    answer = yield Words(words.WHERE_QUESTION, offered=tuple((yarn.symbol, yarn.name) for yarn in yarns))
    if not answer:
        return
    try:
        runs = runs_on_needle(answer, yarns)
    except Problems as found:
        lines = [show(problem) for problem in found.problems]
    else:
        lines = words.rows_found(session.rows, rows_like(session.rows, runs))
    yield Reading("Where am I?", lines)
