"""Stitches are bound off where a row starts: those that are drawn to be lost at its end are kept for a row more.

So a knitter who works mirrored binds off a row later than the one for whom the plan was drawn, and of what goes at
both edges at once one side goes first (common practice for armholes, no source). What is kept is worked like the edge
stitch beside it, so that no strand is joined for it.
"""

from __future__ import annotations

from collections.abc import Container, Iterator
from dataclasses import replace
from operator import is_

from companion.knitting.cloth.fabric import Fabric, FabricRow, Run, as_knitted, merged
from companion.knitting.cloth.outlines import MOST_DECREASED, Span, taken
from companion.knitting.cloth.rows import Rows


def bound_off_at_starts(fabric: Fabric, *, is_mirrored: bool, within: Container[int] | None = None) -> Fabric:
    """The same fabric; where more than can be decreased are lost at a row's end, the row keeps them, and they go
    where the next one starts, or with all others after the last row. Where they are there again in the row above
    nothing is kept, and rounds have no edges.

    ``within``: such rows alone, from 0 in working order.
    """
    if not fabric.is_shaped:
        return fabric
    rows = list(fabric.rows)
    for index in range(1, len(rows)):
        if within is not None and index not in within:
            continue
        if rows[index].is_round or rows[fabric.below(index)[0]].is_round or not rows[index].stretches:
            continue
        ends_left = fabric.faces[index] != is_mirrored
        if columns := _lost(fabric, rows, index, is_mirrored=is_mirrored, ends_left=ends_left):
            rows[index] = _with(rows[index], columns)
    return fabric if all(map(is_, rows, fabric.rows)) else replace(fabric, rows=tuple(rows))


def _lost(
    fabric: Fabric, rows: list[FabricRow], index: int, *, is_mirrored: bool, ends_left: bool
) -> Span | None:
    """The columns in which stitches are lost at a row's end, more than can be decreased; None where it is not so, or
    where the row above has stitches there."""
    own, below = rows[index].stretches, [rows[low].stretches for low in fabric.below(index)]
    under = Span(min(one[0][0] for one in below), max(one[-1][1] for one in below))
    if rows[index].part and fabric.block_of(index).start == index:
        under = taken(Rows(replace(fabric, rows=tuple(rows)), is_mirrored=is_mirrored), index)
    columns = Span(own[-1][1] + 1, under.last) if ends_left else Span(under.first, own[0][0] - 1)
    if columns.last - columns.first < MOST_DECREASED:
        return None
    above = fabric.above(index, columns.first if ends_left else columns.last)
    if above is not None and any(_reaches(rows[above], column) for column in columns):
        return None
    return columns


def _reaches(row: FabricRow, column: int) -> bool:
    return any(first <= column <= last for first, last in row.stretches)


def _with(row: FabricRow, columns: Span) -> FabricRow:
    """A row with some columns more, like the edge stitch beside them."""
    is_left = columns.first > row.stretches[-1][1]
    edge = row.stretches[-1][1] if is_left else row.stretches[0][0]
    [beside] = _between(as_knitted(row), edge, edge)
    return row._replace(runs=merged([
        *_between(row, 1, columns.first - 1),
        Run(columns.last - columns.first + 1, beside.stitch),
        *_between(row, columns.last + 1, row.columns),
    ]))  # fmt: skip


def _between(row: FabricRow, first: int, last: int) -> Iterator[Run]:
    """The runs of a row from a column to another one."""
    column = 0
    for run in row.runs:
        start, stop = max(first, column + 1), min(last, column + run.columns)
        column += run.columns
        if start <= stop:
            yield Run(stop - start + 1, run.stitch)
