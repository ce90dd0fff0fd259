"""Shapes become pixels, smooth at their edges."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import groupby
from math import ceil, floor

from companion.knitting.value import Record

Point = tuple[float, float]
Colour = tuple[int, int, int]

_FINE = 4
"""Each pixel is looked at in so many places across and down."""


def _covered(points: Sequence[Point], high: int) -> Iterator[tuple[int, float, float]]:
    """Where a shape lies on the lines between 0 and ``high``: a line, and on it from where to where. A point within a
    shape that laps over itself lies in it all the same."""
    ways = [
        (x1, y1, x2, y2, 1) if y1 < y2 else (x2, y2, x1, y1, -1)
        for (x1, y1), (x2, y2) in zip(points, (*points[1:], points[0]), strict=True) if y1 != y2
    ]
    first = max(0, int(min(way[1] for way in ways)))
    last = min(high - 1, int(max(way[3] for way in ways)))
    for line in range(first, last + 1):
        y = line + 0.5
        met = sorted((x1 + (x2 - x1) * (y - y1) / (y2 - y1), turn) for x1, y1, x2, y2, turn in ways if y1 <= y < y2)
        winds, begun = 0, 0.0
        for x, turn in met:
            if not winds:
                begun = x
            winds += turn
            if not winds:
                yield line, begun, x


Parts = tuple[tuple[int, float], ...]
"""The shapes that are seen in a pixel, by number, each with its part of it."""

Mask = list[list[Parts]]
"""The parts of each pixel of each line."""


def mask(shapes: Sequence[Sequence[Point]], wide: int, high: int) -> Mask:
    """What is seen of shapes, the last on top, in so many pixels; their points are pixels from the upper left corner.
    Number -1 is what no shape covers."""
    fine = [[-1] * (wide * _FINE) for _ in range(high * _FINE)]
    for number, points in enumerate(shapes):
        larger = [(x * _FINE, y * _FINE) for x, y in points]
        for line, begun, ended in _covered(larger, high * _FINE):
            left, right = max(0, round(begun)), min(wide * _FINE, round(ended))
            if left < right:
                fine[line][left:right] = [number] * (right - left)
    return [
        [_parts([line[x:x + _FINE] for line in fine[y:y + _FINE]]) for x in range(0, wide * _FINE, _FINE)]
        for y in range(0, high * _FINE, _FINE)
    ]


def _parts(seen: Sequence[Sequence[int]]) -> Parts:
    found = dict[int, int]()
    for line in seen:
        for number in line:
            found[number] = found.get(number, 0) + 1
    return tuple((number, count / _FINE ** 2) for number, count in found.items())


def painted(mask: Mask, colours: Sequence[Colour], ground: Colour) -> list[bytes]:
    """The lines of a mask: three bytes a pixel. ``colours``: of the shapes; ``ground``: where there is none."""
    known = dict[Parts, bytes]()
    for parts in {parts for line in mask for parts in line}:
        known[parts] = bytes(_mixed(parts, (*colours, ground)))  # number -1 is the last of them
    return [b"".join(map(known.__getitem__, line)) for line in mask]


def _mixed(parts: Parts, colours: Sequence[Colour]) -> Colour:
    red, green, blue = (round(sum(colours[number][channel] * part for number, part in parts)) for channel in range(3))
    return red, green, blue


class Stamp(Record):
    """A mask to be laid over pixels; its first ``line`` and the ``first`` pixel there are counted from where it is
    laid."""

    line: int
    first: int
    mask: Mask


def stamp(shapes: Sequence[Sequence[Point]]) -> Stamp:
    """Shapes, the last on top, to be laid over pixels; their points are pixels from where it is laid."""
    left, top = (floor(min(point[axis] for points in shapes for point in points)) for axis in (0, 1))
    right, foot = (ceil(max(point[axis] for points in shapes for point in points)) for axis in (0, 1))
    moved = [[(x - left, y - top) for x, y in points] for points in shapes]
    return Stamp(top, left, mask(moved, right - left, foot - top))


class Inked(Record):
    """A stamp in its colours: ``solid`` pixels side by side, each with line and first pixel; and those that are
    ``seen_through``, each with line, pixel, the part of what lies below, and what is added to that."""

    solid: Sequence[tuple[int, int, bytes]]
    seen_through: Sequence[tuple[int, int, float, Colour]]


def inked(what: Stamp, colours: Sequence[Colour]) -> Inked:
    """A stamp in the colours of its shapes."""
    known = {
        parts: (dict(parts).get(-1, 0.0), _mixed(parts, (*colours, (0, 0, 0))))
        for parts in {parts for line in what.mask for parts in line}
    }
    solid, seen_through = list[tuple[int, int, bytes]](), list[tuple[int, int, float, Colour]]()
    for line, parts_of in enumerate(what.mask, what.line):
        found = [(x, *known[parts]) for x, parts in enumerate(parts_of, what.first)]
        seen_through += ((line, x, through, colour) for x, through, colour in found if 0 < through < 1)
        for is_solid, group in groupby(found, key=lambda one: not one[1]):
            if is_solid:
                (first, _, colour), *others = group
                solid.append((line, first, b"".join(map(bytes, (colour, *(one[2] for one in others))))))
    return Inked(solid, seen_through)


def lay(picture: bytearray, across: int, left: int, top: int, what: Inked) -> None:
    """Lay it over a picture ``across`` pixels wide, so far from its left edge and from its first line; what lies
    beside the picture is left out."""
    pixels = len(picture) // 3
    for line, x, colours in what.solid:
        at, start = (top + line) * across, left + x
        first, last = max(0, start), min(across, start + len(colours) // 3)
        if first < last and 0 <= at < pixels:
            picture[3 * (at + first):3 * (at + last)] = colours[3 * (first - start):3 * (last - start)]
    for line, x, through, (red, green, blue) in what.seen_through:
        at = (top + line) * across + left + x
        if 0 <= left + x < across and 0 <= at < pixels:
            at *= 3
            picture[at] = min(255, red + int(picture[at] * through))
            picture[at + 1] = min(255, green + int(picture[at + 1] * through))
            picture[at + 2] = min(255, blue + int(picture[at + 2] * through))
