"""What can be done with the ends of a piece now."""

from __future__ import annotations

from bisect import bisect_right

from companion.knitting.ends import End, EndState, ends_of, exists
from companion.knitting.weaving import Weaving, backs_of
from companion.progress.session import Session


def end_state(session: Session, end: End) -> EndState:
    """What can be done with an end now. Once the piece is bound off, every end that is not woven is ready, but for
    those that wait for a seam."""
    if end in session.woven:
        return "woven"
    if not exists(end, session.row, session.done, session.strands):
        return "not yet"
    return _state(session, end)


def _state(session: Session, end: End) -> EndState:
    """The same of an end that hangs at the fabric and is not woven in."""
    weaving = how_woven(session, end)
    if weaving.is_for_seam and "seams" not in session.finished:
        return "for the seam"
    return "ready" if session.is_bound_off or weaving.rows <= session.rows_done else "too fresh"


def how_woven(session: Session, end: End) -> Weaving:
    """How an end is woven in."""
    return backs_of(session.piece, session.strands).weaving(end)


def all_ends(session: Session) -> tuple[tuple[End, EndState], ...]:
    """Every end the piece will have, with its state now."""
    return tuple((end, end_state(session, end)) for end in _ends(session))


def ready_ends(session: Session) -> int:
    """How many ends are ready to be woven in."""
    ends, rows = _ends(session), session.strands.end_rows
    begun = ends[:bisect_right(rows, session.rows_done - 1)]
    return sum(end not in session.woven and _state(session, end) == "ready" for end in begun)


def _ends(session: Session) -> tuple[End, ...]:
    """Every end, in the order in which they come about, which is by rows."""
    found = session.strands.kept.get("ends")
    if found is None:
        found = session.strands.kept["ends"] = ends_of(session.strands)
    ends: tuple[End, ...] = found
    return ends
