"""What lies on the two needles at a moment: how many stitches, and how far a strand hangs from their tips."""

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


def lying(rows: Rows, index: int, tip: int, gap: int) -> int:
    """How many stitches lie between the needles' tips and a gap while a row is worked as far as gap ``tip``: ahead
    those of the row below, back those of the row itself."""
    row, below = rows[index], rows.before(index)
    is_ahead = (gap > tip) == (row.toward == "left")
    held = rows[below[0]] if is_ahead and below else row
    return abs(held.upto(gap) - held.upto(tip))
