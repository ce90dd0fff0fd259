"""What is left to do once the last row is worked, in its order.

Bind off, weave in the ends without trimming them, sew on what is sewn on afterwards, wash and dry flat, trim, sew the
seams, weave in the ends there (trim after washing: "Changing colors and weaving in loose ends"; the order is common
practice, no source).
"""

from __future__ import annotations

from collections.abc import Sequence

from companion.knitting.cloth.areas import Area
from companion.knitting.cloth.tubes import tube_seams
from companion.knitting.hands.row_ends import row_end
from companion.knitting.hands.steps import BindOff, Finishing, SewOn, SewUp, Trim, Wash, WeaveAtSeams, WeaveIn
from companion.knitting.piece import Piece
from companion.knitting.strands.strands import Strands


def after_last_row(
    piece: Piece, strands: Strands, *, ends: int, at_seams: int, areas: Sequence[Area] | None
) -> tuple[Finishing, ...]:
    """The steps of a piece. ``ends`` to weave in before the seams are sewn, ``at_seams`` after it; ``areas`` to sew
    on (None: the piece has none)."""
    tubes = tube_seams(piece.fabric)
    edges = sum(taken is not None for taken in piece.seams)
    bind_off = next(step for step in row_end(strands, len(strands.rows) - 1) if isinstance(step, BindOff))
    sewn = () if areas is None else (SewOn(tuple(areas)),)
    seams = (SewUp(edges, tubes), WeaveAtSeams(at_seams)) if edges or tubes else ()
    return (bind_off, WeaveIn(ends), *sewn, Wash(), Trim(), *seams)
