"""Where a section lies on the one below it, by columns from the right edge of the piece: on its very stitches, or
narrower, with as many gone at both edges."""

from __future__ import annotations

from collections.abc import Sequence

from companion.knitting.value import Record
from companion.plan.chart import GROUND, Drawn, Runs
from companion.plan.schema import sections as written


class Top(Record):
    """The stitches that a section is worked on: so many, and so many columns of the piece to the right of them."""

    right: int
    stitches: int
    is_round: bool = False


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
    runs, edges = drawn.rows[-1], sides(shape)
    low = 0 if edges.right else _bare(runs[::-1])
    high = columns - (0 if edges.left else _bare(runs))
    return Top(right + low, high - low, is_round) if high > low else None


def aligned(rights: Sequence[int]) -> list[int]:
    """The columns to the right of each section, counted from the right edge of the outermost one; a shape may widen a
    piece beyond its first section."""
    beyond = -min(rights, default=0)
    return [right + beyond for right in rights]


def _bare(runs: Runs) -> int:
    """So many cells without a stitch before the first one."""
    return runs[0][0] if runs and runs[0][1] == GROUND else 0


def sides(shape: written.SectionShape) -> written.SidesShape:
    """The edges of a section, each side by itself."""
    match shape.edges:
        case written.SidesShape():
            return shape.edges
        case one:
            return written.SidesShape.model_construct(left=one, right=one)
