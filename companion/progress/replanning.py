"""The rest of a piece planned anew from what really hangs: every change of strands in mid-piece comes through here.

A length that was cut, or that ended on the way, and is ripped out below that place is still as long as it was: it
works again just what it worked before, or, where that is not to be worked any more, nothing. And what follows when
strands hang otherwise than planned or work is undone, so that nothing is left that is not so.
"""

from __future__ import annotations

from collections.abc import Collection, Iterator

from companion.knitting.cloth.rows import Place, Rows
from companion.knitting.hands.ends import exists, left_by
from companion.knitting.hands.row_ends import LIGHT, pressed
from companion.knitting.hands.steps import BindOff, Divide, End, JoinParts, TakeUp, name_of
from companion.knitting.hands.trapping import laid_in
from companion.knitting.howfar import TooMuchToWeigh
from companion.knitting.piece import Piece
from companion.knitting.strands.limits import Carry
from companion.knitting.strands.strands import Past, StrandOf, Strands, position_of
from companion.progress.ends import how_woven
from companion.progress.events import Entry, Planned, RippedBack, RowEndBegun, Unpicked, Unwove
from companion.progress.fold import after_events
from companion.progress.session import Session
from companion.progress.trouble import Refused


def fewest(rows: Rows, limits: Carry, past: Past | None = None) -> Strands:
    """The fewest strands for what is still to come.

    Raises:
        Refused: the limits allow more than can be weighed.
    """
    from companion.knitting.strands.plan import plan_strands

    try:
        return plan_strands(rows, limits, past).strands
    except TooMuchToWeigh as much:
        raise Refused(str(much)) from None


def planned(
    session: Session, *, worked: StrandOf | None = None, without: Collection[int] = (),
    version: tuple[int, Piece] | None = None, limits: Carry | None = None,
) -> Planned:
    """The rest as it is worked with the fewest strands from here.

    ``worked``: what was really worked, where it is not what the session has, the run in work perhaps included.
    ``without``: strands of which no cut length is worked again. ``version``: another version of the plan, with its
    number, that is the same as far as is worked. ``limits``: others than those in force.
    """
    number, piece = version or (session.version, session.piece)
    limits = limits or session.limits
    rows = session.as_worked(piece)
    past = _past(session, rows, so_far(session, rows) if worked is None else worked, without)
    return Planned.of(number, limits, fewest(rows, limits, past), session.strands)


def past_of(session: Session) -> Past:
    """What really hangs, for planning the rest of the same piece."""
    return _past(session, session.rows, so_far(session, session.rows), ())


def so_far(session: Session, rows: Rows) -> StrandOf:
    """What was worked, and the run in work where its strand is settled and ``rows`` has the same run there."""
    worked, place = session.past.worked, session.next_place
    if not session.is_begun or place is None or _first_that_differs(session.rows, rows, place.row) == place.row:
        return worked
    return with_run(worked, place, session.strands.at(place))


def with_run(worked: StrandOf, place: Place, strand: int) -> StrandOf:
    """What was worked, and the next run with this strand."""
    if not place.segment:
        return (*worked, (strand,))
    *rows, begun = worked
    return (*rows, (*begun, strand))


def _past(session: Session, rows: Rows, worked: StrandOf, without: Collection[int]) -> Past:
    """What was worked, with every length that still has to work, and can, what it worked before."""
    here = position_of(Past(worked), rows)
    until = {strand: last for strand, last in reaches(session) if last >= here}
    cut = session.cut.union(until)
    again: dict[Place, int] = {}
    for row in range(here.row, min(_first_that_differs(session.rows, rows, here.row), len(rows))):
        for segment, strand in enumerate(session.strands.strand_of[row]):
            place = Place(row, segment)
            if here <= place <= until.get(strand, Place(-1, 0)) and strand not in without:
                again[place] = strand
                if place == until[strand] and strand not in session.cut:
                    cut -= {strand}
    return Past(worked, cut, again, session.strands.shared)


def reaches(session: Session) -> Iterator[tuple[int, Place]]:
    """Every strand on the needles whose length is known to end, and the last run for which it does: its cut, or where
    a new length was joined when it was worked before."""
    strands, here = session.strands, (session.row, session.done)
    hanging = {n for row in session.past.worked for n in row}
    yield from ((n, strands.last[n]) for n in sorted(session.cut & hanging))
    for broken in strands.renewed:
        strand = strands.at(broken.place)
        if broken.place >= here and strand in hanging and strand not in session.cut:
            yield strand, broken.place


def _first_that_differs(old: Rows, new: Rows, start: int) -> int:
    """The first row from ``start`` on that has other stitches; the number of rows where there is none."""
    before, after = old.fabric.rows, new.fabric.rows
    for row in range(start, min(len(before), len(after))):
        if before[row] != after[row]:
            return row
    return min(len(before), len(after))


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
    """What follows when work is undone: ends that are none any more are not woven in, where a mistake goes that was
    left, the rest is planned anew, and a part that is gone back into is bound off or divided again."""
    events: Entry = (event,)
    after = after_events(session, events)
    if after.rows != session.rows:
        events += (planned(after),)
        after = after_events(session, events)
    lost = _not_woven(session, after)
    if isinstance(event, RippedBack) and after.is_at_turn and after.done:
        acts = pressed(after.strands, after.row, after.cut)
        if any(isinstance(act, _AT_PARTS) for act in acts):
            events += (RowEndBegun(after.row, tuple(name_of(act) for act in acts if isinstance(act, LIGHT))),)
    return (*events, *lost)


_AT_PARTS = (BindOff, Divide, TakeUp, JoinParts)
"""What is done at the end of a row where a part begins, waits, ends or is joined."""


def _not_woven(session: Session, after: Session) -> Iterator[Unwove]:
    """Ends that are not woven in any more: they do not exist, or what they ran through is undone."""
    loose: set[End] = set()
    if session.is_trapping:
        for row in range(after.row, session.row + 1):
            for segment in range(len(session.rows[row].segments)):
                if (after.row, after.done) <= (row, segment) < (session.row, session.done):
                    loose |= {step.end for _, step in laid_in(session.strands, Place(row, segment))}
    for end in sorted(session.woven):
        is_there = exists(end, after.row, after.done, after.strands)
        if not is_there or end in loose or _ran_through(session, end, after):
            yield Unwove(end)


def _ran_through(session: Session, end: End, after: Session) -> bool:
    """The end's route was whole, and is not any more."""
    if after.rows_done == session.rows_done or end not in left_by(session.strands):
        return False
    top = max(row for row, _ in how_woven(session, end).cells)
    return after.rows_done <= top < session.rows_done
