"""What lies on the wrong side as ways that are drawn over its stitches: crosses, carried strands, ends.

x is counted in stitches, on the wrong side from the left, and y in rows from the first one up.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from functools import cache
from itertools import pairwise
from math import pi, sin
from typing import Literal

from companion.knitting.hands import wrong_side
from companion.knitting.hands.ends import exists
from companion.knitting.hands.looks import Looks, Made
from companion.knitting.hands.wrong_side import Crossing, Tail
from companion.knitting.piece import Piece
from companion.knitting.strands.strands import Strands
from companion.knitting.value import Record
from companion.pages.stitch_shapes import DEEP, EDGE, PLAIN, Point, Shape, band

_THICK = 0.28
"""Of a strand that lies loose, in stitches."""

_HANGS = 3.2
"""So many rows hangs an end down."""


class Thread(Record):
    """One way of yarn from a gap and the foot of a row, ``at``; its points lie so far from there. ``kind``: what it
    is."""

    kind: Literal["cross", "carried", "catch", "tail", "woven"]
    yarn: str
    at: wrong_side.Point
    points: tuple[Point, ...]
    is_worked: bool = True

    @property
    def lowest(self) -> float:
        """How high its lowest point lies."""
        return self.at.level + min(y for _, y in self.points)

    @property
    def highest(self) -> float:
        """How high its highest point lies."""
        return self.at.level + max(y for _, y in self.points)


def lowered(thread: Thread, rows: int) -> Thread:
    """The same, so many rows further down."""
    return thread._replace(at=wrong_side.Point(thread.at.gap, thread.at.level - rows))


@cache
def shapes(points: tuple[Point, ...]) -> tuple[Shape, ...]:
    """What is drawn along a way, the lowest first."""
    return (
        Shape("own", DEEP, band(points, _THICK * 1.35)),
        Shape("own", PLAIN, band(points, _THICK * 0.95)),
        Shape("own", 0.3, band([(x, y + _THICK * 0.2) for x, y in points], _THICK * 0.3)),
    )


def threads(
    piece: Piece, strands: Strands, looks: Looks, made: Made | None = None, *, is_woven: bool = False
) -> list[Thread]:
    """Every way, the lowest first. ``looks``: of the wrong side. ``made``: what of it is done (None: all, and the
    ends are loose); ``is_woven``: all ends are drawn woven in."""
    found = list[Thread]()
    for cross in wrong_side.crossings(strands):
        found += _cross(cross, made is None or cross.place < made.worked)
    for carried in wrong_side.carried(strands, piece.catching):
        for way in carried.ways:
            found += _carried(carried.yarn, way, looks, made is None or carried.place < made.worked)
    for tail in wrong_side.tails(piece, strands):
        is_there = made is None or exists(tail.end, *made.worked, strands)
        is_in = is_woven or (made is not None and tail.end in made.woven)
        found.append(_woven(tail, is_there) if is_in else _tail(tail, is_there))
    return found


def _cross(cross: Crossing, is_worked: bool) -> Iterator[Thread]:
    """The old strand over the new one."""
    for yarn, turn in ((cross.new, -1), (cross.old, 1)):
        points = tuple((turn * 0.08 * step, 0.5 + 0.13 * step) for step in range(-3, 4))
        yield Thread("cross", yarn, cross.at, points, is_worked)


def _carried(yarn: str, way: Sequence[wrong_side.Point], looks: Looks, is_worked: bool) -> Iterator[Thread]:
    """A strand that sags between the points at which it is held, and the stitches that catch it."""
    start, points = way[0], list[Point]()
    for (x1, y1), (x2, y2) in pairwise((gap - start.gap, level - start.level) for gap, level in way):
        sag = min(0.5, 0.12 * abs(x2 - x1))
        steps = max(4, 2 * abs(x2 - x1))
        points += (
            (x1 + (x2 - x1) * at / steps, y1 + (y2 - y1) * at / steps + 0.5 - sag * sin(pi * at / steps))
            for at in range(steps)
        )
    points.append((way[-1].gap - start.gap, way[-1].level - start.level + 0.5))
    yield Thread("carried", yarn, start, tuple(points), is_worked)
    for point in way[1:-1]:
        row = looks[point.level]
        catching = row[-1 - min(point.gap, len(row) - 1)]
        if catching is not None:
            over = tuple((0.04 * step, 0.5 + 0.12 * step) for step in range(-3, 4))
            yield Thread("catch", catching.yarn, point, over, is_worked)


def _tail(tail: Tail, is_worked: bool) -> Thread:
    """An end that hangs down in waves, on the side of its own stitches."""
    start = 0.5 + (tail.is_above - tail.is_below) * (0.5 + EDGE / 2)
    steps = [at / 4 for at in range(round(4 * _HANGS) + 1)]
    points = tuple((tail.inward * (0.2 + 0.22 * (sin(1.7 * at) + 0.25 * at)), start - at) for at in steps)
    return Thread("tail", tail.yarn, tail.at, points, is_worked)


def _woven(tail: Tail, is_worked: bool) -> Thread:
    """An end in waves along its route, each time that it comes by a little lower."""
    visits = dict[tuple[int, int], int]()
    gap, foot = tail.at
    points: list[Point] = [(0, 0.5)]
    for at, cell in enumerate(tail.route):
        visits[cell] = visits.get(cell, 0) + 1
        column, level = cell
        points.append((column - 0.5 - gap, level - foot + 0.75 - 0.2 * visits[cell] + 0.16 * (-1) ** at))
    return Thread("woven", tail.yarn, tail.at, tuple(points), is_worked)
