"""A chart cut into sheets of paper that overlap, so that the stitches beside a cut are seen from both."""

from __future__ import annotations

from math import ceil

from companion.knitting.value import Record

WIDE_MM, HIGH_MM = 190.0, 257.0
"""What A4 (210 x 297 mm, ISO 216) and US Letter (215.9 x 279.4 mm, ANSI/ASME Y14.1) have room for alike, with 10 mm
at each edge."""

OVERLAP = 2
"""So many rows and stitches two neighbours share."""

LEAST_HIGH_MM, LEAST_WIDE_MM, MOST_HIGH_MM = 3.4, 3.0, 8.0
"""Of a square: lower ones cannot be read in a copy, higher ones help nobody."""

FLATTEST, STEEPEST = 3.0, 0.4
"""Wider or narrower squares than that, in their heights, have no room for a letter and are not drawn."""


class Square(Record):
    """How large a stitch is drawn, in millimetres."""

    wide: float
    high: float


class Cut(Record):
    """Squares ``first`` to before ``stop`` of a row of them, from 0."""

    first: int
    stop: int


def cuts(squares: int, most: int) -> list[Cut]:
    """So many squares in pieces of ``most`` at most, all about as long; each shares two with the one before it."""
    if squares <= most:
        return [Cut(0, squares)]
    pieces = ceil((squares - OVERLAP) / (most - OVERLAP))
    step = ceil((squares - OVERLAP) / pieces)
    return [Cut(at, min(at + step + OVERLAP, squares)) for at in range(0, squares - OVERLAP, step)]


class Tiling(Record):
    """A chart on sheets: its squares, and how its columns and its rows are cut."""

    square: Square
    across: list[Cut]
    up: list[Cut]


def tiled(columns: int, rows: int, ratio: float, wide_mm: float, high_mm: float) -> Tiling:
    """A chart of so many columns and rows on sheets that have so much room for squares: as few as squares of the
    least size need, and squares as large as these allow. ``ratio``: of a stitch's width to its height."""
    ratio = min(FLATTEST, max(STEEPEST, ratio))
    high = max(LEAST_HIGH_MM, LEAST_WIDE_MM / ratio)
    across, up = cuts(columns, int(wide_mm / (high * ratio))), cuts(rows, int(high_mm / high))
    widest, highest = (max(cut.stop - cut.first for cut in pieces) for pieces in (across, up))
    high = max(high, min(MOST_HIGH_MM, wide_mm / widest / ratio, high_mm / highest))
    return Tiling(Square(high * ratio, high), across, up)
