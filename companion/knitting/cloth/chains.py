"""Areas of one colour on a plain grid, and the chains of which they are made.

A strip is the stitches of a yarn side by side in a row. A chain is strips one above the other, each touching but the
next one of its yarn: where an area branches it is cut, so that its specks, spurs, bridges and pockets are chains of
their own.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import groupby

from companion.knitting.cloth.areas import Area, Strip


def chains(grid: Sequence[Sequence[str]]) -> tuple[Area, ...]:
    """The chains of a grid and, where one is made of several, the areas, by their lowest row and its right edge.
    ``grid``: the yarn of every stitch, rows from the cast-on up, in each from column 1 on; all as wide."""
    found = _Linked(grid)
    parts = dict.fromkeys((*found.joined(only_chains=True), *found.joined(only_chains=False)))
    return tuple(sorted(parts, key=lambda part: (part.strips[0], len(part.strips))))


class _Linked:
    """The strips of a grid, and which of them touch one above the other."""

    def __init__(self, grid: Sequence[Sequence[str]]) -> None:
        self._strips: list[Strip] = []
        self._yarns: list[str] = []
        self._links: list[tuple[int, int]] = []
        below: list[int] = []
        for index, row in enumerate(grid):
            here = []
            first = 1
            for yarn, group in groupby(row):
                count = len(list(group))
                here.append(len(self._strips))
                self._strips.append(Strip(index, first, count))
                self._yarns.append(yarn)
                first += count
            self._links += self._touching(below, here)
            below = here

    def _touching(self, below: Sequence[int], here: Sequence[int]) -> Iterator[tuple[int, int]]:
        """Pairs of strips of a yarn, the lower one first."""
        i = j = 0
        while i < len(below) and j < len(here):
            low, high = self._strips[below[i]], self._strips[here[j]]
            if self._yarns[below[i]] == self._yarns[here[j]]:
                yield below[i], here[j]
            ends_low, ends_high = low.first + low.cells, high.first + high.cells
            i, j = i + (ends_low <= ends_high), j + (ends_high <= ends_low)

    def joined(self, *, only_chains: bool) -> Iterator[Area]:
        """The areas, or the chains."""
        up, down = [0] * len(self._strips), [0] * len(self._strips)
        for low, high in self._links:
            up[low] += 1
            down[high] += 1
        root = list(range(len(self._strips)))
        for low, high in self._links:
            if not only_chains or (up[low] == 1 and down[high] == 1):
                one, other = sorted((_root(root, low), _root(root, high)))
                root[other] = one
        groups: dict[int, list[Strip]] = {}
        for number, strip in enumerate(self._strips):
            groups.setdefault(_root(root, number), []).append(strip)
        for number, strips in groups.items():
            yield Area(self._yarns[number], tuple(strips))


def _root(root: list[int], number: int) -> int:
    while root[number] != number:
        root[number] = root[root[number]]
        number = root[number]
    return number
