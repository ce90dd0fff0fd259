"""How the rows of a chart on the drawing board are numbered, from the cast-on edge up."""

from __future__ import annotations

from collections.abc import Sequence

from companion.knitting.piece import Piece
from companion.knitting.value import Record


class Head(Record):
    """How a row of the chart is numbered: its number, and whether it starts at the right edge."""

    number: int
    starts_right: bool


def heads_of(piece: Piece, *, is_mirrored: bool) -> Sequence[Head]:
    """Those of a piece as it is drawn, for a knitter who works it so."""
    firsts = (piece.rows[level[0]] for level in piece.fabric.levels)
    return [Head(row.number, (row.toward == "left") != is_mirrored) for row in firsts]
