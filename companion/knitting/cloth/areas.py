"""Areas of one colour: where they lie, and which are small enough to be sewn on afterwards.

Duplicate stitch covers finished stitches one by one. It doubles the fabric, so it is for small areas, thin lines and
stray stitches ("How to work duplicate stitch"; it gives no figure). What is small enough: common practice, no source.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from dataclasses import replace
from itertools import islice
from typing import TypeVar

from companion.knitting.cloth.fabric import Fabric, FabricRow, Run, Stitch, cells, merged
from companion.knitting.cloth.tubes import as_drawn, widened
from companion.knitting.latest import latest
from companion.knitting.value import Record


class Cell(Record):
    """One stitch of the fabric: its row from the cast-on up, from 0, and its column from the right edge, from 1."""

    row: int
    column: int


class Strip(Record):
    """Cells side by side: their row, from 0, the first column, and how many there are."""

    row: int
    first: int
    cells: int


class Area(Record):
    """Cells of one yarn that touch side by side or one above the other, row by row from the bottom up."""

    yarn: str
    strips: tuple[Strip, ...]

    @property
    def first(self) -> Cell:
        """The cell at which it is begun: lowest row, nearest the right edge."""
        return Cell(*self.strips[0][:2])

    @property
    def stitches(self) -> int:
        """How many cells it has."""
        return sum(strip.cells for strip in self.strips)

    @property
    def cells(self) -> Iterator[Cell]:
        """Every cell in the order in which it is sewn: right to left, bottom to top."""
        for row, first, count in self.strips:
            yield from (Cell(row, column) for column in range(first, first + count))


def areas(fabric: Fabric, yarn_of: Callable[[Stitch], str] = lambda stitch: stitch.yarn) -> tuple[Area, ...]:
    """Every area, from the bottom up and from the right. ``yarn_of``: what makes cells alike, "" = of no area."""
    strips: list[tuple[Strip, str]] = []
    group: list[int] = []
    in_row: dict[int, list[int]] = {}
    for index, row in enumerate(fabric.rows):
        here = []
        for first, count, yarn in _alike(row.runs, yarn_of):
            here.append(len(strips))
            group.append(len(strips))
            strips.append((Strip(index, first, count), yarn))
        below = sorted((n for low in fabric.below(index) for n in in_row[low]), key=lambda n: strips[n][0].first)
        _link(strips, group, below, here)
        in_row[index] = here
    found: dict[int, list[Strip]] = {}
    for number, (strip, _) in enumerate(strips):
        found.setdefault(_root(group, number), []).append(strip)
    return tuple(Area(strips[root][1], tuple(parts)) for root, parts in found.items())


@latest
def sewing(fabric: Fabric) -> tuple[Area, ...]:
    """The areas that are sewn on afterwards, each in the yarn it is sewn with."""
    return areas(fabric, lambda stitch: stitch.sewn)


def stitch_number(fabric: Fabric, cell: Cell) -> int:
    """Which stitch of its row a cell is, from 1 at the right edge seen from the right side."""
    return sum(stitch is not None for stitch in islice(cells(fabric.rows[cell.row]), cell.column))


def _alike(runs: Iterable[Run], yarn_of: Callable[[Stitch], str]) -> Iterator[tuple[int, int, str]]:
    """First column, count and yarn of the strips of a row."""
    column, first, last = 1, 1, ""
    for run in runs:
        yarn = yarn_of(run.stitch) if run.stitch is not None else ""
        if yarn != last:
            if last:
                yield first, column - first, last
            first, last = column, yarn
        column += run.columns
    if last:
        yield first, column - first, last


def _link(strips: list[tuple[Strip, str]], group: list[int], below: list[int], here: list[int]) -> None:
    """Make one area of strips that touch the row below."""
    i = 0
    for number in here:
        (_, first, count), yarn = strips[number]
        while i < len(below) and sum(strips[below[i]][0][1:]) <= first:
            i += 1
        j = i
        while j < len(below) and strips[below[j]][0].first < first + count:
            if strips[below[j]][1] == yarn:
                one, other = sorted((_root(group, below[j]), _root(group, number)))
                group[other] = one
            j += 1


def _root(group: list[int], number: int) -> int:
    while group[number] != number:
        group[number] = group[group[number]]
        number = group[number]
    return number


def is_small(area: Area, most: int, fabric: Fabric) -> bool:
    """Whether an area of a fabric has a shape to be sewn on: one stitch wide everywhere, or at most so many stitches
    and nowhere three by three."""
    if not _is_two_wide(area, fabric):
        return True
    if area.stitches > most:
        return False
    cells = {(fabric.level(row), column) for row, column in area.cells}
    return not any(all((row + i, column + j) in cells for i in range(3) for j in range(3)) for row, column in cells)


def _is_two_wide(area: Area, fabric: Fabric) -> bool:
    """Whether some four of its cells make a square."""
    by_row: dict[int, list[Strip]] = {}
    for strip in area.strips:
        by_row.setdefault(strip.row, []).append(strip)
    return any(
        min(strip.first + strip.cells, low.first + low.cells) - max(strip.first, low.first) >= 2
        for strip in area.strips for below in fabric.below(strip.row) for low in by_row.get(below, ())
    )


def in_other_yarns(fabric: Fabric, yarns: Mapping[Cell, str]) -> Fabric:
    """The fabric with these stitches knitted in the yarns named with them."""
    return _changed(fabric, yarns, lambda stitch, yarn: stitch._replace(yarn=yarn))


def with_stitches(fabric: Fabric, stitches: Mapping[Cell, Stitch]) -> Fabric:
    """The fabric with these stitches in place of its own."""
    return _changed(fabric, stitches, lambda _, new: new)


New = TypeVar("New")


def _changed(fabric: Fabric, news: Mapping[Cell, New], made: Callable[[Stitch, New], Stitch]) -> Fabric:
    """The fabric with other stitches in some cells, ``made`` of those there and something new; where no stitch is,
    none comes to be."""
    by_row: dict[int, dict[int, New]] = {}
    for (row, column), new in news.items():
        by_row.setdefault(row, {})[column] = new
    rows = list(fabric.rows)
    for index, own in by_row.items():
        rows[index] = rows[index]._replace(runs=merged(_runs_changed(rows[index].runs, own, made)))
    return fabric.with_rows(tuple(rows))


def _runs_changed(
    runs: Iterable[Run], news: Mapping[int, New], made: Callable[[Stitch, New], Stitch]
) -> Iterator[Run]:
    """The runs, cut only where stitches change."""
    at, columns = 1, sorted(news, reverse=True)
    for many, stitch in runs:
        past = at + many
        while columns and columns[-1] < past:
            column = columns.pop()
            if stitch and column >= at:
                yield Run(column - at, stitch)
                yield Run(1, made(stitch, news[column]))
                at = column + 1
        yield Run(past - at, stitch)
        at = past


def sewn_on(fabric: Fabric, sewn: Iterable[tuple[Area, str]]) -> Fabric:
    """The fabric with these areas sewn on, each over the yarn named with it."""
    changes: dict[int, list[tuple[Strip, str, str]]] = {}
    for area, over in sewn:
        for strip in area.strips:
            changes.setdefault(strip.row, []).append((strip, over, area.yarn))
    rows = list(fabric.rows)
    for index, strips in changes.items():
        rows[index] = _row(rows[index], sorted(strips))
    return replace(fabric, rows=tuple(rows))


def _row(row: FabricRow, strips: Sequence[tuple[Strip, str, str]]) -> FabricRow:
    """The row with these strips sewn on; its stitches for a tube's seam follow what column 1 is knitted in then."""
    drawn = as_drawn(row)
    sewn = drawn._replace(runs=merged(_covered(drawn.runs, strips)))
    return widened(sewn, row.seam_stitches) if row.seam_stitches else sewn


def _covered(runs: Iterable[Run], strips: Sequence[tuple[Strip, str, str]]) -> Iterator[Run]:
    """The runs of a row, those under the strips in the yarn that is named with it."""
    cut = sorted({at for (_, first, count), *_ in strips for at in (first, first + count)})
    inside = {first + i: (over, yarn) for (_, first, count), over, yarn in strips for i in range(count)}
    column = 1
    for run in runs:
        ends = column + run.columns
        for stop in [at for at in cut if column < at < ends] + [ends]:
            under = inside.get(column)
            stitch = run.stitch
            if under and stitch is not None:
                stitch = stitch._replace(yarn=under[0], sewn=under[1])
            yield Run(stop - column, stitch)
            column = stop
