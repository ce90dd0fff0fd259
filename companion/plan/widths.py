"""Where a section lies on the one below it, by columns from the right edge of the piece: on its very stitches, or
narrower, with as many gone at both edges."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from math import inf

from companion.knitting.value import Record
from companion.plan.chart import GROUND, Drawn
from companion.plan.schema import sections as written


class Top(Record):
    """The stitches that a section is worked on: so many, and so many columns of the piece to the right of them.
    ``parts``: where they are those of two parts, the columns of the right one and of the left one, from one up to
    another and without it, counted from there; ``stitches`` are all columns then."""

    right: int
    stitches: int
    is_round: bool = False
    parts: tuple[tuple[int, int], tuple[int, int]] | None = None


class Placed(Record):
    """Where a section lies: so many columns to the right of it, and how many stitches go at each edge."""

    right: int
    gone: int


def placed(columns: int, width: int, below: Top | None, *, is_drawn: bool) -> Placed | str:
    """Where a section of so many columns lies in a piece of a width, or why it lies nowhere. ``below``: None where it
    is the first one, or what lies there is not known. ``is_drawn``: by a chart, where "." shows what goes at its
    edges, so that nothing is taken away there that is not drawn."""
    if columns == width or below is None or columns == below.stitches:
        return Placed(below.right if below and columns < width else 0, 0)
    gone = below.stitches - columns
    if is_drawn or gone < 0:
        return ""
    if gone % 2:
        return f"{gone:,} go, which cannot be as many at both edges"
    return Placed(below.right + gone // 2, gone // 2)


def filled(shape: written.SectionShape, room: int) -> written.SectionShape:
    """A section with every edge as wide as it is; ``room``: for both together. Those that do not say their width
    share what others leave, one stitch more at the left where it is odd; where nothing is left there is no such edge.
    """
    both = sides(shape)
    open_ = [side for side in ("left", "right") if (edge := getattr(both, side)) and edge.stitches is None]
    left = max(0, room - sum(edge.stitches or 0 for edge in (both.left, both.right) if edge))
    wide = {"right": left // len(open_), "left": left - left // len(open_) * (len(open_) - 1)}
    made = {side: getattr(both, side).model_copy(update={"stitches": wide[side]}) if wide[side] else None
            for side in open_}
    return shape.model_copy(update={"edges": both.model_copy(update=made)})


def top(drawn: Drawn | None, shape: written.SectionShape, columns: int, right: int) -> Top | None:
    """The stitches of a section's last row; None where it has none."""
    is_round = shape.worked == "round"
    if drawn is None or shape.field is not None or not drawn.rows:
        return Top(right, columns, is_round)
    right_edge, left_edge = widths(shape)
    found = list(_stretches([(right_edge, ""), *drawn.rows[-1][::-1] * shape.across, (left_edge, "")]))
    if not found:
        return None
    low, high = found[0][0], found[-1][1]
    own = [(first - low, past - low) for first, past in found]
    return Top(right + low, high - low, is_round, (own[0], own[1]) if len(own) == 2 else None)


def still_divided(rows: float, opening: written.OpeningShape | None, height: int) -> float:
    """So many rows above a section belong to an opening that is told by its columns, which nothing drawn shows.
    ``rows``: the same of the one below; ``height``: the rows of the section, and ``opening`` its own."""
    if opening is None or opening.at is None:
        return max(0, rows - height)
    return inf if opening.rows is None else max(0, opening.row - 1 + opening.rows - height)


def _stretches(runs: Sequence[tuple[int, str]]) -> Iterator[tuple[int, int]]:
    """Columns with stitches from the right on, from one up to another and without it."""
    begun = column = 0
    for count, symbol in [*runs, (0, GROUND)]:
        if symbol == GROUND:
            if begun < column:
                yield begun, column
            begun = column + count
        column += count


def aligned(rights: Sequence[int]) -> list[int]:
    """The columns to the right of each section, counted from the right edge of the outermost one; a shape may widen a
    piece beyond its first section."""
    beyond = -min(rights, default=0)
    return [right + beyond for right in rights]


def widths(shape: written.SectionShape) -> tuple[int, int]:
    """The stitches of a section's edges, of the right one and of the left one."""
    edges = sides(shape)
    return (edges.right.stitches or 0) if edges.right else 0, (edges.left.stitches or 0) if edges.left else 0


def sides(shape: written.SectionShape) -> written.SidesShape:
    """The edges of a section, each side by itself."""
    match shape.edges:
        case written.SidesShape():
            return shape.edges
        case one:
            return written.SidesShape.model_construct(left=one, right=one)
