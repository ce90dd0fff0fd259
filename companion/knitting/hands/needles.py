"""What lies on the two needles at a moment: how many stitches, and how far from their tips a strand hangs."""

from __future__ import annotations

from collections.abc import Iterable

from companion.knitting.cloth.outlines import taken
from companion.knitting.cloth.rows import Rows
from companion.knitting.hands.steps import Step, makes, takes


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


def away(rows: Rows, index: int, gap: int, done: Iterable[Step]) -> int:
    """How many stitches lie between the needles' tips and a gap of the row below once these steps of a row are done:
    above 0 ahead, on the needle the work comes from, below 0 back, on the other."""
    below, (first, last) = rows[rows.before(index)[0]], taken(rows, index)
    met = abs(below.upto(gap) - below.upto(first - 1 if rows[index].toward == "left" else last))
    used = made = 0
    before: int | None = None  # stitches made of those before the gap; what is worked together across it is not
    for step in done:
        took, gave = takes(step), makes(step)
        if before is None and used <= met < used + took:
            before = made + (met - used if took == gave else 0)
        used, made = used + took, made + gave
    return met - used if before is None else before - made
