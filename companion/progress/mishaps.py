"""What life can have done to a piece: which runs may have been worked with another strand, and with which; what is
known of mistakes, missed crosses and the areas to sew on."""

from __future__ import annotations

from collections.abc import Iterator

from companion.knitting.cloth.areas import Area, sewing
from companion.knitting.cloth.carries import carry
from companion.knitting.cloth.cast_on import is_begun
from companion.knitting.cloth.rows import Place, Rows
from companion.knitting.hands.holes import near
from companion.knitting.hands.joins_and_cuts import crossed_over
from companion.knitting.hands.mistakes import Mistake, as_worked, segment_at, to_sew_over
from companion.knitting.hands.steps import End
from companion.progress.ends import all_ends
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
        if not _waits(rows, last, place) and (
            last.row == place.row or may is None or may(rows.segment(last).exit, place.segment)
        ):
            yield rows[place.row].level - rows[last.row].level, carry(rows, last, place), strand


def _waits(rows: Rows, last: Place, place: Place) -> bool:
    """Whether a strand hangs at the other part of an opening, or below one that lies below the place."""
    fabric = rows.fabric
    ends = {fabric.block_of(last.row).opening, fabric.block_of(place.row).opening, -1}
    between = fabric.blocks[fabric.block(last.row):fabric.block(place.row)]
    return fabric.is_apart(last.row, place.row) or any(block.opening not in ends for block in between)


def newly(session: Session, place: Place) -> str:
    """Why no strand can have been joined there after all: one is, as planned."""
    if place.segment and is_begun(session.rows, place):
        return "The strand of this run was begun in the cast-on."
    return "A new strand is joined here as planned."


def to_sew(session: Session) -> tuple[Area, ...]:
    """Everything that is sewn on afterwards: the plan's areas, and the mistakes that are sewn over."""
    areas = sewing(session.piece.fabric)
    over = [mistake for mistake, way in sorted(session.mended.items()) if way == "sew"]
    return (*areas, *(area for mistake in over for area in to_sew_over(mistake, session.piece.rows)))


def left_to_sew(session: Session) -> tuple[Area, ...]:
    """Those of them that are not sewn yet."""
    return tuple(area for area in to_sew(session) if area.first not in session.sewn)


def closes(session: Session) -> dict[Place, End | None]:
    """For every missed cross that is not closed the end to close it with: the nearest that hangs there; None: none
    is near."""
    hanging = [end for end, state in all_ends(session) if state != "not yet"]
    found: dict[Place, End | None] = {}
    for hole in sorted(place for place in session.missed if is_change(session, place)):
        ends = near(hole, hanging, session.strands, session.piece.gauge)
        if not ends or ends[0] not in session.woven:
            found[hole] = ends[0] if ends else None
    return found


def hangs_elsewhere(session: Session, mistake: Mistake) -> bool:
    """Whether strands hang elsewhere than planned where a mistake is left."""
    return as_worked(session.rows, [mistake]) is not session.rows


def is_worked(session: Session, row: int, column: int) -> bool:
    """Whether there is a stitch there that is on the needle or below it."""
    if not 0 <= row <= session.row:
        return False
    segment = segment_at(session.rows[row], column)
    return segment is not None and (row, segment) < (session.row, session.done)


def changes(session: Session) -> Iterator[Place]:
    """Every run worked before which there is a change, the newest first."""
    for row in range(session.row, -1, -1):
        done = session.done if row == session.row else len(session.rows[row].segments)
        places = (Place(row, segment) for segment in range(1, done))
        yield from (place for place in places if is_change(session, place))


def is_change(session: Session, place: Place) -> bool:
    """Whether another strand works a run than the one before it in its row: strands are crossed there."""
    return place.segment > 0 and crossed_over(session.strands, place) != ""
