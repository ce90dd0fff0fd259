"""Charts as pictures on a terminal: a half block shows two points of a picture, one above the other.

A cell of a terminal is about twice as high as it is wide, so that its halves are about square. Stitches have the
proportion of the gauge. Where there are no colours a cell is one point, and the letter of its yarn stands for it. An
end or a cross that lies on the stitches is a sign in a cell of its own.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import zip_longest

from rich.style import Style
from rich.text import Text

from companion.knitting.cloth.colour import ink_on
from companion.knitting.cloth.fabric import Gauge, Yarn
from companion.knitting.value import Record

UPPER_HALF = "\u2580"
_LOWER_HALF = "\u2584"

LEAST = 38
"""Narrower, in cells, nobody sees what a picture shows."""

_BETWEEN = 2

END, CROSS = "○", "×"
_CROSS_CELLS = 2
"""So many cells wide a stitch must be for a cross beside it to leave something of it."""


class Mark(Record):
    """``sign``: END or CROSS; ``x``: in stitches from the left; ``level``: its row, from 0. ``colours``: of a cross
    those of the strand that lies over the other, and of the other; an end stands out from what it lies on."""

    sign: str
    x: float
    level: int
    colours: tuple[str, str] | None = None


class Picture(Record):
    """``title``: what stands above it; ``rows``: the yarns of its stitches, rows from the cast-on up, in each from
    column 1 on; all as wide. None where there is no stitch. ``marks``: what lies on them, that which hides the others
    last."""

    title: str
    rows: Sequence[Sequence[Yarn | None]]
    marks: Sequence[Mark] = ()


def side_by_side(pictures: Sequence[Picture], gauge: Gauge, room: int, *, is_coloured: bool) -> Iterator[Text]:
    """The lines of these pictures in so many cells: beside each other as long as each has room, the others below."""
    stitches = max((len(picture.rows[0]) for picture in pictures), default=1)
    wide = min(stitches, room, max(LEAST, (room + _BETWEEN) // max(1, len(pictures)) - _BETWEEN))
    beside = max(1, (room + _BETWEEN) // (wide + _BETWEEN))
    for first in range(0, len(pictures), beside):
        band = pictures[first:first + beside]
        yield Text()
        for parts in zip_longest(*(_titled(picture, gauge, wide, is_coloured=is_coloured) for picture in band)):
            yield Text(" " * _BETWEEN).join(Text(" " * wide) if part is None else part for part in parts)


def whole(picture: Picture, gauge: Gauge, wide: int, high: int, *, is_coloured: bool) -> int:
    """How many cells wide a picture is drawn of which all is to be seen in so many cells and lines; no wider than is
    a cell a stitch."""
    stitches, rows = len(picture.rows[0]), len(picture.rows)
    points = high * (2 if is_coloured else 1)
    height = 1 if is_coloured else 2  # of a point, in its widths
    fits = int(points * height * stitches * gauge.stitch_cm / (rows * gauge.row_cm))
    return max(1, min(wide, fits, stitches))


def foot(picture: Picture, wide: int) -> str:
    """What the signs on a picture so many cells wide mean, and what it has no room for; "" where it has none."""
    if not picture.marks:
        return ""
    signs, rest = (f"{END} an end", "crosses and carried strands")
    if _has_crosses(picture, wide):
        signs, rest = f"{END} an end, {CROSS} a cross", "carried strands"
    return f"{signs}. A PNG shows {rest}, too: rowside picture --wrong-side -o FILE.png"


def _has_crosses(picture: Picture, wide: int) -> bool:
    return wide >= _CROSS_CELLS * len(picture.rows[0])


def _titled(picture: Picture, gauge: Gauge, wide: int, *, is_coloured: bool) -> Iterator[Text]:
    title = Text(picture.title)
    title.truncate(wide, overflow="ellipsis", pad=True)
    yield title
    yield from lines(picture, gauge, wide, is_coloured=is_coloured)


def lines(picture: Picture, gauge: Gauge, wide: int, *, is_coloured: bool) -> Iterator[Text]:
    """The lines of a picture alone, so many cells wide."""
    points = _points(picture.rows, gauge, wide, 1 if is_coloured else 2)
    signs = _signs(picture, wide, len(points))
    if not is_coloured:
        for y, line in enumerate(points):
            letters = (yarn.symbol if yarn else " " for yarn in line)
            yield Text("".join(signs[y, x].sign if (y, x) in signs else sign for x, sign in enumerate(letters)))
        return
    for y in range(0, len(points), 2):
        shown = Text()
        for x, yarn in enumerate(points[y]):
            below = points[y + 1][x] if y + 1 < len(points) else None
            if marked := [at for at in (y + 1, y) if (at, x) in signs]:
                mark, under = signs[marked[0], x], points[marked[0]][x]
                shown.append(mark.sign, _style(mark, under))
            elif yarn:
                shown.append(UPPER_HALF, Style(color=yarn.colour, bgcolor=below.colour if below else None))
            else:
                shown.append(_LOWER_HALF if below else " ", Style(color=below.colour if below else None))
        yield shown


def _signs(picture: Picture, wide: int, high: int) -> dict[tuple[int, int], Mark]:
    """The marks that are drawn, by the line of points, from the top, and the point in it, from the left."""
    rows, stitches = len(picture.rows), len(picture.rows[0])
    return {
        (int((rows - mark.level - 0.5) * high / rows), min(int(mark.x * wide / stitches), wide - 1)): mark
        for mark in picture.marks if mark.sign == END or _has_crosses(picture, wide)
    }  # fmt: skip


def _style(mark: Mark, under: Yarn | None) -> Style:
    if mark.colours:
        return Style(color=mark.colours[0], bgcolor=mark.colours[1])
    return Style(color=ink_on(under.colour), bgcolor=under.colour, bold=True) if under else Style(bold=True)


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
