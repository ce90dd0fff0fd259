"""Charts as pictures on a terminal: a half block shows two points of a picture, one above the other.

A cell of a terminal is about twice as high as it is wide, so that its halves are about square. Stitches have the
proportion of the gauge. Where there are no colours a cell is one point, and the letter of its yarn stands for it.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import zip_longest

from rich.style import Style
from rich.text import Text

from companion.knitting.cloth.fabric import Gauge, Yarn
from companion.knitting.value import Record

UPPER_HALF = "\u2580"
_LOWER_HALF = "\u2584"

LEAST = 38
"""Narrower, in cells, nobody sees what a picture shows."""

_BETWEEN = 2


class Picture(Record):
    """``title``: what stands above it; ``rows``: the yarns of its stitches, rows from the cast-on up, in each from
    column 1 on; all as wide. None where there is no stitch."""

    title: str
    rows: Sequence[Sequence[Yarn | None]]


def side_by_side(pictures: Sequence[Picture], gauge: Gauge, room: int, *, is_coloured: bool) -> Iterator[Text]:
    """The lines of these pictures in so many cells: beside each other as long as each has room, the others below."""
    stitches = max((len(picture.rows[0]) for picture in pictures), default=1)
    wide = min(stitches, room, max(LEAST, (room + _BETWEEN) // max(1, len(pictures)) - _BETWEEN))
    beside = max(1, (room + _BETWEEN) // (wide + _BETWEEN))
    for first in range(0, len(pictures), beside):
        band = pictures[first:first + beside]
        yield Text()
        for parts in zip_longest(*(_lines(picture, gauge, wide, is_coloured=is_coloured) for picture in band)):
            yield Text(" " * _BETWEEN).join(Text(" " * wide) if part is None else part for part in parts)


def _lines(picture: Picture, gauge: Gauge, wide: int, *, is_coloured: bool) -> Iterator[Text]:
    title = Text(picture.title)
    title.truncate(wide, overflow="ellipsis", pad=True)
    yield title
    points = _points(picture.rows, gauge, wide, 1 if is_coloured else 2)
    if not is_coloured:
        yield from (Text("".join(yarn.symbol if yarn else " " for yarn in line)) for line in points)
        return
    for upper, lower in zip_longest(points[::2], points[1::2]):
        line = Text()
        for at, yarn in enumerate(upper):
            below = None if lower is None else lower[at]
            if yarn:
                line.append(UPPER_HALF, Style(color=yarn.colour, bgcolor=below.colour if below else None))
            else:
                line.append(_LOWER_HALF if below else " ", Style(color=below.colour if below else None))
        yield line


def _points(
    rows: Sequence[Sequence[Yarn | None]], gauge: Gauge, wide: int, height: int
) -> list[list[Yarn | None]]:
    """The yarn in the middle of each point, lines from the top, in each from the left. ``height``: of a point, in its
    widths."""
    stitches = len(rows[0])
    high = max(1, round(wide * (len(rows) * gauge.row_cm) / (stitches * gauge.stitch_cm * height)))
    across = [stitches - 1 - (2 * x + 1) * stitches // (2 * wide) for x in range(wide)]
    up = [len(rows) - 1 - (2 * y + 1) * len(rows) // (2 * high) for y in range(high)]
    return [[rows[row][column] for column in across] for row in up]
