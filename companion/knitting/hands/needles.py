"""What lies on the two needles at a moment: how many stitches, and how far from their tips a strand hangs.

A strand hangs between two stitches and is moved by all that is made and lost beside them while it rests; where
stitches are worked together across it, it is said to lie before the one that they become.
"""

from __future__ import annotations

from collections.abc import Sequence
from itertools import accumulate, pairwise

from companion.knitting.cloth.outlines import taken
from companion.knitting.cloth.rows import Place, Rows
from companion.knitting.cloth.shaping import shapings
from companion.knitting.hands.steps import BindOff, CastOn, Shape, Slip, Step, Work


def makes(step: Step) -> int:
    """How many stitches a step puts on the needle the work goes to."""
    match step:
        case Work(_, made, _) | Shape(_, _, _, made):
            return made
        case Slip():
            return 1
        case _:
            return 0


def takes(step: Step) -> int:
    """How many stitches a step takes off the needle the work comes from; below 0 where it puts some there, as a
    cast-on before a row does."""
    match step:
        case Shape(_, _, more, made):
            return made - more
        case BindOff():
            return step.all_stitches
        case CastOn(_, _, stitches, _):
            return -stitches
        case _:
            return makes(step)


def taken_up(rows: Rows, index: int) -> int:
    """How many stitches lie on the needle when a row is begun: those of the row below that it takes up, or all that
    are cast on."""
    if not index:
        return rows[index].stitches
    below = rows.beneath(index)
    if not rows[index].part:
        return below.stitches
    first, last = taken(rows, index)
    return below.upto(last) - below.upto(first - 1)


def hung(rows: Rows, origin: Place, index: int) -> int:
    """Where a strand left after run ``origin`` hangs once row ``index`` is worked, its own or one over which it
    rests: so many of that row's stitches lie between it and the edge at column 1."""
    at = rows[origin.row].upto(rows.segment(origin).exit)
    if not rows.fabric.is_shaped:
        return at
    for low, row in pairwise(rows.way(index, origin.row)[::-1]):
        met, is_beyond = _waiting(rows, low, row, at)
        over = _worked_over(rows, row, met, is_beyond=is_beyond)
        at = over if rows[row].toward == "left" else rows[row].stitches - over
    return at


def _waiting(rows: Rows, low: int, index: int, at: int) -> tuple[int, bool]:
    """Of the stitches that row ``index`` takes up so many come before a strand that hangs ``at`` so many of row
    ``low``; and whether it hangs where the second of two parts begins that the row joins, beyond all that is cast on
    between them."""
    if not rows.is_joining(index):
        return _met(rows, index, at), False
    if rows[low].part == "left":
        at += rows.beneath(index).stitches - rows[low].stitches
    met, is_second = _met(rows, index, at), rows[low].part == rows[index].toward
    return met, is_second and met == taken_up(rows, index) - rows[low].stitches


def _met(rows: Rows, index: int, at: int) -> int:
    """Of the stitches that a row takes up so many come before a strand that hangs ``at`` so many of the row below."""
    below, (first, last) = rows.beneath(index), taken(rows, index)
    low, high = below.upto(first - 1), below.upto(last)
    at = min(max(at, low), high)
    return at - low if rows[index].toward == "left" else high - at


def _worked_over(rows: Rows, index: int, met: int, *, is_beyond: bool = False) -> int:
    """How many stitches of a row are worked before a strand is reached that hangs after ``met`` of those it takes up.
    What is made there lies after it; at the row's start before it, which comes out of the stitches below, and between
    parts that are joined before what hangs ``is_beyond`` that."""
    more, starts = 0, list(accumulate((segment.stitches for segment in rows[index].segments), initial=0))
    for one in shapings(rows, index):
        begun, used = starts[one.segment] + one.after, one.takes - one.stitches
        if met < begun - more + used if used > 0 else met + is_beyond <= begun - more and begun:
            return min(met + more, begun)
        more += one.stitches
    return met + more


class Needles:
    """Both needles while a row is worked: ``left`` stitches on the one the work comes from, ``right`` on the one it
    goes to."""

    def __init__(self, rows: Rows, index: int) -> None:
        self._rows, self._index = rows, index
        self._taken = self.left = taken_up(rows, index)
        self.right = 0

    def do(self, steps: Sequence[Step]) -> None:
        """Do these steps of the row."""
        self.left -= sum(map(takes, steps))
        self.right += sum(map(makes, steps))

    def away(self, origin: Place) -> int:
        """How many stitches lie between the tips and a strand that was left after run ``origin`` of a row below:
        above 0 ahead, below 0 back."""
        rows, index = self._rows, self._index
        low = rows.way(index, origin.row)[1]
        met, is_beyond = _waiting(rows, low, index, hung(rows, origin, low))
        if met > (used := self._taken - self.left):
            return met - used
        return min(0, _worked_over(rows, index, met, is_beyond=is_beyond) - self.right)
