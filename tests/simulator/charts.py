"""What a chart asks of the hands, cell by cell, as README says it; the simulator's rows are held against it.

The rows of a plan file come as plain values from its fabric; those of a random plan are known before the plan is
written. How a texture looks is worked out here anew.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from typing import NamedTuple

from companion.knitting.cloth.fabric import Fabric
from tests.simulator.runs import Cell

Look = tuple[str, tuple[int, int], int]
"""A texture: its name, knit and purl columns of a rib, and how many columns further on its pattern begins."""


class Wanted(NamedTuple):
    """A row of the chart in working order. ``cells``: yarn and texture by column, from the right edge of the right
    side; ``level``: so many rows lie below it."""

    part: str
    number: int
    level: int
    is_round: bool
    side: str
    cells: Mapping[int, tuple[str, Look]]

    def face(self, column: int) -> str:
        """Knit or purl as the right side looks."""
        name, (knit, purl), shift = self.cells[column][1]
        match name:
            case "stockinette":
                return "knit"
            case "reverse":
                return "purl"
            case "garter":  # flat: knitted on both sides; round: a round knitted, a round purled
                is_knit = self.level % 2 == 0 if self.is_round else self.side == "RS"
            case "seed":
                is_knit = (self.level + 1 + column + shift) % 2 == 0
            case "rib":
                is_knit = (column - 1 + shift) % (knit + purl) < knit
            case _:
                raise ValueError(name)
        return "knit" if is_knit else "purl"


def wanted(fabric: Fabric) -> tuple[Wanted, ...]:
    """The rows of a plan's fabric."""
    found: list[Wanted] = []
    for row in fabric.rows:
        cells: dict[int, tuple[str, Look]] = {}
        column = 0
        for run in row.runs:
            for _ in range(run.columns):
                column += 1
                if run.stitch is not None:
                    cells[column] = run.stitch.yarn, tuple(run.stitch.texture)
        found.append(following(found, row.part, row.is_round, cells))
    return tuple(found)


def following(found: Sequence[Wanted], part: str, is_round: bool, cells: Mapping[int, tuple[str, Look]]) -> Wanted:
    """The next row in working order: it lies on the one before it, or where a part begins on the last row of the
    whole piece. Flat rows come from either side in turn, the first one and one on a round from the right side. Rows
    of the whole piece have the numbers of their height; those of a part are counted on."""
    if not found:
        return Wanted(part, 1, 0, is_round, "RS", cells)
    below = found[-1]
    if part and below.part != part:
        below = next(row for row in reversed(found) if not row.part)
    number = sum(row.part == part for row in found) + 1 if part else below.level + 2
    is_right_side = is_round or below.is_round or below.side == "WS"
    return Wanted(part, number, below.level + 1, is_round, "RS" if is_right_side else "WS", cells)


def differences(wanted: Wanted, seen: Sequence[Cell]) -> Iterator[str]:
    """Where a row that was knitted is not that of the chart. A slipped stitch shows the row below."""
    columns = [column for column, *_ in seen]
    if columns != sorted(wanted.cells):
        yield f"columns {columns} were knitted, {sorted(wanted.cells)} are drawn"
        return
    for column, yarn, face, is_slipped in seen:
        if is_slipped:
            continue
        if yarn != wanted.cells[column][0]:
            yield f"column {column} is {yarn}, drawn {wanted.cells[column][0]}"
        if face and face != wanted.face(column):
            yield f"column {column} shows a {face} stitch, drawn {wanted.face(column)}"
