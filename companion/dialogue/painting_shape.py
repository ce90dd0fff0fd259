"""The outline of what is drawn at the stitch that is meant, in the trade's words."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING

from companion.dialogue.questions import Asking, Reading
from companion.knitting.words.terms import sentence

if TYPE_CHECKING:
    from companion.dialogue.painting import Painting
    from companion.plan.loaded import Loaded

TITLE = "The shape of this section"


def shape(painting: Painting) -> Asking[None]:
    """The section of the stitch that is meant, its rows taken together, each line with the stitches after it."""
    yield Reading(TITLE, list(_lines(painting)))


def _lines(painting: Painting) -> Iterator[str]:
    from companion.knitting.words.shape import ShapeTold, rows_shaped, shape_of

    piece, level = painting.board.piece, painting.at.row
    here = painting.in_order(painting.at)
    for told in shape_of(piece.rows, painting.knitter.terms_for(piece), section_at(painting.board.loaded, level)):
        if isinstance(told, ShapeTold):
            is_here = here is not None and told.first <= here.row <= told.last
            yield sentence(f"{'here, ' * is_here}{rows_shaped(piece.rows, told)}")
        else:
            yield told


def section_at(loaded: Loaded, level: int) -> range:
    """The levels of the section that has a row with so many rows below it; from an opening on, all that follow."""
    drawn = [range(one.first, one.first + len(one.lines.texts)) for one in loaded.drawings]
    found = [*drawn, *(range(one.first, one.past) for one in loaded.fixed)]
    return next(section for section in found if level in section)
