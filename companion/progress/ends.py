"""What can be done with the ends of a piece now."""

from __future__ import annotations

from bisect import bisect_right

from companion.knitting.ends import End, EndState, ends_of, exists, rows_above, rows_until_ready
from companion.progress.session import Session


def end_state(session: Session, end: End) -> EndState:
    """What can be done with an end now. Once the piece is bound off, every end that is not woven is ready."""
    if end in session.woven:
        return "woven"
    if not exists(end, session.row, session.done, session.strands):
        return "not yet"
    above = rows_above(end, session.row, session.done, session.strands)
    return "ready" if session.is_bound_off or above >= rows_until_ready(session.piece.gauge) else "too fresh"


def all_ends(session: Session) -> tuple[tuple[End, EndState], ...]:
    """Every end the piece will have, with its state now."""
    return tuple((end, end_state(session, end)) for end in ends_of(session.strands))


def ready_ends(session: Session) -> int:
    """How many ends are ready to be woven in."""
    newest = session.rows_done - 1 - rows_until_ready(session.piece.gauge)
    if session.is_bound_off:
        newest = len(session.rows)
    old_enough = bisect_right(session.strands.end_rows, newest)
    return old_enough - sum(end.place.row <= newest for end in session.woven)


def is_finished(session: Session) -> bool:
    """Bound off and every end woven in."""
    return session.is_bound_off and all(state == "woven" for _, state in all_ends(session))
