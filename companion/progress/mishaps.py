"""What life does to strands: a length that runs out, a strand joined anew after all, or gone on with.

Each is told when it happens; the rest is planned anew wherever something hangs otherwise than planned.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from typing import Any

from companion.knitting.cloth.cast_on import is_begun
from companion.knitting.cloth.rows import Place, carry
from companion.knitting.hands.ends import End, exists, is_end
from companion.knitting.hands.row_ends import pressed
from companion.knitting.hands.steps import name_of
from companion.knitting.hands.trapping import traps
from companion.knitting.strands.strands import Past
from companion.progress.actions import Action, EndLength, GoOn, JoinNew, Refused
from companion.progress.ends import how_woven
from companion.progress.events import (
    Broke,
    Entry,
    JoinedNew,
    RanOut,
    RippedBack,
    RowEndBegun,
    Unpicked,
    Unwove,
    WentOn,
)
from companion.progress.fold import after_events
from companion.progress.replanning import planned, so_far, with_run
from companion.progress.session import Session


def allowed(session: Session) -> set[type[Action]]:
    """Which of these actions are possible now."""
    possible: set[type[Action]] = set()
    if (place := session.next_place) is not None:
        told = {broken.after for broken in session.strands.breaks if broken.place == place}
        if len(told) < session.rows.segment(place).stitches:
            possible.add(EndLength)
    runs = at_hand(session)
    if any(session.strands.first[session.strands.at(place)] != place for place in runs):
        possible.add(JoinNew)
    if any(True for place in runs for _ in _could_be(session, place)):
        possible.add(GoOn)
    return possible


def at_hand(session: Session) -> tuple[Place, ...]:
    """The run worked last and the run in work, those that there are; none once the piece is bound off."""
    if session.is_bound_off:
        return ()
    return tuple(place for place in (session.last_place, session.next_place) if place is not None)


def others(session: Session, place: Place) -> tuple[int, ...]:
    """The strands, but for the one planned, that may have worked a run that is at hand: of its yarn, with no end
    woven in where they hang; the nearest first."""
    return tuple(strand for *_, strand in sorted(_could_be(session, place)))


def _could_be(session: Session, place: Place) -> Iterator[tuple[int, int, int]]:
    """Those strands, each after the rows and stitches that it hangs away."""
    strands, rows = session.strands, session.rows
    if is_begun(rows, place):
        return
    yarn, bars = rows.segment(place).yarn, strands.bars
    for strand in strands.first:
        last = strands.latest(strand, place) if strand != strands.at(place) else None
        if last is None or rows.segment(last).yarn != yarn or End(last, "finish") in session.woven:
            continue
        may = bars.may_go_on(last.row, place.row)
        if rows[last.row].part in ("", rows[place.row].part) and (
            last.row == place.row or may is None or may(rows.segment(last).exit, place.segment)
        ):
            yield rows[place.row].level - rows[last.row].level, carry(rows, last, place), strand


def _end_length(session: Session, action: EndLength) -> Entry:
    place = session.next_place
    if place is None:
        raise Refused("Every row is worked.")
    strands, stitches = session.strands, session.rows.segment(place).stitches
    if not 0 <= action.after < stitches:
        raise Refused(f"Say a number from 0 (before the first stitch) to {stitches - 1}.")
    if any(broken[:2] == (place, action.after) for broken in strands.breaks):
        raise Refused("That is told already.")
    if action.after or action.is_spliced:
        return (Broke(place.row, place.segment, action.after, action.is_spliced),)
    strand = strands.at(place)
    if strands.first[strand] == place:
        raise Refused(_newly(session, place))
    ended = RanOut(strand)
    return followed(session, (ended, planned(after_events(session, (ended,)), without={strand})))


def _newly(session: Session, place: Place) -> str:
    if place.segment and is_begun(session.rows, place):
        return "The strand of this run was begun in the cast-on."
    return "A new strand is joined here as planned."


def _join_new(session: Session, action: JoinNew) -> Entry:
    place = _at_hand(session, action.place)
    old = session.strands.at(place)
    if session.strands.first[old] == place:
        raise Refused(_newly(session, place))
    new = max(n for row in so_far(session, session.rows) for n in row) + 1
    return _reassigned(session, place, JoinedNew(*place, new), new)


def _go_on(session: Session, action: GoOn) -> Entry:
    place = _at_hand(session, action.place)
    if action.strand not in others(session, place):
        raise Refused("No such strand of this yarn hangs there.")
    return _reassigned(session, place, WentOn(*place, action.strand), action.strand)


def _at_hand(session: Session, place: Place) -> Place:
    if place not in at_hand(session):
        raise Refused("Only the run worked last and the one in work can be told to be worked otherwise.")
    return place


def _worked_below(session: Session, place: Place) -> Past:
    """What was worked before a run that is at hand."""
    worked = session.past.worked
    if place != session.last_place:
        return Past(worked)
    *rows, last = worked
    return Past((*rows, last[:-1]) if last[:-1] else tuple(rows))


def _reassigned(session: Session, place: Place, told: JoinedNew | WentOn, strand: int) -> Entry:
    """A run is another strand's: the rest is planned anew, and ends that are none any more are not woven in."""
    worked = with_run(_worked_below(session, place).worked, place, strand)
    if session.is_begun and place == session.last_place and session.next_place is not None:
        worked = with_run(worked, session.next_place, session.strands.at(session.next_place))
    told_so = after_events(session, (told,))
    return followed(session, (told, planned(told_so, worked=worked, without={session.strands.at(place), strand})))


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


DECIDE: dict[type[Action], Callable[[Session, Any], Entry]] = {
    EndLength: _end_length,
    JoinNew: _join_new,
    GoOn: _go_on,
}
"""What decides on each of these actions."""
