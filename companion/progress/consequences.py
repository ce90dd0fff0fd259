"""What follows when strands hang otherwise than planned or work is undone, so that nothing is left that is not so.
"""

from __future__ import annotations

from collections.abc import Iterator

from companion.knitting.cloth.rows import Place
from companion.knitting.hands.ends import End, exists, is_end
from companion.knitting.hands.row_ends import pressed
from companion.knitting.hands.steps import name_of
from companion.knitting.hands.trapping import traps
from companion.progress.ends import how_woven
from companion.progress.events import Entry, RippedBack, RowEndBegun, Unpicked, Unwove
from companion.progress.fold import after_events
from companion.progress.replanning import planned
from companion.progress.session import Session


def followed(session: Session, events: Entry) -> Entry:
    """What follows from a new plan: at a turn the strands that are not needed any more are to be cut now, and ends
    that are none any more are not woven in."""
    after = after_events(session, events)
    open_again: Entry = ()
    if after.is_at_turn and after.acts_done is None:
        names = [name_of(act) for act in pressed(after.strands, after.row, after.cut)]
        if "cut" in names:
            open_again = (RowEndBegun(after.row, tuple(name for name in names if name != "cut")),)
    return (*events, *open_again, *_not_woven(session, after))


def undone(session: Session, event: Unpicked | RippedBack) -> Entry:
    """What follows when work is undone: ends that are none any more are not woven in, and where a mistake goes that
    was left, the rest is planned anew."""
    after = after_events(session, (event,))
    if after.rows == session.rows:
        return (event, *_not_woven(session, after))
    follow = planned(after)
    return (event, follow, *_not_woven(session, after_events(after, (follow,))))


def _not_woven(session: Session, after: Session) -> Iterator[Unwove]:
    """Ends that are not woven in any more: they do not exist, or what they ran through is undone."""
    loose: set[End] = set()
    if session.is_trapping:
        for row in range(after.row, session.row + 1):
            for segment in range(len(session.rows[row].segments)):
                if (after.row, after.done) <= (row, segment) < (session.row, session.done):
                    loose |= {trap.end for trap in traps(session.strands, Place(row, segment))}
    for end in sorted(session.woven):
        is_there = exists(end, after.row, after.done, after.strands)
        if not is_there or end in loose or _ran_through(session, end, after):
            yield Unwove(end)


def _ran_through(session: Session, end: End, after: Session) -> bool:
    """The end's route was whole, and is not any more."""
    if after.rows_done == session.rows_done or not is_end(end, session.strands):
        return False
    top = max(row for row, _ in how_woven(session, end).cells)
    return after.rows_done <= top < session.rows_done
