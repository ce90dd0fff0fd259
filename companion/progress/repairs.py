"""What is done about a mistake, a missed cross and the areas to sew on; each is told when it is found or done."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from typing import Any

from companion.knitting.cloth.areas import Area, sewing
from companion.knitting.cloth.rows import Place
from companion.knitting.hands.ends import End
from companion.knitting.hands.holes import near
from companion.knitting.hands.mistakes import (
    Mistake,
    as_worked,
    laddering,
    ripping,
    segment_at,
    sewing_over,
    to_sew_over,
)
from companion.progress.actions import Action, Mend, MissCross, Refused, Sew, Unsew
from companion.progress.ends import all_ends
from companion.progress.events import Entry, MissedCross, Mistook, RippedBack, Sewed, Unsewed
from companion.progress.fold import after_events
from companion.progress.mishaps import followed, undone
from companion.progress.replanning import planned
from companion.progress.session import Session


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
    for hole in sorted(session.missed):
        ends = near(hole, hanging, session.rows, session.piece.gauge)
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


def allowed(session: Session) -> set[type[Action]]:
    """Which of these actions are possible now."""
    possible: set[type[Action]] = {Mend} if session.done else set()
    if any(place not in session.missed for place in _changes(session)):
        possible.add(MissCross)
    if session.is_bound_off and left_to_sew(session):
        possible.add(Sew)
    if session.sewn:
        possible.add(Unsew)
    return possible


def _changes(session: Session) -> Iterator[Place]:
    """Every run worked before which there is a change, the newest first."""
    for row in range(session.row, -1, -1):
        done = session.done if row == session.row else len(session.rows[row].segments)
        yield from (Place(row, segment) for segment in range(1, done))


def _mend(session: Session, action: Mend) -> Entry:
    mistake, way = action.mistake, action.way
    if not mistake.columns or not all(is_worked(session, mistake.row, column) for column in mistake.columns):
        raise Refused("Only stitches that are worked can be marked as wrong.")
    if mistake.columns != tuple(sorted(set(mistake.columns))):
        raise Refused("A stitch is marked once, from the right edge.")
    if mistake.yarn and mistake.yarn not in {yarn.name for yarn in session.piece.yarns}:
        raise Refused("The plan has no yarn of that name.")
    if any(area.yarn == mistake.yarn for area in to_sew_over(mistake, session.piece.rows)):
        raise Refused("That is the yarn the plan has there.")
    if mistake in session.mended:
        raise Refused("That is told already.")
    if session.is_bound_off and way in ("ladder", "rip"):
        raise Refused("The piece is bound off.")
    if way == "sew" and sewing_over(mistake).why_not:
        raise Refused("It cannot be sewn over.")
    if way == "ladder" and laddering(mistake, session.strands, session.row, session.done).why_not:
        raise Refused("Its columns cannot be dropped.")
    told = Mistook(mistake.row, mistake.columns, mistake.yarn, way)
    if way == "leave" and hangs_elsewhere(session, mistake):
        return followed(session, (told, planned(after_events(session, (told,)))))
    if way == "rip":
        rip = ripping(mistake, session.rows, session.row, session.done)
        if rip.rows:
            return (told, *undone(session, RippedBack(rip.whole - 1)))
    return (told,)


def _miss_cross(session: Session, action: MissCross) -> Entry:
    if action.place not in _changes(session):
        raise Refused("There is no change there that is worked.")
    if action.place in session.missed:
        raise Refused("That is told already.")
    return (MissedCross(*action.place),)


def _sew(session: Session, action: Sew) -> Entry:
    if not session.is_bound_off:
        raise Refused("Areas are sewn on when the piece is bound off.")
    if action.cell in session.sewn:
        raise Refused("This area is sewn on already.")
    if action.cell not in {area.first for area in to_sew(session)}:
        raise Refused("No area to be sewn on begins there.")
    return (Sewed(*action.cell),)


def _unsew(session: Session, action: Unsew) -> Entry:
    if action.cell not in session.sewn:
        raise Refused("This area is not marked as sewn on.")
    return (Unsewed(*action.cell),)


DECIDE: dict[type[Action], Callable[[Session, Any], Entry]] = {
    Mend: _mend,
    MissCross: _miss_cross,
    Sew: _sew,
    Unsew: _unsew,
}
"""What decides on each of these actions."""
