"""Two-coloured purl bumps: where a new colour's first row would show both colours on the right side.

A purl bump is the loop below, pulled over the stitch: purled into another colour, it shows the old colour and the new
one. Worked so that the right side sees a knit stitch, the bump lies on the wrong side, and the texture begins in
the next row ("K2, P2", 2012; "A cool knitting tip", 2015). Garter stitch begun on a right-side row does it by itself.
"""

from __future__ import annotations

from collections.abc import Iterator
from itertools import groupby

from companion.knitting.cloth.fabric import STOCKINETTE, FabricRow, Run, Stitch, cells, merged
from companion.knitting.cloth.faces import looks_knit
from companion.knitting.cloth.rows import Rows
from companion.knitting.value import Record


class Bumps(Record):
    """Stitches side by side of one ``yarn`` in a row (from 0), columns ``first`` to ``last`` from 1, each of which
    shows a bump of two colours."""

    row: int
    first: int
    last: int
    yarn: str


def two_coloured(rows: Rows) -> Iterator[Bumps]:
    """Every such place, from the cast-on edge up, each row from column 1 upward."""
    for index in range(len(rows)):
        for first, last, stitch in _bumps(rows, index):
            yield Bumps(index, first, last, stitch.yarn)


def plain_first(rows: Rows, index: int) -> FabricRow:
    """The row with every such stitch of it worked as stockinette instead."""
    row = rows[index].fabric
    bumped = {column for first, last, _ in _bumps(rows, index) for column in range(first, last + 1)}
    if not bumped:
        return row
    runs = (
        Run(1, stitch._replace(texture=STOCKINETTE) if stitch and column in bumped else stitch)
        for column, stitch in enumerate(cells(row), 1)
    )
    return row._replace(runs=merged(runs))


def _bumps(rows: Rows, index: int) -> Iterator[tuple[int, int, Stitch]]:
    """(first column, last column, stitch) of every place in the row where such bumps lie side by side."""
    spans = _spans(rows.fabric.rows[index])
    textured = [(first, last, one) for first, last, one in spans if one and one.texture != STOCKINETTE]
    below = rows.cloth_beneath(index) if textured else None
    for first, last, stitch in textured:
        for start, end, under in _spans(below) if below else ():
            if under is None or under.yarn == stitch.yarn or end < first or last < start:
                continue
            bumped = [
                column for column in range(max(first, start), min(last, end) + 1)
                if not looks_knit(rows[index], stitch.texture, column)
            ]
            for _, group in groupby(enumerate(bumped), key=lambda item: item[1] - item[0]):
                columns = [column for _, column in group]
                yield columns[0], columns[-1], stitch


def _spans(row: FabricRow) -> Iterator[tuple[int, int, Stitch | None]]:
    column = 0
    for run in row.runs:
        yield column + 1, column + run.columns, run.stitch
        column += run.columns
