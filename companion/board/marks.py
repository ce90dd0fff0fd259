"""What is marked on the drawing board on demand: stitches that cost more than they look. Pure."""

from __future__ import annotations

from typing import Literal

from companion.knitting.cloth.areas import Cell
from companion.knitting.howfar import HowFar, untold
from companion.knitting.piece import Piece

Kind = Literal["lone stitches", "beyond reach", "floats", "sewn on"]

KINDS: tuple[Kind, ...] = ("lone stitches", "beyond reach", "floats", "sewn on")


def marked(piece: Piece, kind: Kind, done: HowFar = untold) -> frozenset[Cell]:
    """The stitches of a kind: areas of a single stitch; where a strand ends or begins because one of the same yarn in
    the next row hangs beyond reach; those behind which floats lie that must be caught; small areas that would save
    ends if they were sewn on afterwards.

    Raises:
        TooMuchToWeigh: the piece's limits allow more than can be weighed, or too many areas are small.
    """
    raise NotImplementedError
