"""Where am I? The row is found by what lies on the needle; going there is left to the knitter."""

from __future__ import annotations

from companion.dialogue.questions import Asking, Reading, Words
from companion.knitting import words
from companion.knitting.hands.whereabouts import rows_like
from companion.problems import Problems, show
from companion.progress.session import Session


def where_am_i(session: Session, forward: str, back: str) -> Asking[None]:
    """Ask what lies on the needle, and tell the rows that fit. ``forward``, ``back``: the keys that go to a row."""
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
        alike = rows_like(session.rows, runs)
        lines = words.rows_found(session.rows, alike)
        if alike:
            lines.append(words.how_to_get_there(session.rows, forward, back))
    yield Reading("Where am I?", lines)
