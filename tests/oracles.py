"""A second opinion on the strand problem, written from its statement alone and owing nothing to the package.

A piece is a list of ``PlainRow`` in working order. Segments, legal moves, counts and costs are worked out
here one cell at a time; the fewest strands come from networkx, the least carry from scipy. Segments are known
by ``(row, index)``: both from 0, the index in working order.
"""

from __future__ import annotations

from collections.abc import Collection, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from itertools import pairwise
from typing import Literal

import networkx as nx
import numpy as np
from scipy.optimize import linear_sum_assignment

Place = tuple[int, int]
MovesBetween = dict[tuple[Place, Place], int]

MOST_FOR_BRUTE_FORCE = 10


@dataclass(frozen=True)
class PlainRow:
    """One row: ``cells[c - 1]`` is the yarn's name in column ``c``, column 1 at the right edge seen from the
    right side; None is "no stitch". ``toward`` is where the hands are going on the chart. ``after`` holds the
    indices of the rows on whose stitches it is worked; None means the row before it in the list, if any.
    ``leaves_middle``: the first row of a part, the stitches between it and the other part staying on a holder."""

    cells: tuple[str | None, ...]
    toward: Literal["left", "right"]
    round: bool = False
    after: tuple[int, ...] | None = None
    leaves_middle: bool = False


@dataclass(frozen=True)
class PlainSegment:
    """A maximal run of one yarn in working order. ``columns`` in working order; ``entry`` and ``exit`` are
    gaps, gap j between columns j and j + 1."""

    row: int
    index: int
    yarn: str
    columns: tuple[int, ...]
    entry: int
    exit: int

    @property
    def place(self) -> Place:
        return self.row, self.index


def from_drawing(lines: Sequence[str], *, is_round: bool = False, no_stitch: str = ".") -> list[PlainRow]:
    """Rows of a chart drawn as the fabric looks: top line last row, left character last column. Row 1 is a
    right-side row; flat rows then alternate, rounds are all right-side rows."""
    return [
        PlainRow(
            cells=tuple(None if symbol == no_stitch else symbol for symbol in reversed(line)),
            toward="left" if is_round or number % 2 == 0 else "right",
            round=is_round,
        )
        for number, line in enumerate(reversed(lines))
    ]


def segments(rows: Sequence[PlainRow]) -> list[PlainSegment]:
    """All segments in working order."""
    return [segment for row in range(len(rows)) for segment in _segments_of(rows, row)]


def _segments_of(rows: Sequence[PlainRow], row: int) -> list[PlainSegment]:
    order = range(1, len(rows[row].cells) + 1)
    runs: list[tuple[str, list[int]]] = []
    for column in order if rows[row].toward == "left" else reversed(order):
        yarn = rows[row].cells[column - 1]
        if yarn is None:
            continue
        if not runs or runs[-1][0] != yarn:
            runs.append((yarn, []))
        runs[-1][1].append(column)
    found = []
    for index, (yarn, columns) in enumerate(runs):
        first, last = columns[0], columns[-1]
        entry, leave = (first - 1, last) if rows[row].toward == "left" else (first, last - 1)
        found.append(PlainSegment(row, index, yarn, tuple(columns), entry, leave))
    return found


def legal_moves(rows: Sequence[PlainRow], reach: int, behind: int = 0, rest: int = 0) -> MovesBetween:
    """Every legal move from a segment to a later one of the same yarn, with its carry in stitches.

    Next row: carry at most ``reach``, unless the strand hangs over stitches that are bound off on the way or wait
    for another part. Behind: later in the same row, carry at most ``behind`` and not across
    the start of a round, so the short way round is not open to it. Rest: 1 to ``rest`` rows lie between,
    carry at most ``reach``. ``behind`` 0 and ``rest`` 0 turn those two off."""
    every = [_segments_of(rows, row) for row in range(len(rows))]
    moves: MovesBetween = {}
    for row, here in enumerate(every):
        for way in ways_down(rows, row, rest + 1):
            # Where the work is never turned it goes on round the tube, and flat rows are turned after each.
            may_go_either_way = len({rows[number].toward for number in way}) == 1
            for u in every[way[-1]]:
                for v in here:
                    cost = carry(there_already(rows, row), u.exit, v.entry, may_go_either_way)
                    if u.yarn == v.yarn and cost <= reach and may_go_on(rows, way, u.exit, v.index):
                        key = u.place, v.place
                        moves[key] = min(cost, moves.get(key, cost))
        for u in here if behind else ():
            for v in here[u.index + 1 :]:
                cost = carry(rows[row], u.exit, v.entry, may_go_either_way=False)
                if u.yarn == v.yarn and cost <= behind:
                    moves[u.place, v.place] = cost
    return moves


def there_already(rows: Sequence[PlainRow], row: int) -> PlainRow:
    """The row without the stitches that it has beyond the row below, or between two parts below it: they are made in
    it, and no strand passes what is not there yet. In rounds nothing is made; a flat row above one makes stitches for
    a seam."""
    spans = [_columns(rows[low]) for low in _below(rows, row)]
    if not any(spans) or rows[row].round:
        return rows[row]
    old = {c for span in spans if span for c in range(min(span), max(span) + 1)}
    cells = (cell if c in old else None for c, cell in enumerate(rows[row].cells, 1))
    return replace(rows[row], cells=tuple(cells))


MOST_DECREASED = 2


def may_go_on(rows: Sequence[PlainRow], way: Sequence[int], gap: int, index: int) -> bool:
    """Whether a strand that hangs at a gap of the lowest row of a way hangs on the stitches of every row up to the
    highest, in whose segment ``index`` it is to go on. Of the stitches of the row below, those before a row's first
    one are bound off when they are more than can be decreased: over them no strand may hang, but the one at the edge,
    which binds them off and works the first segment. What hangs outside all stitches hangs at the edge. Stitches
    between two parts belong to the part whose first row begins there, unless they stay on a holder."""
    hangs_at = gap
    for upper, lower in pairwise(way):
        own, below = _columns(rows[upper]), _columns(rows[lower])
        if not own or not below:
            continue
        gap = min(max(hangs_at, min(below) - 1), max(below))
        beside = [_columns(rows[r]) for r in range(len(rows)) if r != upper and _below(rows, r) == (lower,)]
        beside = [columns for columns in beside if columns]
        if len(beside) == 1 and (max(own) < min(beside[0]) or max(beside[0]) < min(own)):
            [other] = beside
            begins_inside = (min(own) < min(other)) == (rows[upper].toward == "right")
            begins_inside = begins_inside and not rows[upper].leaves_middle
            if min(own) < min(other):
                below = list(range(min(below), (min(other) - 1 if begins_inside else max(own)) + 1))
            else:
                below = list(range((max(other) + 1 if begins_inside else min(own)), max(below) + 1))
            if not below or not min(below) - 1 <= gap <= max(below):
                return False
        if rows[upper].round or rows[lower].round:
            continue
        is_left = rows[upper].toward == "left"
        lost = min(own) - min(below) if is_left else max(below) - max(own)
        if lost <= MOST_DECREASED:
            continue
        edge = min(below) - 1 if is_left else max(below)
        if upper == way[0] and index == 0:
            if gap != edge:
                return False
        elif (gap < min(own) - 1) if is_left else (gap > max(own)):
            return False
    return True


def _columns(row: PlainRow) -> list[int]:
    return [column for column, cell in enumerate(row.cells, 1) if cell is not None]


def ways_down(rows: Sequence[PlainRow], row: int, steps: int) -> Iterator[list[int]]:
    """Every way from a row down along ``after``, of 1 to ``steps`` steps; each begins with the row itself. None goes
    down past a row that joins two parts and out of a part again where they begin."""
    unfinished = [[row]]
    while unfinished:
        way = unfinished.pop()
        if len(way) > 1:
            yield way
        joins = any(len(_below(rows, above)) > 1 for above in way)
        begins = sum(_below(rows, one) == _below(rows, way[-1]) for one in range(len(rows))) > 1
        if len(way) <= steps and not (joins and begins):
            unfinished += [[*way, below] for below in _below(rows, way[-1])]


def _below(rows: Sequence[PlainRow], row: int) -> tuple[int, ...]:
    after = rows[row].after
    if after is not None:
        return after
    return (row - 1,) if row else ()


def carry(row: PlainRow, leave: int, entry: int, may_go_either_way: bool) -> int:
    low, high = sorted((leave, entry))
    between = sum(cell is not None for cell in row.cells[low:high])
    stitches = sum(cell is not None for cell in row.cells)
    return min(between, stitches - between) if may_go_either_way else between


def fewest_strands(rows: Sequence[PlainRow], reach: int, behind: int = 0, rest: int = 0) -> int:
    """Segments minus a largest matching of exits to entries (Hopcroft and Karp, by networkx)."""
    return len(segments(rows)) - most_moves(legal_moves(rows, reach, behind, rest))


def most_moves(moves: Collection[tuple[Place, Place]]) -> int:
    """The size of a largest matching of exits to entries."""
    graph = nx.Graph((("exit", u), ("entry", v)) for u, v in moves)
    exits = {("exit", u) for u, _ in moves}
    return len(nx.bipartite.hopcroft_karp_matching(graph, exits)) // 2


def least_carry(rows: Sequence[PlainRow], reach: int, behind: int = 0, rest: int = 0) -> int:
    """The least total carry of any plan with the fewest strands."""
    return least_cost(legal_moves(rows, reach, behind, rest), {s.place: s.yarn for s in segments(rows)})


def least_cost(moves: Mapping[tuple[Place, Place], int], yarn_of: Mapping[Place, str]) -> int:
    """The least total cost of a largest matching, yarn by yarn as a dense assignment (scipy): a place left
    unmatched costs more than all moves together could."""
    total = 0
    for yarn in sorted(set(yarn_of.values())):
        number = {place: n for n, place in enumerate(p for p, name in yarn_of.items() if name == yarn)}
        own = {(number[u], number[v]): cost for (u, v), cost in moves.items() if u in number}
        big = len(number) * (max(own.values(), default=0) + 1) + 1
        table = np.full((len(number), len(number)), big, dtype=np.int64)
        for (u, v), cost in own.items():
            table[u, v] = cost
        exits, entries = linear_sum_assignment(table)
        chosen = table[exits, entries]
        total += int(chosen[chosen < big].sum())
    return total


def brute_force(rows: Sequence[PlainRow], reach: int, behind: int = 0, rest: int = 0) -> tuple[int, int]:
    """(fewest strands, least carry among those) by trying every plan there is; for up to 10 segments."""
    places = [segment.place for segment in segments(rows)]
    if len(places) > MOST_FOR_BRUTE_FORCE:
        raise ValueError(f"{len(places)} segments are too many to try every plan")
    moves = legal_moves(rows, reach, behind, rest)
    return min(plans(places, moves, frozenset(places)))


def plans(
    entries: Sequence[Place], moves: Mapping[tuple[Place, Place], int], free: frozenset[Place]
) -> Iterator[tuple[int, int]]:
    """(strands, carry) of every plan: each entry in turn is joined, or reached from an exit not yet used."""
    if not entries:
        yield 0, 0
        return
    v, later = entries[0], entries[1:]
    for strands, cost in plans(later, moves, free):
        yield strands + 1, cost
    for u in free:
        if (u, v) in moves:
            for strands, cost in plans(later, moves, free - {u}):
                yield strands, cost + moves[u, v]


def closed_form(rows: Sequence[PlainRow]) -> int:
    """The fewest strands when every move to the next row is in reach and no other is allowed, for rows each
    worked on the one before: a yarn needs as many new strands in a row as it has more segments there than in
    the row before."""
    counts: list[dict[str, int]] = []
    for row in range(len(rows)):
        names = [segment.yarn for segment in _segments_of(rows, row)]
        counts.append({name: names.count(name) for name in names})
    return sum(
        max(0, count - before.get(yarn, 0))
        for before, here in zip([{}, *counts], counts, strict=False)
        for yarn, count in here.items()
    )


def check_proof(
    moves: Mapping[tuple[Place, Place], int],
    made_moves: Iterable[tuple[Place, Place]],
    exits: Collection[Place],
    entries: Collection[Place],
    exit_prices: Mapping[Place, int],
    entry_prices: Mapping[Place, int],
    dear: int | None = None,
) -> None:
    """Both halves of a proof from scratch: fewest strands (``check_cover``), least carry (``check_prices``).

    Raises:
        AssertionError: the proof does not hold; the text names the place where it fails.
    """
    made = list(made_moves)
    check_cover(moves, made, exits, entries)
    check_prices(moves, made, exit_prices, entry_prices, dear)


def check_cover(
    moves: Mapping[tuple[Place, Place], int],
    made: Collection[tuple[Place, Place]],
    exits: Collection[Place],
    entries: Collection[Place],
) -> None:
    """As many exits and entries as moves made touch every legal move: no plan can make more moves (König)."""
    _check_matching(moves, made)
    assert len(set(exits)) == len(exits), "an exit is named twice"
    assert len(set(entries)) == len(entries), "an entry is named twice"
    for u, v in moves:
        assert u in exits or v in entries, f"the legal move {u} to {v} is not touched"
    size = len(exits) + len(entries)
    assert size == len(made), f"{size} exits and entries for {len(made)} moves made"


def check_prices(
    moves: Mapping[tuple[Place, Place], int],
    made: Collection[tuple[Place, Place]],
    exit_prices: Mapping[Place, int],
    entry_prices: Mapping[Place, int],
    dear: int | None = None,
) -> None:
    """Prices that no legal move undercuts and every move made meets exactly: no plan with as many moves
    carries less (duality of linear programmes). ``dear`` is what an entry without a move costs; not given, it
    is the highest entry price, since the proof holds for any one number there. Every segment needs both its
    prices."""
    _check_matching(moves, made)
    assert set(exit_prices) == set(entry_prices), "a segment lacks one of its prices"
    for (u, v), cost in moves.items():
        price = exit_prices[u] + entry_prices[v]
        assert price <= cost, f"the legal move {u} to {v} costs {cost}, less than its prices {price}"
    for u, v in made:
        price = exit_prices[u] + entry_prices[v]
        assert price == moves[u, v], f"the move made {u} to {v} costs {moves[u, v]}, its prices are {price}"
    left = {u for u, _ in made}
    reached = {v for _, v in made}
    top = max(entry_prices.values(), default=0) if dear is None else dear
    for place, price in exit_prices.items():
        assert price <= 0, f"the exit price {price} of {place} is above 0"
        assert price == 0 or place in left, f"no move leaves {place}, yet its exit price is {price}"
    for place, price in entry_prices.items():
        assert price <= top, f"the entry price {price} of {place} is above {top}"
        assert price == top or place in reached, (
            f"no move reaches {place}, yet its entry price is {price}, not {top}"
        )


def _check_matching(moves: Mapping[tuple[Place, Place], int], made: Collection[tuple[Place, Place]]) -> None:
    for u, v in made:
        assert (u, v) in moves, f"the move made {u} to {v} is not legal"
    assert len({u for u, _ in made}) == len(made), "two moves made leave the same segment"
    assert len({v for _, v in made}) == len(made), "two moves made reach the same segment"
