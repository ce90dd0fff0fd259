"""The shapes of which stitches are drawn, in stitches and rows: x from 0 at a stitch's left edge to 1, y from 0 at
its foot upward. The middle of every stitch shows its own yarn, neither lighter nor darker.

A V is two legs of plied yarn that lean apart and reach between those of the row above; a bump is the head of the
stitch below and the feet of its own, one wave above the other.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Sequence
from functools import cache
from math import hypot, pi, sin
from typing import Literal

from companion.knitting.value import Record

Point = tuple[float, float]
Of = Literal["own", "under", "cast-on", "bound-off"]
"""Whose yarn it is: the stitch's own, that of the stitch on which it is worked, or that of the edge."""

DEEP, DIM, DARK, PLAIN, LIGHT = -0.42, -0.3, -0.2, 0.0, 0.22
"""How dark or light a shape is: a part of the way to black, or to white."""

TIP = 0.4
"""So far the legs of a V reach between those of the row above, and what lies behind a bump."""

EDGE = 0.7
"""How high an edge is, in rows."""


class Shape(Record):
    """An area between these points in yarn of ``of``, so light."""

    of: Of
    light: float
    points: tuple[Point, ...]


@cache
def stitch(*, is_bump: bool, is_top: bool) -> tuple[Shape, ...]:
    """The shapes of one stitch, the lowest first. ``is_top``: there is none above it."""
    return tuple(_bump(1 if is_top else 1 + TIP) if is_bump else _v())


def _v() -> Iterator[Shape]:
    for side in (_as_is, _mirrored):
        yield Shape("own", DEEP, side([(0.5, 0), (0.5, 1), (0, 1 + TIP), (0, TIP)]))
    for side in (_as_is, _mirrored):
        yield Shape("own", PLAIN, side(_lens((0.43, 0.02), (0.15, 1.31), 0.195)))
        for ply in range(4):
            foot = 0.16 + 0.27 * ply
            x = 0.47 - 0.3 * foot / 1.33
            yield Shape("own", DARK, side(band([(x - 0.21, foot - 0.01), (x - 0.05, foot + 0.13)], 0.045)))
        yield Shape("own", LIGHT, side(_lens((0.32, 0.12), (0.1, 1.1), 0.055)))


def _bump(top: float) -> Iterator[Shape]:
    yield Shape("own", DIM, ((0, 0), (1, 0), (1, top), (0, top)))
    head = [(x / 10, 0.34 * sin(pi * (x / 10 - 0.05) / 0.9) - 0.17) for x in range(1, 10)]
    yield from cord("under", head, 0.36)
    feet = [(x / 10, 0.58 - 0.36 * (1 - sin(pi * x / 10))) for x in range(11)]
    yield from cord("own", feet, 0.5)


@cache
def edge(of: Of) -> tuple[Shape, ...]:
    """The edge below a stitch that is cast on, or above one that is bound off: a loop of a chain."""
    foot = 1 if of == "bound-off" else -EDGE
    top = foot + EDGE + (TIP if of == "cast-on" else 0)
    lies = foot + EDGE / 2
    slant = [(x / 8 - 0.02, lies + 0.16 * sin(pi * (x / 8 - 0.5))) for x in range(9)]
    return (
        Shape(of, DEEP, ((0, foot), (1, foot), (1, top), (0, top))),
        *cord(of, slant, 0.46),
    )


def cord(of: Of, points: Sequence[Point], thick: float) -> Iterator[Shape]:
    """A strand along these points, so thick: with shade below it and light on it."""
    yield Shape(of, DARK, band(points, thick))
    yield Shape(of, PLAIN, band(points, thick * 0.8))
    yield Shape(of, LIGHT, band([(x, y + thick * 0.3) for x, y in points[1:-1]], thick * 0.2))


def band(points: Sequence[Point], thick: float) -> tuple[Point, ...]:
    """What is drawn along these points, so thick."""
    return _outline(points, lambda _: thick / 2)


def _lens(start: Point, end: Point, thick: float) -> list[Point]:
    """What is thickest in the middle, on either side so thick."""
    along = [(start[0] + (end[0] - start[0]) * at / 10, start[1] + (end[1] - start[1]) * at / 10) for at in range(11)]
    return list(_outline(along, lambda at: thick * sin(pi * (0.08 + 0.84 * at)) ** 0.6))


def _outline(points: Sequence[Point], half: Callable[[float], float]) -> tuple[Point, ...]:
    """The outline of a way along these points; ``half`` as thick at each part of it, from 0 to 1."""
    one, other = list[Point](), list[Point]()
    last = len(points) - 1
    for at, (x, y) in enumerate(points):
        (x1, y1), (x2, y2) = points[max(0, at - 1)], points[min(last, at + 1)]
        long = hypot(x2 - x1, y2 - y1) or 1
        across, up = (y1 - y2) / long * half(at / last), (x2 - x1) / long * half(at / last)
        one.append((x + across, y + up))
        other.append((x - across, y - up))
    return (*one, *reversed(other))


def _as_is(points: Iterable[Point]) -> tuple[Point, ...]:
    return tuple(points)


def _mirrored(points: Iterable[Point]) -> tuple[Point, ...]:
    return tuple((1 - x, y) for x, y in points)
