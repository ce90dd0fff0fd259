"""Which charts a piece has, and what stands in their squares: one of the whole piece, and of each part its own.

Row numbers stand where a row begins: those of right-side rows at the right edge, of wrong-side rows at the left
one, of rounds all at the right ("Charts", technique article; stitch guides); worked mirrored, the other way round.
Stitches are counted along the foot from the edge where right-side rows begin, with a heavier line after every tenth
(common practice, no source).
"""

from __future__ import annotations

from collections.abc import Sequence
from functools import cached_property

from companion.knitting.cloth.fabric import Part, Stitch, cells
from companion.knitting.cloth.faces import looks_knit
from companion.knitting.cloth.rows import Row, Rows
from companion.knitting.value import Record
from companion.pages.hand_out.tiling import OVERLAP

TEN = 10


class Square(Record):
    """One stitch of a chart: its yarn, whether its back shows on the right side (a purl bump), and the yarn that is
    sewn over it afterwards ("" = none)."""

    yarn: str
    is_bump: bool
    sewn: str


class Chart:
    """Rows ``places`` (in working order, from 0) from the lowest up, and columns ``first`` to ``last`` of them. Of
    these rows the lowest ``below`` belong to what the part is worked on."""

    def __init__(self, rows: Rows, part: Part, places: Sequence[int], below: int, first: int, last: int) -> None:
        self.part, self.places, self.below, self.first, self.last = part, places, below, first, last
        self._rows = rows

    @property
    def columns(self) -> int:
        """How many stitches it is wide."""
        return self.last - self.first + 1

    def row(self, at: int) -> Row:
        """The row at a height of the chart, from 0."""
        return self._rows[self.places[at]]

    def meetings(self, at: int) -> Sequence[int]:
        """The gaps at which strands meet in runs of the row at a height of the chart."""
        return self._rows.meetings.get(self.places[at], ())

    def number(self, column: int) -> int:
        """The number of a column, from 1 at the edge where right-side rows begin."""
        return self._rows.fabric.columns + 1 - column if self._rows.is_mirrored else column

    @cached_property
    def squares(self) -> list[list[Square | None]]:
        """Every row from the lowest up, in each the left column first, as the right side looks; None: no stitch."""
        return [self._squares(place)[self.first - 1:self.last][::-1] for place in self.places]

    def _squares(self, place: int) -> list[Square | None]:
        row = self._rows[place]
        found = [self._square(row, stitch, column) for column, stitch in enumerate(cells(row.fabric), 1)]
        return found + [None] * (self.last - len(found))

    @staticmethod
    def _square(row: Row, stitch: Stitch | None, column: int) -> Square | None:
        if stitch is None:
            return None
        return Square(stitch.yarn, not looks_knit(row, stitch.texture, column), stitch.sewn)

    @cached_property
    def has_gaps(self) -> bool:
        """Somewhere there is no stitch."""
        return any(square is None for row in self.squares for square in row)


def charts(rows: Rows, first: int = 0, last: int | None = None) -> list[Chart]:
    """The charts of rows ``first`` to ``last`` (places in working order, from 0; None: to the last of all)."""
    fabric, found = rows.fabric, []
    last = len(rows) - 1 if last is None else last
    for part, start, stop, *_ in fabric.blocks:
        places = list(range(max(start, first), min(stop, last + 1)))
        if not places:
            continue
        below = []
        if part and places[0] == start:
            whole = fabric.block_of(fabric.below(start)[0])
            below = list(range(max(whole.start, whole.stop - OVERLAP), whole.stop))
        reached = [stretch for place in places for stretch in fabric.rows[place].stretches]
        right, left = min(one for one, _ in reached), max(one for _, one in reached)
        found.append(Chart(rows, part, [*below, *places], len(below), right, left))
    return found
