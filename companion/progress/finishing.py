"""What of the finishing is done, and what is to be done now, until the piece is really finished."""

from __future__ import annotations

from collections.abc import Mapping

from companion.knitting.hands.finishing import after_last_row
from companion.knitting.hands.steps import BindOff, Finishing, SewOn, SewUp, Trim, Wash, WeaveAtSeams, WeaveIn
from companion.knitting.value import Record
from companion.progress.ends import all_ends, how_woven
from companion.progress.events import Said
from companion.progress.mishaps import left_to_sew, to_sew
from companion.progress.session import Phase, Session

SAID: Mapping[Said, type[Finishing]] = {"wash": Wash, "trim": Trim, "seams": SewUp}
"""They as steps; the others are done when their work is."""


class ToDo(Record):
    """One step, with what it still has to do."""

    doing: Finishing
    is_done: bool


def finishing(session: Session) -> tuple[ToDo, ...]:
    """Every step that this piece has, in order. A step is not done before those below it are."""
    left = [how_woven(session, end).is_for_seam for end, state in all_ends(session) if state != "woven"]
    areas = left_to_sew(session) if to_sew(session) else None
    found, done_so_far = list[ToDo](), True
    for doing in after_last_row(
        session.piece, session.strands, ends=left.count(False), at_seams=left.count(True), areas=areas
    ):
        done_so_far = done_so_far and _is_done(session, doing)
        found.append(ToDo(doing, done_so_far))
    return tuple(found)


def _is_done(session: Session, doing: Finishing) -> bool:
    match doing:
        case BindOff():
            return session.is_bound_off
        case WeaveIn(ends) | WeaveAtSeams(ends):
            return not ends
        case SewOn(areas):
            return not areas
        case Wash() | Trim() | SewUp():
            return type(doing) in session.finished


def next_step(session: Session) -> ToDo | None:
    """The step to be done now; None when the piece is finished."""
    return next((step for step in finishing(session) if not step.is_done), None)


def phase_of(session: Session) -> Phase:
    """How far the piece is: finished when it is bound off, every end woven in, washed, trimmed and sewn up."""
    return Phase.FINISHED if session.is_bound_off and next_step(session) is None else session.phase
