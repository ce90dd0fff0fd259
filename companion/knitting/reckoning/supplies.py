"""The order in which the supplies are laid out: as their strands lie in the fabric, re-laid when one comes or goes.

Facing the right side, the strand worked first lies at the right; facing the wrong side the same order runs from the
left (intarsia page of a magazine's handbook; "Intarsia revisited"). For a mirrored knitter the sides are changed.
"""

from __future__ import annotations

from collections.abc import Iterator
from itertools import groupby

from companion.knitting.cloth.rows import Place
from companion.knitting.cloth.segments import Segment
from companion.knitting.strands.strands import Strands
from companion.knitting.value import Record


class Layout(Record):
    """The order of the supplies over rows ``first`` to ``last``, from 0: strands from the edge where right-side rows
    start, those that rest or are joined in the course of the row among them."""

    first: int
    last: int
    strands: tuple[int, ...]


def layouts(strands: Strands) -> Iterator[Layout]:
    """Every order that holds, one after the other."""
    for order, rows in groupby(enumerate(_orders(strands)), key=lambda numbered: numbered[1]):
        indices = [row for row, _ in rows]
        yield Layout(indices[0], indices[-1], order)


def _orders(strands: Strands) -> Iterator[tuple[int, ...]]:
    """The order of each row."""
    rows = strands.rows
    left_at: dict[int, int] = {}
    for row, alive in enumerate(strands.alive):
        works: dict[int, Segment] = {}
        for segment, strand in enumerate(strands.strand_of[row]):
            works.setdefault(strand, rows.segment(Place(row, segment)))
        where = {
            strand: _column(works[strand], rows.is_mirrored) if strand in works else float(left_at[strand])
            for strand in alive
        }
        away = -1 if rows.is_mirrored else 1
        yield tuple(sorted(alive, key=lambda strand: (away * where[strand], strand)))
        for segment, strand in enumerate(strands.strand_of[row]):
            left_at[strand] = rows.segment(Place(row, segment)).exit


def _column(segment: Segment, is_mirrored: bool) -> float:
    """Where a segment begins from the edge where right-side rows start, in gaps from the right; a strand that rests
    at that very gap lies before it."""
    columns = segment.first, segment.last
    return (max(columns) if is_mirrored else min(columns)) - 0.5
