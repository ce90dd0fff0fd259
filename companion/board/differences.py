"""Two fabrics beside each other: whether they are alike, and where they differ. Pure."""

from __future__ import annotations

from companion.knitting.cloth.areas import Cell
from companion.knitting.cloth.fabric import Fabric, FabricRow, cells


def has_same_rows(one: Fabric, other: Fabric) -> bool:
    """Whether both have the same rows and the same stitches, whatever their yarns."""
    return len(one.rows) == len(other.rows) and all(
        old is new or _outline(old) == _outline(new) for old, new in zip(one.rows, other.rows, strict=True)
    )


def _outline(row: FabricRow) -> tuple[object, ...]:
    return row.columns, row.stretches, row.is_round, row.part, row.seam_stitches


def differing_cells(before: Fabric, after: Fabric) -> frozenset[Cell] | None:
    """The stitches that are not the same in both; None where the fabrics are not alike."""
    if not has_same_rows(before, after):
        return None
    return frozenset(
        Cell(index, column)
        for index, (old, new) in enumerate(zip(before.rows, after.rows, strict=True)) if old is not new and old != new
        for column, (was, now) in enumerate(zip(cells(old), cells(new), strict=True), 1) if was != now
    )


def yarns_across(row: FabricRow) -> list[tuple[str, str] | None]:
    """What every cell of a row is knitted and sewn in; None where there is no stitch."""
    return [stitch and (stitch.yarn, stitch.sewn) for stitch in cells(row)]
