"""How long new strands are and how they are kept, for the step that joins them or has them got ready."""

from __future__ import annotations

from typing import TYPE_CHECKING

from companion.knitting.hands.runs import RunSteps
from companion.knitting.hands.steps import CastOn, HaveReady, Join, JoinHalf, Step
from companion.knitting.latest import latest
from companion.knitting.piece import Piece
from companion.knitting.strands.strands import Strands
from companion.knitting.words import Terms
from companion.progress.session import Session

if TYPE_CHECKING:
    from companion.knitting.reckoning.quantities import Length


def length_of(step: Step, session: Session, run: RunSteps | None, terms: Terms) -> str:
    """What ``words.tell`` takes as the length of a step: "80 cm, loose"; "" where it begins no strand. ``run``: the
    one in work."""
    match step:
        case HaveReady():
            from companion.knitting.words.yarn import new_lengths

            joined = _joined_next(session.piece, session.strands, session.row + 1, terms.is_inches)
            return new_lengths(joined, terms)
        case Join() | JoinHalf() | CastOn() if run is not None:
            from companion.knitting.words.yarn import length_kept

            joined = _joined_here(session.piece, session.strands, run.place.row, terms.is_inches)
            strand = step.strand if isinstance(step, CastOn) else run.strand
            return next((length_kept(one, joined, terms) for one in joined if one.strand == strand), "")
        case _:
            return ""


def _joined(piece: Piece, strands: Strands, row: int, is_inches: bool) -> tuple[Length, ...]:
    from companion.knitting.reckoning.quantities import lengths_joined

    return lengths_joined(piece, strands, row, is_inches=is_inches)


_joined_here, _joined_next = latest(_joined), latest(_joined)
"""Of the row in work and of the next one: both are asked for in turn."""
