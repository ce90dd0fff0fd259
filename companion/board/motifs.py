"""A motif on the drawing board: a rectangle of yarns that floats over the chart until it is set down. Pure.

What is copied, what letters are written in, what a file holds: all are motifs, moved, turned and repeated alike.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Mapping

from companion.knitting.cloth.areas import Cell
from companion.knitting.cloth.fabric import Fabric, cells
from companion.knitting.value import Record


class Motif(Record):
    """``rows``: from the bottom up, in each the yarns from the right; None lets the ground show. All rows are as
    wide, and there is at least one stitch."""

    rows: tuple[tuple[str | None, ...], ...]

    @property
    def wide(self) -> int:
        """Its stitches from side to side."""
        return len(self.rows[0])

    @property
    def high(self) -> int:
        """Its rows."""
        return len(self.rows)

    def laid(self, at: Cell) -> Mapping[Cell, str]:
        """Which yarn each stitch of the ground has under it, its lowest right stitch lying at a place; places beside
        the fabric are among them."""
        return {
            Cell(at.row + up, at.column + along): yarn
            for up, row in enumerate(self.rows) for along, yarn in enumerate(row) if yarn is not None
        }

    def flipped(self) -> Motif:
        """Left for right."""
        return Motif(tuple(row[::-1] for row in self.rows))

    def upside_down(self) -> Motif:
        """Bottom for top."""
        return Motif(self.rows[::-1])

    def within(self, wide: int, high: int) -> Motif:
        """Its lowest right part, at most so wide and so high; both from 1."""
        return Motif(tuple(row[:wide] for row in self.rows[:high]))

    def repeated(self, across: int = 1, up: int = 1) -> Motif:
        """So many side by side, and so many one above the other; both from 1."""
        return Motif(tuple(row * across for row in self.rows) * up)


def copied(fabric: Fabric, one: Cell, other: Cell) -> Motif:
    """What lies between two corners of the picture. Cells without a stitch, and those beside the fabric, let the
    ground show."""
    low, high = sorted((one.row, other.row))
    right, left = sorted((one.column, other.column))
    return Motif(tuple(tuple(_yarns(fabric, row, right, left)) for row in range(low, high + 1)))


def _yarns(fabric: Fabric, row: int, right: int, left: int) -> Iterator[str | None]:
    picture = fabric.picture
    there = list(cells(picture[row])) if 0 <= row < len(picture) else []
    for column in range(right, left + 1):
        stitch = there[column - 1] if 0 < column <= len(there) else None
        yield stitch and stitch.yarn


def around(fabric: Fabric, one: Cell, other: Cell) -> str | None:
    """The yarn that most of the stitches round a rectangle of the picture are of, those at its corners among them, of
    several the one that lies lowest and rightmost; None where there are none."""
    low, high = sorted((one.row, other.row))
    right, left = sorted((one.column, other.column))
    below, *beside, above = copied(fabric, Cell(low - 1, right - 1), Cell(high + 1, left + 1)).rows
    found = Counter(yarn for row in (below, *((row[0], row[-1]) for row in beside), above) for yarn in row if yarn)
    return max(found, key=found.__getitem__, default=None)


def moved(taken: Motif, before: Cell, motif: Motif, after: Cell, ground: str) -> Mapping[Cell, str]:
    """The yarns of the stitches when what was taken from one place is set down, as the motif that it was made, at
    another, and its old place is in the yarn of the ground."""
    return {**dict.fromkeys(taken.laid(before), ground), **motif.laid(after)}
