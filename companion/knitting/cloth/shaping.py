"""Rows that have more or fewer stitches than the row below, from their outline: where and how each is made or lost.

A decrease lies in the colour of its cell and leans along its edge (ssk and its purl at the right edge seen from the
right side, k2tog and its purl at the left: abbreviations as in the trade's concurring lists; which edge takes which
is common practice, no source). It lies as far in as the plan asks, or nearer to the edge where it would carry changes
of colour away from the strands that hang there. An increase lifts the bar between two stitches, never the one at a
change of strands, since there lies the crossing; where there is no other, a loop is made at the edge. Where strands
share a run it lies in the part at the edge, so that the one that takes over there hangs where it is told: a part of
one stitch and the one that is made has no bar of its own. More than two are bound off at a row's start, more than one
cast on: knitted or cable cast-on before a row, loops after its last stitch. Rows worked round have no edges.

Stitches for the seam of a tube's flat part are loops where a round ends, and the first round above it works them
together with the last column (common practice, no source).
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from itertools import pairwise
from typing import Literal

from companion.knitting.cloth.faces import work
from companion.knitting.cloth.outlines import MOST_DECREASED, span, taken
from companion.knitting.cloth.rows import Hand, Row, Rows
from companion.knitting.cloth.seams import Edge
from companion.knitting.cloth.segments import Segment
from companion.knitting.value import Record

How = Literal[
    "ssk", "ssp", "k2tog", "p2tog", "sssk", "sssp", "k3tog", "p3tog", "m1R", "m1L", "m1R purlwise", "m1L purlwise",
    "loop", "loops", "cast on", "bind off", "lost",
]

_DECREASES: dict[tuple[Edge, int, Hand], How] = {
    ("right", 1, "k"): "ssk", ("right", 1, "p"): "ssp", ("left", 1, "k"): "k2tog", ("left", 1, "p"): "p2tog",
    ("right", 2, "k"): "sssk", ("right", 2, "p"): "sssp", ("left", 2, "k"): "k3tog", ("left", 2, "p"): "p3tog",
}  # fmt: skip
_INCREASES: dict[tuple[Edge, Hand], How] = {
    ("right", "k"): "m1R", ("right", "p"): "m1R purlwise", ("left", "k"): "m1L", ("left", "p"): "m1L purlwise",
}  # fmt: skip


class Shaping(Record):
    """Stitches made or lost at an edge, as seen from the right side, or "between" two parts that are joined. It is
    done in run ``segment`` when ``after`` of its stitches are worked; the next ``takes`` of them are made by it.
    ``stitches``: so many more, or with a minus fewer. "lost": more than can be decreased, at a row's end, where none
    can be bound off."""

    edge: Edge | Literal["between"]
    how: How
    stitches: int
    segment: int
    after: int
    takes: int


class _Side(Record):
    """So many stitches ``more`` at an edge, or with a minus fewer, ``inward`` so many stitches in; None: at the very
    edge, where a seam takes them in, so that nothing is lifted. ``outermost``: the column in the row below."""

    edge: Edge
    more: int
    inward: int | None
    outermost: int
    is_start: bool

    @property
    def lifts(self) -> bool:
        """One stitch is lifted between two others, where there is room."""
        return self.more == 1 and self.inward is not None

    @property
    def is_inside(self) -> bool:
        """Something is lifted, or decreased."""
        return self.lifts or -MOST_DECREASED <= self.more < 0

    @property
    def adds(self) -> int:
        """So many are cast on."""
        return 0 if self.is_inside else max(0, self.more)


def shapings(rows: Rows, index: int) -> tuple[Shaping, ...]:
    """What is made and lost in a row, in working order."""
    if not rows.fabric.is_shaped:
        return ()
    if not index:
        return ()
    row, below = rows[index], rows.beneath(index)
    for_seam = row.fabric.seam_stitches - below.fabric.seam_stitches
    if row.is_round or below.is_round:
        return (_at_the_join(row, for_seam),) if for_seam else ()
    now, then, is_left = span(row), taken(rows, index), row.toward == "left"
    right = _Side("right", then[0] - now[0], rows.inward, then[0], is_left)
    left = _Side("left", now[1] - then[1], None if for_seam else rows.inward, then[1], not is_left)
    found = list(_at_edges(row, below, *((right, left) if is_left else (left, right))))
    if row.inner:
        found += _loops(row, *_between(row), "between")
        found.sort(key=lambda one: (one.segment, one.after))
    return tuple(found)


def _between(row: Row) -> tuple[int, int]:
    """Of a row that joins parts: so many of its stitches are worked before those between them, and with these."""
    assert row.inner is not None
    right, left = map(row.upto, row.inner)
    return (right, left) if row.toward == "left" else (row.stitches - left, row.stitches - right)


def _loops(row: Row, position: int, until: int, edge: Edge | Literal["between"]) -> Iterator[Shaping]:
    """Loops cast on from one position in a row to another; those of more than one colour where the row comes to
    each."""
    while position < until:
        segment, after = _at(row, position)
        loops = min(row.segments[segment].stitches - after, until - position)
        yield Shaping(edge, "loops", loops, segment, after, loops)
        position += loops


def _at_the_join(row: Row, more: int) -> Shaping:
    """Stitches for a seam, made or lost where rounds begin and end. Worked mirrored, that is where the row starts."""
    position = 0 if row.is_mirrored else row.stitches - max(more, 1)
    if more > 0:
        return Shaping("left", "loops", more, *_at(row, position), more)
    return _inside(row, "left", more, position)


def _at_edges(row: Row, below: Row, start: _Side, end: _Side) -> Iterator[Shaping]:
    """What is shaped inside the edges lies as far in as there is room, that of the start before that of the end."""
    last, off = row.stitches - 1, start.more < -MOST_DECREASED
    room = (last - 1 - (start.lifts and end.lifts)) // 2 if start.is_inside and end.is_inside else last
    first_in = max(0, min(start.inward or 0, room, last - end.adds)) if start.is_inside else 0
    last_in = max(0, min(end.inward or 0, room, last - start.adds - off)) if end.is_inside else 0
    if start.lifts:
        first_in = _lifted(row, below, start, first_in, last - 1 - (0 if end.lifts else last_in + end.adds))
    if start.is_inside and not start.lifts:
        first_in = _decreased(row, below, start, first_in)
    if start.is_inside:
        yield _inside(row, start.edge, start.more, first_in, is_loop=start.lifts and not first_in)
    elif start.more:
        yield Shaping(start.edge, "bind off" if off else "cast on", start.more, 0, 0, int(off))
    if end.lifts:
        last_in = _lifted(row, below, end, last_in, last - 1 - (first_in + start.lifts + start.adds))
    if end.is_inside and not end.lifts:
        last_in = _decreased(row, below, end, last_in)
    if end.is_inside:
        yield _inside(row, end.edge, end.more, last - last_in, is_loop=end.lifts and not last_in)
    elif end.more < 0:
        yield Shaping(end.edge, "lost", end.more, len(row.segments) - 1, row.segments[-1].stitches, 0)
    yield from _loops(row, max(0, last + 1 - end.adds), last + 1, end.edge)


def _lifted(row: Row, below: Row, side: _Side, wanted: int, most: int) -> int:
    """How many stitches in a bar is lifted: as many as wanted, one more, or fewer; in the run at the edge, so that no
    other strand is moved by it, and never at a change of strands, in this row or in the one below, whose bar it is.
    0: nowhere, so that a loop is made at the edge."""
    nearest, inward = max(1, wanted), 1 if side.edge == "right" else -1
    changes = {run.exit for run in below.segments[:-1]}
    most = min(most, row.segments[0 if side.is_start else -1].stitches - 2)
    for stitches in [nearest, nearest + 1, *reversed(range(1, nearest))]:
        columns = [side.outermost + inward * at for at in (stitches - 1, stitches)]
        if stitches <= most and all(map(below.stitch_at, columns)) and min(columns) not in changes:
            return stitches
    return 0


def _decreased(row: Row, below: Row, side: _Side, most: int) -> int:
    """How many stitches in a decrease lies: as many as there may be of those places where the fewest changes of
    colour between it and the edge come away from that of the row below. There their strands hang, and what lies
    between the edge and a decrease is moved by it."""
    inward, own = 1 if side.edge == "right" else -1, span(row)
    first = own.first if side.edge == "right" else own.last
    here = _yarns(row, range(first, first + inward * (most + 1), inward))
    there = _yarns(below, range(side.outermost, side.outermost + inward * (most + 1 - side.more), inward))
    changes = [(at, pair) for at, pair in enumerate(pairwise(here)) if len({*pair}) > 1]

    def moved(stitches: int) -> int:
        met = ((at if at < stitches else at - side.more, pair) for at, pair in changes)
        return sum(tuple(there[at:at + 2]) != pair for at, pair in met)

    return min(range(most, -1, -1), key=moved)


def _yarns(row: Row, columns: Iterable[int]) -> list[str]:
    stitches = map(row.stitch_at, columns)
    return [stitch.yarn if stitch else "" for stitch in stitches]


def _inside(row: Row, edge: Edge, more: int, position: int, *, is_loop: bool = False) -> Shaping:
    """A decrease, or a stitch made, at a position in the row. Worked mirrored, abbreviations lean the other way."""
    segment, after = _at(row, position)
    leans: Edge = edge if not row.is_mirrored else "left" if edge == "right" else "right"
    hand = _hand(row, row.segments[segment], after)
    how: How = "loop" if is_loop else _INCREASES[leans, hand] if more > 0 else _DECREASES[leans, -more, hand]
    return Shaping(edge, how, more, segment, after, 1)


def _at(row: Row, position: int) -> tuple[int, int]:
    """The run in which a stitch of the row lies, and how many of the run's stitches are worked before it."""
    for index, segment in enumerate(row.segments):
        if position < segment.stitches:
            return index, position
        position -= segment.stitches
    raise ValueError("the row has no such stitch")


def _hand(row: Row, segment: Segment, after: int) -> Hand:
    """Knit or purl, as the hands work the stitch."""
    for hand, count in work(row, segment):
        if after < count:
            return hand
        after -= count
    raise ValueError("the run has no such stitch")
