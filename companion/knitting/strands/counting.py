"""How few strands flat, unshaped work takes, counted and not solved, and what a change of a few cells makes of it.

Where strands neither pass behind nor rest, one goes on only to the next row, and no further than ``reach``. Of flat
rows with the same columns the same edges of runs meet: the far edge from where a row begins is where its strands hang
and where those of the next are taken up, since the work is turned between them. So the strands of a yarn are its runs
less the moves made between rows one above the other, and each of these is a largest matching of points on a line to
points no further away than the reach. What a point may be matched to lies side by side, and for such (convex)
bipartite graphs taking the nearest to the start that is still free is the largest there is (Glover, Maximum matching
in a convex bipartite graph, Naval Research Logistics Quarterly 14, 1967, from memory).

Yarns do not meddle with each other, so that a change of a cell costs what one yarn loses and another gains by it.
"""

from __future__ import annotations

from bisect import bisect_left
from collections.abc import Callable, Iterable, Mapping, Sequence
from itertools import groupby

from companion.knitting.cloth.areas import Strip
from companion.knitting.cloth.rows import Rows
from companion.knitting.strands.limits import Carry


def is_counted(rows: Rows, limits: Carry) -> bool:
    """Whether a fabric's strands can be counted: it is flat, all its rows have the same columns, and strands may
    neither pass behind, nor rest, nor share a length or a run."""
    fabric = rows.fabric
    is_plain = limits == Carry(limits.reach)
    return is_plain and not fabric.is_shaped and not any(row.is_round for row in fabric.rows)


def moves_between(hanging: Sequence[int], entered: Sequence[int], reach: int) -> int:
    """The most strands of a yarn that can go on from a row to the next one. ``hanging``: the gaps where they hang;
    ``entered``: those where the runs of the next row are entered; both rising. No carry is longer than ``reach``."""
    made = at = 0
    many = len(entered)
    for gap in hanging:
        low = gap - reach
        while at < many and entered[at] < low:
            at += 1
        if at == many:
            break
        if entered[at] <= gap + reach:
            made += 1
            at += 1
    return made


_Runs = tuple[list[int], list[int]]
"""The runs of one yarn in a row: the gaps at their right and at their left edges, from column 1 on. (Plain tuples: so
many are made that what a named one takes would be a tenth of the time.)"""


def _given(runs: _Runs, first: int, cells: int) -> _Runs:
    """The same where these cells are of the yarn too, which were not."""
    (rights, lefts), low, high = runs, first - 1, first + cells - 1
    at = bisect_left(lefts, low)
    joins_right = at < len(lefts) and lefts[at] == low
    past = at + joins_right
    joins_left = past < len(rights) and rights[past] == high
    # Where it joins the run to its right, that one's right edge stays; likewise at the left.
    low, high = rights[at] if joins_right else low, lefts[past] if joins_left else high
    past += joins_left
    return [*rights[:at], low, *rights[past:]], [*lefts[:at], high, *lefts[past:]]


def _taken(runs: _Runs, first: int, cells: int) -> _Runs:
    """The same where these cells, all of them of the yarn, are of another one."""
    (rights, lefts), low, high = runs, first - 1, first + cells - 1
    at = bisect_left(lefts, high)
    rights, lefts, right, left = rights.copy(), lefts.copy(), rights[at], lefts[at]
    rights[at:at + 1] = [right] * (right < low) + [high] * (high < left)
    lefts[at:at + 1] = [low] * (right < low) + [left] * (high < left)
    return rights, lefts


_NONE: _Runs = ([], [])
_Change = Callable[[_Runs, int, int], _Runs]


class StrandCount:
    """The strands of a grid of cells, kept while cells change.

    ``cells``: the yarn of every cell, row by row in working order from the cast-on, in each from column 1 on; all as
    wide. ``is_leftward``: the first row is worked from column 1 on, as right-side rows are by a right-handed knitter.
    """

    def __init__(self, cells: Iterable[Iterable[str]], reach: int, *, is_leftward: bool = True) -> None:
        self._reach, self._is_leftward = reach, is_leftward
        self._rows = [_runs(row) for row in cells]
        yarns = [(index, yarn) for index, row in enumerate(self._rows) for yarn in row]
        self._moves = {key: self._moves_up(*key, {}) for key in yarns}
        self.strands = sum(len(self._rows[index][yarn][0]) - self._moves[index, yarn] for index, yarn in yarns)
        """How many there are."""

    def if_taken(self, yarn: str, strips: Iterable[Strip]) -> int:
        """How many strands of a yarn there were more if these cells, which are of it, were of none. Strips of a row
        from the right."""
        return self._more(yarn, self._changed(yarn, strips, _taken))

    def if_given(self, yarn: str, strips: Iterable[Strip]) -> int:
        """How many strands of a yarn there were more if these cells, which are of another, were of it."""
        return self._more(yarn, self._changed(yarn, strips, _given))

    def if_cells(self, index: int, first: int, old: Sequence[str], new: Sequence[str]) -> int:
        """How many strands there were more if the cells of a row from ``first`` on, now ``old``, were ``new``."""
        return sum(self._more(yarn, {index: runs}) for yarn, runs in self._anew(index, first, old, new).items())

    def change(self, old: str, new: str, strips: Sequence[Strip]) -> None:
        """Let these cells, which are of the yarn ``old``, be of the yarn ``new``."""
        self._put(old, self._changed(old, strips, _taken))
        self._put(new, self._changed(new, strips, _given))

    def change_cells(self, index: int, first: int, old: Sequence[str], new: Sequence[str]) -> None:
        """Let the cells of a row from ``first`` on, now ``old``, be ``new``."""
        for yarn, runs in self._anew(index, first, old, new).items():
            self._put(yarn, {index: runs})

    def met(self, index: int, yarn: str) -> tuple[Sequence[int], Sequence[int]]:
        """The gaps at which strands of a yarn hang, or are wanted, in the rows beside a row: those that the right
        edges of its runs can meet, and those that the left ones can."""
        below = self._rows[index - 1].get(yarn, _NONE) if index else _NONE
        above = self._rows[index + 1].get(yarn, _NONE) if index + 1 < len(self._rows) else _NONE
        return (below[0], above[1]) if self._goes_left(index) else (above[0], below[1])

    def _goes_left(self, index: int) -> bool:
        """Whether a row is worked from column 1 on."""
        return self._is_leftward == (index % 2 == 0)

    def _anew(self, index: int, first: int, old: Sequence[str], new: Sequence[str]) -> dict[str, _Runs]:
        """The runs of a row with new cells, of the yarns that are concerned."""
        after: dict[str, _Runs] = {}
        for cells, do in ((old, _taken), (new, _given)):
            at = first
            for yarn, group in groupby(cells):
                many = len(list(group))
                after[yarn] = do(after.get(yarn) or self._rows[index].get(yarn, _NONE), at, many)
                at += many
        return after

    def _put(self, yarn: str, changed: Mapping[int, _Runs]) -> None:
        self.strands += self._more(yarn, changed)
        for index, runs in changed.items():
            self._rows[index][yarn] = runs
        for index in {low for row in changed for low in (row - 1, row) if low >= 0}:
            self._moves[index, yarn] = self._moves_up(index, yarn, {})

    def _changed(self, yarn: str, strips: Iterable[Strip], do: _Change) -> dict[int, _Runs]:
        """The runs of a yarn in the rows that change."""
        changed: dict[int, _Runs] = {}
        for index, first, cells in strips:
            runs = changed.get(index) or self._rows[index].get(yarn, _NONE)
            changed[index] = do(runs, first, cells)
        return changed

    def _more(self, yarn: str, changed: Mapping[int, _Runs]) -> int:
        more = 0
        for index, runs in changed.items():
            before = self._rows[index].get(yarn, _NONE)
            more += len(runs[0]) - len(before[0])
            more += self._moves.get((index, yarn), 0) - self._moves_up(index, yarn, changed)
            if index and index - 1 not in changed:
                more += self._moves.get((index - 1, yarn), 0) - self._moves_up(index - 1, yarn, changed)
        return more

    def _moves_up(self, index: int, yarn: str, changed: Mapping[int, _Runs]) -> int:
        """The most moves of a yarn from a row to the next."""
        if index + 1 == len(self._rows):
            return 0
        below = changed.get(index) or self._rows[index].get(yarn, _NONE)
        above = changed.get(index + 1) or self._rows[index + 1].get(yarn, _NONE)
        edge = self._goes_left(index)  # the right edges come first, then the left ones
        return moves_between(below[edge], above[edge], self._reach)


def _runs(cells: Iterable[str]) -> dict[str, _Runs]:
    """The runs of every yarn of a row."""
    found: dict[str, _Runs] = {}
    at = 0
    for yarn, group in groupby(cells):
        rights, lefts = found.setdefault(yarn, ([], []))
        rights.append(at)
        at += len(list(group))
        lefts.append(at)
    return found
