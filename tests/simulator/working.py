"""A whole piece worked on the needles as it is told, row by row, to the letter; what comes out is the fabric."""

from __future__ import annotations

from collections.abc import Mapping
from types import MappingProxyType
from typing import NamedTuple

from tests.simulator.needles import Needles
from tests.simulator.row_ends import FOR_GOOD, RowEnds
from tests.simulator.runs import Cell, Decreased
from tests.simulator.stitches import CannotBeDone, Made
from tests.simulator.told import Written


class Left(NamedTuple):
    """Where a strand hangs after a row: the run it worked last, and the gap, by columns, where that left it."""

    used: Made
    gap: int


class Worked(NamedTuple):
    """A row as it lies in the fabric, from right to left as the right side looks, and what hangs once it is done.
    ``needles``: stitches on the needle the work comes from and on the other one as each run begins."""

    kind: str
    part: str
    number: int
    side: str
    cells: tuple[Cell, ...]
    hanging: dict[int, Left]
    needles: tuple[tuple[int, int], ...]
    decreases: tuple[Decreased, ...]


class Knitted(NamedTuple):
    """The whole piece, and the needles that it was worked on."""

    rows: list[Worked]
    needles: Needles


def knit(
    told: Written, *, is_mirrored: bool, column: int = 1, known: Mapping[Made, Made] = MappingProxyType({})
) -> Knitted:
    """Work a whole piece as it is told. ``column``: of row 1's rightmost stitch; ``known``: as on the needles."""
    needles = Needles(is_mirrored=is_mirrored, column=column, known=known)
    worker = RowEnds(needles, told.is_full)
    rows: list[Worked] = []
    if told.cast_on:
        worker.cast_on(told.cast_on)
    for row, following in zip(told.rows, [*told.rows[1:], None], strict=True):
        try:
            cells = worker.row(row)
            worker.after(row, following)
        except CannotBeDone as fault:
            raise CannotBeDone(f"{row.kind} {row.number} {row.part}: {fault}", needles.notes) from None
        hanging = {s.number: Left(s.used, s.gap) for s in needles.strands if not s.is_cut}
        seen = (tuple(worker.counts), tuple(worker.decreased(len(cells), row.kind == "Round")))
        rows.append(Worked(row.kind, row.part, row.number, row.side, cells, hanging, *seen))
    needles.must(not needles.stitches, f"{len(needles.stitches)} stitches are left on the needles")
    left = [strand.yarn for strand in needles.strands if not strand.is_cut]
    needles.must(not left, f"never cut: {', '.join(left)}")
    needles.must(set(needles.holder) <= {FOR_GOOD}, "a part is left on its holder")
    loose = sum(not tail.is_laid_in for tail in needles.tails)
    needles.must(told.ends in (None, loose), f"{told.ends} ends are told to be woven in, {loose} are there")
    return Knitted(rows, needles)
