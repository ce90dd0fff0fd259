"""What lies on the two needles at a moment: how many stitches, and how far ahead of their tips a strand hangs."""

from __future__ import annotations

from companion.knitting.cloth.outlines import taken
from companion.knitting.cloth.rows import Rows


def taken_up(rows: Rows, index: int) -> int:
    """How many stitches lie on the needle when a row is begun: those of the row below that it takes up, or all that
    are cast on."""
    below = rows.before(index)
    if not below:
        return rows[index].stitches
    if not rows[index].part:
        return rows[below[0]].stitches
    first, last = taken(rows, index)
    return rows[below[0]].upto(last) - rows[below[0]].upto(first - 1)


def ahead(rows: Rows, index: int, left: int, gap: int) -> int:
    """How many stitches lie between the needles' tips and a gap of the row below, when ``left`` of the stitches that
    a row takes up are still to be worked."""
    below, (first, last) = rows[rows.before(index)[0]], taken(rows, index)
    edge = last if rows[index].toward == "left" else first - 1
    return left - abs(below.upto(edge) - below.upto(gap))
