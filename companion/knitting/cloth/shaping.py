"""Rows that have more or fewer stitches than the row below, from their outline: where and how each is made or lost.

A decrease lies in the colour of its cell and leans along its edge (ssk and its purl at the right edge seen from the
right side, k2tog and its purl at the left: abbreviations as in the trade's concurring lists; which edge takes which
is common practice, no source). An increase lifts the bar between two stitches, never the one at a change of colour,
since there lies the crossing. More than two are bound off at a row's start, more than one cast on: knitted or cable
cast-on before a row, loops after its last stitch. Rows worked round have no edges.

Stitches for the seam of a tube's flat part are loops where a round ends, and the first round above it works them
together with the last column (common practice, no source).
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import Literal, NamedTuple

from companion.knitting.cloth.faces import work
from companion.knitting.cloth.outlines import MOST_DECREASED, span, taken
from companion.knitting.cloth.rows import Hand, Row, Rows, Segment

Edge = Literal["right", "left"]
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


class Shaping(NamedTuple):
    """Stitches made or lost at an edge, as seen from the right side. It is done in run ``segment`` when ``after`` of
    its stitches are worked; the next ``takes`` of them are made by it. ``stitches``: so many more, or with a minus
    fewer. "lost": more than can be decreased, at a row's end, where none can be bound off."""

    edge: Edge
    how: How
    stitches: int
    segment: int
    after: int
    takes: int


def shapings(rows: Rows, index: int) -> tuple[Shaping, ...]:
    """What is made and lost in a row, in working order."""
    if not rows.fabric.is_shaped:
        return ()
    row, inward = rows[index], rows.inward
    below = [rows[before] for before in rows.before(index)]
    if len(below) != 1:
        return ()
    for_seam = row.fabric.seam_stitches - below[0].fabric.seam_stitches
    if row.is_round or below[0].is_round:
        return (_at_the_join(row, for_seam),) if for_seam else ()
    now, then = span(row), taken(rows, index)
    more: dict[Edge, int] = {"right": then[0] - now[0], "left": now[1] - then[1]}
    inwards: dict[Edge, int | None] = {"right": inward, "left": None if for_seam else inward}
    start: Edge = "right" if row.toward == "left" else "left"
    end: Edge = "left" if start == "right" else "right"
    found = [*_at_start(row, start, more[start], inwards[start]), *_at_end(row, end, more[end], inwards[end])]
    return tuple(found)


def _at_the_join(row: Row, more: int) -> Shaping:
    """Stitches for a seam, made or lost where rounds begin and end. Worked mirrored, that is where the row starts."""
    last = 0 if row.is_mirrored else row.stitches - max(more, 1)
    segment, after = _at(row, last)
    if more > 0:
        return Shaping("left", "loops", more, segment, after, more)
    return Shaping("left", _decrease(row, "left", -more, segment, after), more, segment, after, 1)


def _at_start(row: Row, edge: Edge, more: int, inward: int | None) -> Iterator[Shaping]:
    """``inward`` None: at the very edge, where a seam takes them in, so that nothing is lifted."""
    if more < -MOST_DECREASED:
        yield Shaping(edge, "bind off", more, 0, 0, 1)
    elif more < 0:
        segment, after = _at(row, min(inward or 0, row.stitches - 1))
        yield Shaping(edge, _decrease(row, edge, -more, segment, after), more, segment, after, 1)
    elif more == 1 and row.stitches > 2 and inward is not None:
        yield _increase(row, edge, max(1, inward), 1)
    elif more:
        yield Shaping(edge, "cast on", more, 0, 0, 0)


def _at_end(row: Row, edge: Edge, more: int, inward: int | None) -> Iterator[Shaping]:
    """``inward`` as at the start."""
    last = row.stitches - 1
    if more < -MOST_DECREASED:
        yield Shaping(edge, "lost", more, len(row.segments) - 1, row.segments[-1].stitches, 0)
    elif more < 0:
        segment, after = _at(row, max(0, last - (inward or 0)))
        yield Shaping(edge, _decrease(row, edge, -more, segment, after), more, segment, after, 1)
    elif more == 1 and row.stitches > 2 and inward is not None:
        yield _increase(row, edge, last - max(1, inward), -1)
    elif more:
        position = max(0, row.stitches - more)
        while position < row.stitches:  # loops of more than one colour are cast on where the row comes to them
            segment, after = _at(row, position)
            loops = row.segments[segment].stitches - after
            yield Shaping(edge, "loops", loops, segment, after, loops)
            position += loops


def _increase(row: Row, edge: Edge, position: int, away: int) -> Shaping:
    """One stitch made from the bar between two others: never at a change of colour, one stitch away if need be."""
    for at in (position, position + away):
        if 0 < at < row.stitches - 1:
            segment, after = _at(row, at)
            run = row.segments[segment]
            if 0 < after < run.stitches - 1 or (after > 0 and segment == len(row.segments) - 1):
                return Shaping(edge, _INCREASES[_as_worked(row, edge), _hand(row, run, after)], 1, segment, after, 1)
    segment, after = _at(row, 0 if away > 0 else row.stitches - 1)
    return Shaping(edge, "loop", 1, segment, after, 1)


def _decrease(row: Row, edge: Edge, lost: int, segment: int, after: int) -> How:
    return _DECREASES[_as_worked(row, edge), lost, _hand(row, row.segments[segment], after)]


def _as_worked(row: Row, edge: Edge) -> Edge:
    """Worked mirrored, every abbreviation leans the other way."""
    return ("left" if edge == "right" else "right") if row.is_mirrored else edge


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
