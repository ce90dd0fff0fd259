"""Tubes worked partly flat: stitches for the seam that closes the flat part, where it runs and what it takes.

They lie past the last column, at the left edge seen from the right side, so that no column that is drawn changes its
number. Round the tube column N + 1 is column 1 again, so they have its yarn and texture. A seam takes as much at
either edge: with one extra stitch half of it and half of column 1; with two column 1 and the outermost one, and the
other one shows in column 1's place (common practice, no source).
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace
from fractions import Fraction
from itertools import groupby, pairwise

from companion.knitting.cloth.fabric import Fabric, FabricRow, Run, as_knitted, merged
from companion.knitting.cloth.seams import Seams, SeamTrouble, troubles_at
from companion.knitting.value import Record


class TubeSeam(Record):
    """A flat part that is sewn up: its first and its last row, from 0, and how many stitches it has for that."""

    first: int
    last: int
    stitches: int

    @property
    def taken(self) -> Fraction:
        """Stitches that the seam takes in at each of the two edges."""
        return Fraction(self.stitches, 2)


def with_seam_stitches(fabric: Fabric, stitches: Sequence[int]) -> Fabric:
    """A fabric as drawn with so many stitches for a seam in each of its rows. Equal rows stay one value."""
    made: dict[tuple[int, int], FabricRow] = {}
    rows = []
    for row, more in zip(fabric.rows, stitches, strict=True):
        key = id(row), more
        if key not in made:
            made[key] = widened(row, more) if more else row
        rows.append(made[key])
    return replace(fabric, rows=tuple(rows))


def widened(drawn: FabricRow, stitches: int) -> FabricRow:
    """A row as drawn with stitches for a seam, like the one in column 1; nothing is sewn over them."""
    runs = (*drawn.runs, Run(stitches, as_knitted(drawn).runs[0].stitch))
    return drawn._replace(runs=merged(runs), seam_stitches=stitches)


def as_drawn(row: FabricRow) -> FabricRow:
    """The row without its stitches for a seam."""
    more = row.seam_stitches
    if not more:
        return row
    runs = list(row.runs)
    while more:
        last = runs.pop()
        if last.columns > more:
            runs.append(Run(last.columns - more, last.stitch))
        more -= min(more, last.columns)
    return row._replace(runs=tuple(runs), seam_stitches=0)


def tube_seams(fabric: Fabric) -> tuple[TubeSeam, ...]:
    """Every flat part that is sewn up, from the cast-on up."""
    found, first = [], 0
    for stitches, rows in groupby(fabric.rows, key=lambda row: row.seam_stitches):
        past = first + len(list(rows))
        if stitches:
            found.append(TubeSeam(first, past - 1, stitches))
        first = past
    return tuple(found)


def left_open(fabric: Fabric) -> Iterator[tuple[int, int]]:
    """Flat rows in a part between rounds that have no stitches for a seam: the first and the last row, from 0, of
    each stretch of them. One row alone leaves no opening."""
    rounds = [index for index, row in enumerate(fabric.rows) if row.is_round]
    for below, above in pairwise(rounds):
        part = range(below + 1, above)
        for is_open, group in groupby(part, key=lambda index: not fabric.rows[index].seam_stitches):
            stretch = list(group)
            if is_open and len(stretch) > 1:
                yield stretch[0], stretch[-1]


def tube_seam_troubles(fabric: Fabric, seam: TubeSeam) -> Iterator[SeamTrouble]:
    """What is to be said of the seam of a tube's flat part, as of one at side edges."""
    rows = [(index, fabric.rows[index]) for index in range(seam.first, seam.last + 1)]
    return troubles_at(rows, Seams(seam.taken, seam.taken))


def stitches_across(row: FabricRow) -> int:
    """How many stitches of the row are seen when the piece is sewn up: a tube is no wider where it is worked flat."""
    return row.stitches - row.seam_stitches


def columns_drawn(fabric: Fabric) -> int:
    """The columns of the widest row as it is drawn, without stitches for a seam."""
    return max((row.columns - row.seam_stitches for row in fabric.rows), default=0)
