"""Two fabrics beside each other: where they differ, and one with some stitches of its own. Pure."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace

from companion.knitting.cloth.areas import Cell
from companion.knitting.cloth.fabric import Fabric, FabricRow, Run, Stitch, cells, merged


def with_stitches(fabric: Fabric, stitches: Mapping[Cell, Stitch]) -> Fabric:
    """The fabric with these stitches in place of its own."""
    by_row: dict[int, dict[int, Stitch]] = {}
    for cell, stitch in stitches.items():
        by_row.setdefault(cell.row, {})[cell.column] = stitch
    rows = list(fabric.rows)
    for index, new in by_row.items():
        made = (Run(1, new.get(column, stitch)) for column, stitch in enumerate(cells(rows[index]), 1))
        rows[index] = rows[index]._replace(runs=merged(made))
    return replace(fabric, rows=tuple(rows))


def is_alike(one: Fabric, other: Fabric) -> bool:
    """Whether both have the same rows and the same stitches, whatever their yarns."""
    return len(one.rows) == len(other.rows) and all(
        old is new or _outline(old) == _outline(new) for old, new in zip(one.rows, other.rows, strict=True)
    )


def _outline(row: FabricRow) -> tuple[object, ...]:
    return row.columns, row.stretches, row.is_round, row.part, row.seam_stitches


def differing_cells(before: Fabric, after: Fabric) -> frozenset[Cell] | None:
    """The stitches that are not the same in both; None where the fabrics are not alike."""
    if not is_alike(before, after):
        return None
    return frozenset(
        Cell(index, column)
        for index, (old, new) in enumerate(zip(before.rows, after.rows, strict=True)) if old is not new and old != new
        for column, (was, now) in enumerate(zip(cells(old), cells(new), strict=True), 1) if was != now
    )


def yarns_across(row: FabricRow) -> list[tuple[str, str] | None]:
    """What every cell of a row is knitted and sewn in; None where there is no stitch."""
    return [stitch and (stitch.yarn, stitch.sewn) for stitch in cells(row)]
