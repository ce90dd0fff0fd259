"""The picture of a fabric as SVG (1.1, second edition, W3C 2011), of the shapes that its pixels are made of, too.
Each kind of stitch is described once and put in its places; text from a plan is text and nothing else."""

from __future__ import annotations

from collections.abc import Iterator
from html import escape

from companion.knitting.cloth.colour import channels
from companion.knitting.hands.looks import Look
from companion.pages.fabric_picture import GROUND, Colour, Drawing, colour_of, colours_of, shapes_of, size_px
from companion.pages.stitch_shapes import Shape
from companion.pages.threads import shapes
from companion.problems import plain

_Kind = tuple[tuple[Shape, Colour], ...]
"""Shapes in their colours."""


def svg(drawn: Drawing) -> str:
    """What an SVG file holds."""
    wide, high = size_px(drawn)
    across, down = (drawn.columns + 2) * wide, (len(drawn.looks) + 1 + drawn.below) * high
    numbers, places = dict[_Kind, int](), list[str]()
    for kind, x, level in _placed(drawn):
        number = numbers.setdefault(kind, len(numbers))
        places.append(f'<use href="#k{number}" x="{(x + 1) * wide}" y="{(len(drawn.looks) + 1 - level) * high}"/>\n')
    kinds = (f'<g id="k{number}">{_paths(kind, wide, high)}</g>\n' for kind, number in numbers.items())
    return "".join((
        f'<svg xmlns="http://www.w3.org/2000/svg" width="{across}" height="{down}" viewBox="0 0 {across} {down}" '
        f'role="img">\n<title>{escape(plain(drawn.title))}</title>\n<defs>\n', *kinds,
        f'</defs>\n<rect width="{across}" height="{down}" fill="{_code(channels(GROUND))}"/>\n', *places, "</svg>\n",
    ))  # fmt: skip


def _placed(drawn: Drawing) -> Iterator[tuple[_Kind, int, int]]:
    """What is drawn, the lowest first, each with how many stitches from the left and rows from below it lies."""
    known = dict[tuple[Look, bool], _Kind]()
    nothing = (None,) * drawn.columns
    for level, (row, over) in enumerate(zip(drawn.looks, (*drawn.looks[1:], nothing), strict=True)):
        for column, (look, above) in enumerate(zip(row, over, strict=True), 1):
            if look is not None:
                key = look, above is None
                if key not in known:
                    own = shapes_of(look, is_top=above is None)
                    known[key] = tuple((shape, colour_of(drawn, look, shape)) for shape in own)
                yield known[key], drawn.columns - column, level
    for thread in drawn.threads:
        yield tuple(zip(shapes(thread.points), colours_of(drawn, thread), strict=True)), *thread.at


def _paths(kind: _Kind, wide: int, high: int) -> str:
    return "".join(
        f'<path d="M{" ".join(f"{x * wide:.4g},{-y * high:.4g}" for x, y in shape.points)}z" fill="{_code(colour)}"/>'
        for shape, colour in kind
    )


def _code(colour: Colour) -> str:
    return "#{:02x}{:02x}{:02x}".format(*colour)
