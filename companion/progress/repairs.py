"""What is known of mistakes, missed crosses and the areas to sew on."""

from __future__ import annotations

from collections.abc import Iterator

from companion.knitting.cloth.areas import Area, sewing
from companion.knitting.cloth.rows import Place
from companion.knitting.hands.ends import End
from companion.knitting.hands.holes import near
from companion.knitting.hands.mistakes import Mistake, as_worked, segment_at, to_sew_over
from companion.progress.ends import all_ends
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


def changes(session: Session) -> Iterator[Place]:
    """Every run worked before which there is a change, the newest first."""
    for row in range(session.row, -1, -1):
        done = session.done if row == session.row else len(session.rows[row].segments)
        yield from (Place(row, segment) for segment in range(1, done))
