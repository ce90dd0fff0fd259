"""What life can have done to strands: which runs may have been worked with another one, and with which."""

from __future__ import annotations

from collections.abc import Iterator

from companion.knitting.cloth.cast_on import is_begun
from companion.knitting.cloth.rows import Place, carry
from companion.knitting.hands.ends import End
from companion.progress.session import Session


def at_hand(session: Session) -> tuple[Place, ...]:
    """The run worked last and the run in work, those that there are; none once the piece is bound off."""
    if session.is_bound_off:
        return ()
    return tuple(place for place in (session.last_place, session.next_place) if place is not None)


def others(session: Session, place: Place) -> tuple[int, ...]:
    """The strands, but for the one planned, that may have worked a run that is at hand: of its yarn, with no end
    woven in where they hang; the nearest first."""
    return tuple(strand for *_, strand in sorted(could_be(session, place)))


def could_be(session: Session, place: Place) -> Iterator[tuple[int, int, int]]:
    """Those strands in no order, each after the rows and stitches that it hangs away."""
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


def newly(session: Session, place: Place) -> str:
    """Why no strand can have been joined there after all: one is, as planned."""
    if place.segment and is_begun(session.rows, place):
        return "The strand of this run was begun in the cast-on."
    return "A new strand is joined here as planned."
