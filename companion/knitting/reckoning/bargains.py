"""A chart that is cheaper to knit at a price: E = what its stitches want + price x strands.

A stitch *wants* its own colour: being knitted in a yarn costs it so much. Chains of stitches go over to a yarn beside
them, and rows are drawn anew, wherever that lowers E. Strands are counted exactly, and no step ever raises E: it is
taken only when its exact price, worked out at that moment, is below 0. All numbers are whole, so that the same chart
gives the same one everywhere.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from heapq import heapify, heappop, heappush
from itertools import accumulate, groupby
from operator import add, le

from companion.knitting.cloth.areas import Area, Strip
from companion.knitting.cloth.chains import chains
from companion.knitting.strands.counting import StrandCount

Wants = Sequence[Sequence[Sequence[int]]]
"""For every row from the cast-on up, and every yarn in the order in which they are named: what each stitch loses by
being knitted in it, from column 1 on."""

HELD = 1_000_000_000
"""What a stitch that is held loses in any other yarn: more than any price for all strands it could spare."""

MOST_ROUNDS = 3
"""So often chains and rows are gone through; later rounds would gain less than a thousandth."""


class Bargaining:
    """A grid of stitches under a price.

    ``grid``: the yarn of every stitch, rows from the cast-on up, in each from column 1 on. ``price``: of one strand,
    in the unit of ``wants``. ``is_leftward``: row 1 is worked from column 1 on.
    """

    def __init__(
        self, grid: Sequence[Sequence[str]], yarns: Sequence[str], wants: Wants, price: int, reach: int, *,
        is_leftward: bool = True,
    ) -> None:
        self.grid = [list(row) for row in grid]
        self._yarns, self._wants, self._price, self._reach = tuple(yarns), wants, price, reach
        self._sums = [
            {yarn: list(accumulate(each, initial=0)) for yarn, each in zip(yarns, row, strict=True)} for row in wants
        ]
        self._count = StrandCount(self.grid, reach, is_leftward=is_leftward)
        self._clock = 1
        self._changed = [1] * len(self.grid)
        self._settled: dict[Area, int] = {}
        self._swept = [0] * len(self.grid)

    @property
    def strands(self) -> int:
        """How many strands the grid takes."""
        return self._count.strands

    @property
    def wanting(self) -> int:
        """What all its stitches want together."""
        return sum(
            self._sums[index][yarn][past] - self._sums[index][yarn][first]
            for index, row in enumerate(self.grid) for yarn, first, past in _runs(row)
        )

    def settle(self) -> None:
        """Chains and rows in turn, until neither lowers E."""
        for _ in range(MOST_ROUNDS):
            before = self._clock
            self.give_chains()
            self.sweep_rows()
            if self._clock == before:
                return

    # Chains.

    def give_chains(self) -> None:
        """Offer every chain, and every area made of several, to the yarns beside it; the best bargain first."""
        offers = []
        for number, chain in enumerate(chains(self.grid)):
            if self._settled.get(chain, 0) < self._last_changed(chain):
                gain, new = self._best(chain)
                if gain > 0:
                    offers.append((-gain, number, chain, new))
        heapify(offers)
        while offers:
            told, number, chain, _ = heappop(offers)
            if any(self._is_other(strip, chain.yarn) for strip in chain.strips):
                continue
            gain, new = self._best(chain)
            if gain <= 0:
                continue
            if offers and -gain > max(told, offers[0][0]):  # it has lost since: another is better now
                heappush(offers, (-gain, number, chain, new))
                continue
            self._give(chain, new)

    def _best(self, chain: Area) -> tuple[int, str]:
        """How much E falls if a chain goes over to the yarn beside it for which it falls most; kept in mind where it
        does not fall."""
        taken = self._count.if_taken(chain.yarn, chain.strips)
        own = self._wanted(chain.strips, chain.yarn)
        best, best_yarn = 0, ""
        for yarn in self._beside(chain):
            more = self._wanted(chain.strips, yarn) - own
            # No strip that is given to a yarn spares it more than a strand.
            if more >= HELD or best >= -more - self._price * (taken - len(chain.strips)):
                continue
            gain = -more - self._price * (taken + self._count.if_given(yarn, chain.strips))
            if gain > best:
                best, best_yarn = gain, yarn
        if not best:
            self._settled[chain] = self._clock
        return best, best_yarn

    def _beside(self, chain: Area) -> list[str]:
        """The yarns that touch a chain, in the order in which they are named."""
        found: set[str] = set()
        for index, first, cells in chain.strips:
            row = self.grid[index]
            low, high = first - 1, first - 1 + cells
            found.update(row[max(0, low - 1):low], row[high:high + 1])
            for other in (index - 1, index + 1):
                if 0 <= other < len(self.grid):
                    found.update(self.grid[other][low:high])
        return [yarn for yarn in self._yarns if yarn in found and yarn != chain.yarn]

    def _wanted(self, strips: Sequence[Strip], yarn: str) -> int:
        return sum(
            sums[first + cells - 1] - sums[first - 1]
            for index, first, cells in strips for sums in (self._sums[index][yarn],)
        )

    def _is_other(self, strip: Strip, yarn: str) -> bool:
        """Whether some of a strip has gone over to another yarn."""
        cells = self.grid[strip.row][strip.first - 1:strip.first + strip.cells - 1]
        return cells.count(yarn) < strip.cells

    def _last_changed(self, chain: Area) -> int:
        """When a row that prices a chain was changed last."""
        low, high = chain.strips[0].row, chain.strips[-1].row
        return max(self._changed[max(0, low - 1):high + 2])

    def _give(self, chain: Area, new: str) -> None:
        self._count.change(chain.yarn, new, chain.strips)
        self._clock += 1
        for index, first, cells in chain.strips:
            self.grid[index][first - 1:first + cells - 1] = [new] * cells
            self._changed[index] = self._clock

    # Rows.

    def sweep_rows(self) -> None:
        """Draw every row anew as it costs least where a strand within reach is as good as taken up; what lowers E
        is kept, the whole row or those parts of it that do."""
        for index in range(len(self.grid)):
            last = max(self._changed[max(0, index - 1):index + 2])
            if self._swept[index] < last:
                self._swept[index] = self._clock
                self._redraw(index)

    def _redraw(self, index: int) -> None:
        drawn = self._drawn(index)
        parts = [*_differing(self.grid[index], drawn)]
        if not parts or self._take(index, parts[0][0], drawn[parts[0][0]:parts[-1][1]]):
            return
        for first, past in parts:
            self._take(index, first, drawn[first:past])

    def _take(self, index: int, first: int, drawn: list[str]) -> bool:
        """Take these stitches in the place of those of a row from ``first`` on, counted from 0, where E falls, and
        tell whether it did."""
        before = self.grid[index][first:first + len(drawn)]
        more = self._wants_of(index, first, drawn) - self._wants_of(index, first, before)
        if more + self._price * self._count.if_cells(index, first + 1, before, drawn) >= 0:
            return False
        self._count.change_cells(index, first + 1, before, drawn)
        self.grid[index][first:first + len(drawn)] = drawn
        self._clock += 1
        self._changed[index] = self._swept[index] = self._clock
        return True

    def _wants_of(self, index: int, at: int, cells: Sequence[str]) -> int:
        sums = self._sums[index]
        return sum(sums[yarn][at + past] - sums[yarn][at + first] for yarn, first, past in _runs(cells))

    def _drawn(self, index: int) -> list[str]:
        """The row that costs least if every edge of a run that lies within reach of a strand takes that one up: the
        shortest way through the row (Viterbi), a yarn a state."""
        price, wide = self._price, len(self.grid[index])
        here = {yarn for row in self.grid[max(0, index - 1):index + 2] for yarn in row}
        yarns = [number for number, yarn in enumerate(self._yarns) if yarn in here]
        names = [self._yarns[number] for number in yarns]
        if len(names) == 1:
            return names * wide
        near = [[_near(gaps, self._reach, wide) for gaps in self._count.met(index, name)] for name in names]
        # For every gap, or stitch, a value for every yarn.
        begun = [*zip(*([price * (not is_near) for is_near in right] for right, _ in near), strict=True)]
        left_at = [*zip(*([-price * is_near for is_near in left] for _, left in near), strict=True)]
        wants = [*zip(*(self._wants[index][number] for number in yarns), strict=True)]
        cost = [*map(add, begun[0], wants[0])]
        stays = [*range(len(names))]
        ways: list[list[int]] = []
        for gap in range(1, wide):
            ended = [*map(add, cost, left_at[gap])]
            least = min(ended)
            entered = [least + each for each in begun[gap]]
            if all(map(le, cost, entered)):  # nowhere is it better to begin a run
                ways.append(stays)
                cost = [*map(add, cost, wants[gap])]
                continue
            first = ended.index(least)
            ended[first] = max(ended) + 1  # a run is followed by one of another yarn
            least = min(ended)
            entered[first] = least + begun[gap][first]
            way = [first if enter < stay else state for state, enter, stay in zip(stays, entered, cost, strict=True)]
            if entered[first] < cost[first]:
                way[first] = ended.index(least)
            ways.append(way)
            cost = [*map(add, map(min, entered, cost), wants[gap])]
        ended = [*map(add, cost, left_at[wide])]
        state = ended.index(min(ended))
        drawn = [names[state]]
        for way in reversed(ways):
            state = way[state]
            drawn.append(names[state])
        return drawn[::-1]


def _runs(row: Sequence[str]) -> Iterator[tuple[str, int, int]]:
    """Yarn, first stitch and the one past the last of every run, from 0."""
    at = 0
    for yarn, group in groupby(row):
        first, at = at, at + len(list(group))
        yield yarn, first, at


def _near(gaps: Sequence[int], reach: int, wide: int) -> list[bool]:
    """For every gap of a row whether one of these is within reach of it."""
    found = [False] * (wide + 1)
    for gap in gaps:
        low, high = max(0, gap - reach), min(wide, gap + reach)
        found[low:high + 1] = [True] * (high + 1 - low)
    return found


def _differing(one: Sequence[str], other: Sequence[str]) -> Iterator[tuple[int, int]]:
    """Where two rows differ: first stitch and the one past the last of each stretch, from 0."""
    at = 0
    for is_same, group in groupby(zip(one, other, strict=True), key=lambda pair: pair[0] == pair[1]):
        first, at = at, at + len(list(group))
        if not is_same:
            yield first, at
