"""The yarn that stitches take to be sewn over finished ones, and in how many lengths."""

from __future__ import annotations

from fractions import Fraction
from math import ceil

from companion.knitting.piece import Piece
from companion.knitting.yarn.loops import loop_cm

SEWN_CM = 45
"""The longest piece of yarn to sew with, its tails included: 18 in ("How to work duplicate stitch")."""

SEWN_TAIL_CM = 10
"""Left at each end of it: 4 in, the shorter of the usual tails ("Intarsia", technique page)."""


def lengths_of(piece: Piece, stitches: int) -> int:
    """With how many lengths of yarn so many stitches are sewn."""
    return ceil(stitches / max(1, int((SEWN_CM - 2 * SEWN_TAIL_CM) / loop_cm(piece.gauge, piece.sample))))


def sewn_cm(piece: Piece, stitches: int) -> Fraction:
    """The yarn that so many stitches take to be sewn: each follows a knitted one and is as long, and each length has
    a tail at both ends."""
    return stitches * loop_cm(piece.gauge, piece.sample) + 2 * SEWN_TAIL_CM * lengths_of(piece, stitches)
