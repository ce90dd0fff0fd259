"""What lies on the two needles at a moment: how many stitches, and how far from their tips a strand hangs."""

from __future__ import annotations

from collections.abc import Sequence
from functools import cached_property

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


class Needles:
    """Both needles while a row is worked: ``left`` stitches on the one the work comes from, ``right`` on the one it
    goes to."""

    def __init__(self, rows: Rows, index: int) -> None:
        self._rows, self._index = rows, index
        self._taken = self.left = taken_up(rows, index)
        self.right = 0
        self._done: list[Step] = []

    def do(self, steps: Sequence[Step]) -> None:
        """Do these steps of the row."""
        self.left -= sum(map(takes, steps))
        self.right += sum(map(makes, steps))
        self._done += steps

    @cached_property
    def _edge(self) -> tuple[int, int]:
        """So many stitches of the row below lie in columns before the edge where the row starts, and which way it
        goes from there."""
        below, (first, last) = self._rows[self._rows.before(self._index)[0]], taken(self._rows, self._index)
        return (below.upto(first - 1), 1) if self._rows[self._index].toward == "left" else (below.upto(last), -1)

    def away(self, gap: int) -> int:
        """How many stitches lie between the tips and a gap of the row below: above 0 ahead, below 0 back."""
        edge, way = self._edge
        met = max(0, way * (self._rows[self._rows.before(self._index)[0]].upto(gap) - edge))
        used, back = self._taken - self.left, 0
        if met > used or not used:
            return met - used
        for step in reversed(self._done):
            took, gave = takes(step), makes(step)
            used -= took
            if took > 0 and used <= met:  # what is worked together across the gap lies after it
                rest = used + took - met
                return -back - (rest if took == gave or not rest else gave)
            back += gave
        return -back
