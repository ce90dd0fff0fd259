"""The finished fabric as a picture of either side, as PNG or SVG: stitches in the proportion of the gauge.

Of a piece in work what is worked is drawn strong, the rest pale. The wrong side has what lies there: crosses, carried
strands with their catches, and each end of the ledger once, loose or woven in.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from fractions import Fraction
from functools import cache
from math import ceil

from companion.knitting.cloth.colour import channels
from companion.knitting.cloth.fabric import Yarn
from companion.knitting.cloth.rows import Side
from companion.knitting.hands.looks import Look, Looks, Made, right_side, wrong_side
from companion.knitting.piece import Piece
from companion.knitting.strands.strands import Strands
from companion.knitting.value import Record
from companion.pages import pixels, stitch_shapes
from companion.pages.half_blocks import CROSS, END, Mark, Picture
from companion.pages.stitch_shapes import Shape
from companion.pages.threads import Thread, lowered, shapes, threads
from companion.png import png as as_png
from companion.png import stitch_px
from companion.problems import Problem, Problems, plain

GROUND = "#ffffff"
_PALE = Fraction(2, 3)
"""What is not worked yet is so much nearer to the ground."""

_LEAST_PX, _MOST_LEAST_PX, _USUAL_PX, _MOST_PIXELS = 9, 24, 1000, 12_000_000
"""A stitch is so large that its legs are seen, larger where few stitches would make a small one, and smaller where
many would make too large a one."""

_MOST_RUNS = 40_000
"""What lies on the wrong side of so many is drawn in some ten seconds."""

Colour = tuple[int, int, int]


class Drawing(Record):
    """``looks``: of the side that is drawn; ``threads``: what lies on it; ``colours`` of the yarns; ``ratio``: the
    width of a stitch to its height; ``below``: so many rows are left free below it."""

    title: str
    looks: Looks
    threads: Sequence[Thread]
    colours: Mapping[str, Colour]
    ratio: Fraction
    below: int

    @property
    def columns(self) -> int:
        """How many stitches lie side by side."""
        return len(self.looks[0])


def drawing(
    piece: Piece, strands: Strands, side: Side = "RS", *, made: Made | None = None, is_woven: bool = False,
    levels: tuple[int, int] | None = None,
) -> Drawing:
    """The picture of a side. ``made``: what of it is done (None: all, and the ends are loose); ``is_woven``: the ends
    are drawn woven in; ``levels``: the first and the last row, from 0, as they lie in the picture (None: all).

    Raises:
        Problems: its wrong side has more runs than can be drawn.
    """
    looks = right_side(strands, made)
    first, last = levels or (0, len(looks) - 1)
    found: Sequence[Thread] = ()
    if side == "WS":
        if (runs := sum(len(row.segments) for row in strands.rows)) > _MOST_RUNS:
            raise Problems([Problem(f"A wrong side of {_MOST_RUNS:,} runs can be drawn, and this one has {runs:,}.")])
        looks = wrong_side(looks)
        every = threads(piece, strands, looks, made, is_woven=is_woven)
        found = [
            lowered(one, first) for one in every
            if first <= one.at.level <= last or (one.lowest < last + 1 and one.highest > first)
        ]
    colours = {yarn.name: channels(yarn.colour) for yarn in piece.yarns}
    ratio = piece.gauge.stitch_cm / piece.gauge.row_cm
    below = max((ceil(-thread.lowest) for thread in found), default=0)
    return Drawing(piece.title, looks[first:last + 1], found, colours, ratio, max(1, below))


def png(drawn: Drawing, least_px: int = 0) -> bytes:
    """What a PNG file holds. ``least_px``: how many pixels a stitch has at least, across and up (0: as many as suit
    the piece)."""
    levels, columns = len(drawn.looks), drawn.columns
    wide, high = size_px(drawn, least_px)
    known = dict[tuple[Look | None, ...], list[bytes]]()
    nothing: tuple[Look | None, ...] = (None,) * columns
    rows = (*(nothing,) * drawn.below, *drawn.looks, nothing)
    side = bytes(channels(GROUND)) * wide
    picture = bytearray()
    for at in reversed(range(len(rows))):
        below, above = rows[at - 1] if at else nothing, rows[at + 1] if at + 1 < len(rows) else nothing
        tiles = []
        for around in zip(reversed(rows[at]), reversed(below), reversed(above), strict=True):
            if around not in known:
                known[around] = _tile(drawn, *around, wide, high)
            tiles.append(known[around])
        for line in range(high):
            picture += side + b"".join([tile[line] for tile in tiles]) + side
    across, foot = (columns + 2) * wide, (levels + 1) * high
    inked = dict[tuple[tuple[stitch_shapes.Point, ...], str, bool], pixels.Inked]()
    for thread in drawn.threads:
        what = thread.points, thread.yarn, thread.is_worked
        if what not in inked:
            inked[what] = pixels.inked(_stamp(thread.points, wide, high), colours_of(drawn, thread))
        pixels.lay(picture, across, (thread.at.gap + 1) * wide, foot - thread.at.level * high, inked[what])
    lines = (bytes(picture[at:at + 3 * across]) for at in range(0, len(picture), 3 * across))
    return as_png(across, foot + drawn.below * high, lines)


def in_half_blocks(drawn: Drawing, piece: Piece) -> Picture:
    """The same for a terminal, a point a stitch: bumps are a little darker; crosses and loose ends that are there are
    marks."""
    known: dict[Look | None, Yarn | None] = {None: None}
    for look in {look for row in drawn.looks for look in row if look is not None}:
        yarn = piece.yarn(look.sewn or look.yarn)
        light = stitch_shapes.DARK if look.is_bump and not look.sewn else stitch_shapes.PLAIN
        colour = "#{:02x}{:02x}{:02x}".format(*shaded(drawn, yarn.name, light, is_worked=look.is_worked))
        known[look] = yarn._replace(colour=colour)
    rows = [[known[look] for look in row] for row in drawn.looks]
    return Picture(plain(drawn.title), rows, tuple(_marks(drawn, piece)))


def _marks(drawn: Drawing, piece: Piece) -> Iterator[Mark]:
    """Crosses, and over them ends, each on the first of its own stitches."""
    there = [one for one in drawn.threads if one.is_worked and 0 <= one.at.level < len(drawn.looks)]
    crosses = [one for one in there if one.kind == "cross"]
    for new, old in zip(crosses[::2], crosses[1::2], strict=True):
        colours = piece.yarn(old.yarn).colour, piece.yarn(new.yarn).colour
        yield Mark(CROSS, new.at.gap, new.at.level, colours)
    for tail in (one for one in there if one.kind == "tail"):
        column = tail.at.gap - (tail.points[0][0] < 0)
        yield Mark(END, min(max(column, 0), drawn.columns - 1) + 0.5, tail.at.level)


def size_px(drawn: Drawing, least_px: int = 0) -> tuple[int, int]:
    """How wide and how high a stitch is drawn."""
    across = drawn.columns + 2
    least = least_px or max(_LEAST_PX, min(_MOST_LEAST_PX, _USUAL_PX // across))
    return stitch_px(drawn.ratio, len(drawn.looks) + drawn.below + 1, across, least, _MOST_PIXELS)


def _tile(
    drawn: Drawing, own: Look | None, below: Look | None, above: Look | None, wide: int, high: int
) -> list[bytes]:
    """The lines of pixels of one stitch, and of what reaches into it from below and above."""
    parts = tuple(_parts(own, below, above))
    colours = [colour_of(drawn, look, shape) for shape, look, _ in parts]
    return pixels.painted(_mask(tuple((shape, up) for shape, _, up in parts), wide, high), colours, channels(GROUND))


@cache
def _mask(shapes: tuple[tuple[Shape, int], ...], wide: int, high: int) -> pixels.Mask:
    points = [[(x * wide, (1 - y - up) * high) for x, y in shape.points] for shape, up in shapes]
    return pixels.mask(points, wide, high)


@cache
def _stamp(way: tuple[stitch_shapes.Point, ...], wide: int, high: int) -> pixels.Stamp:
    return pixels.stamp([[(x * wide, -y * high) for x, y in shape.points] for shape in shapes(way)])


def _parts(own: Look | None, below: Look | None, above: Look | None) -> Iterator[tuple[Shape, Look, int]]:
    """The shapes that are seen in the place of a stitch, the lowest first, each with the stitch that it belongs to
    and how many rows that lies above this place."""
    if below:
        shapes_below = shapes_of(below, is_top=not own)
        yield from ((shape, below, -1) for shape in shapes_below if max(y for _, y in shape.points) > 1)
    if above and not own:
        shapes_above = shapes_of(above, is_top=False)
        yield from ((shape, above, 1) for shape in shapes_above if min(y for _, y in shape.points) < 0)
    if own:
        yield from ((shape, own, 0) for shape in shapes_of(own, is_top=False))


def shapes_of(look: Look, *, is_top: bool) -> tuple[Shape, ...]:
    """The shapes of a stitch with the edges that it has, the lowest first. What is sewn over a stitch follows the
    legs of a V. ``is_top``: there is none above it."""
    return (
        *(stitch_shapes.edge("cast-on") if look.cast_on else ()),
        *stitch_shapes.stitch(is_bump=look.is_bump and not look.sewn, is_top=is_top),
        *(stitch_shapes.edge("bound-off") if look.bound_off else ()),
    )


def colour_of(drawn: Drawing, look: Look, shape: Shape) -> Colour:
    """The colour of one shape of a stitch."""
    match shape.of:
        case "own":
            yarn = look.sewn or look.yarn
        case "under":
            yarn = look.under or look.yarn
        case "cast-on":
            yarn = look.cast_on
        case "bound-off":
            yarn = look.bound_off
    return shaded(drawn, yarn, shape.light, is_worked=look.is_worked)


def colours_of(drawn: Drawing, thread: Thread) -> list[Colour]:
    """The colours of the shapes of what lies on the wrong side."""
    return [shaded(drawn, thread.yarn, shape.light, is_worked=thread.is_worked) for shape in shapes(thread.points)]


def shaded(drawn: Drawing, yarn: str, light: float, *, is_worked: bool) -> Colour:
    """The colour of a yarn, lighter or darker, and pale where it is not worked yet."""
    colour = drawn.colours[yarn] if is_worked else _between(drawn.colours[yarn], channels(GROUND), float(_PALE))
    return _between(colour, (255, 255, 255) if light > 0 else (0, 0, 0), abs(light))


def _between(one: Colour, other: Colour, part: float) -> Colour:
    red, green, blue = (round(a + (b - a) * part) for a, b in zip(one, other, strict=True))
    return red, green, blue
