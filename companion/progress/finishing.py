"""What is left to do once the last row is worked, step by step in its order, until the piece is really finished.

Bind off, weave in the ends without trimming them, sew on what is sewn on afterwards, wash and dry flat, trim, sew the
seams, weave in the ends there (trim after washing: "Changing colors and weaving in loose ends"; the order is common
practice, no source).
"""

from __future__ import annotations

from typing import Literal, NamedTuple

from companion.knitting.cloth.tubes import TubeSeam, tube_seams
from companion.progress.ends import all_ends, how_woven
from companion.progress.repairs import left_to_sew, to_sew
from companion.progress.session import Session

Step = Literal["bind off", "weave", "sew", "wash", "trim", "seams", "seam ends"]
TOLD: tuple[Step, ...] = ("wash", "trim", "seams")
"""Steps that are done when the knitter says so; the others are done when their work is."""


class ToDo(NamedTuple):
    """One step. ``left``: the ends, or edges and seams, it still has, 0 where nothing is counted; ``tubes``: the flat
    parts of a tube among those."""

    step: Step
    is_done: bool
    left: int = 0
    tubes: tuple[TubeSeam, ...] = ()


def finishing(session: Session) -> tuple[ToDo, ...]:
    """Every step that this piece has, in order. A step is not done before those below it are."""
    ends = all_ends(session)
    left = [how_woven(session, end).is_for_seam for end, state in ends if state != "woven"]
    weaving, at_seams = left.count(False), left.count(True)
    tubes = tube_seams(session.piece.fabric)
    seams = sum(taken is not None for taken in session.piece.seams) + len(tubes)
    steps = [
        ToDo("bind off", session.is_bound_off),
        ToDo("weave", session.is_bound_off and not weaving, weaving),
        *([ToDo("sew", not left_to_sew(session), left_to_sew(session))] if to_sew(session) else []),
        ToDo("wash", "wash" in session.finished),
        ToDo("trim", "trim" in session.finished),
    ]
    if seams:
        steps += [
            ToDo("seams", "seams" in session.finished, seams, tubes),
            ToDo("seam ends", "seams" in session.finished and not at_seams, at_seams),
        ]
    done_so_far = True
    for index, step in enumerate(steps):
        done_so_far = done_so_far and step.is_done
        steps[index] = step._replace(is_done=done_so_far)
    return tuple(steps)


def next_step(session: Session) -> ToDo | None:
    """The step to be done now; None when the piece is finished."""
    return next((step for step in finishing(session) if not step.is_done), None)


def is_finished(session: Session) -> bool:
    """All is done: bound off, every end woven in, washed, trimmed and sewn up."""
    return session.is_bound_off and next_step(session) is None
