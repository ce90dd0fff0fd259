"""The small areas that a plan names to be sewn on, found in the fabric that it draws."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import islice

from companion.knitting.cloth.areas import Area, areas
from companion.knitting.cloth.fabric import Fabric, Stitch, cells
from companion.plan.schema.plans import SewnShape
from companion.problems import quoted


def named(shapes: Sequence[SewnShape], fabric: Fabric) -> Iterator[Area | str]:
    """For each of them the area that it names, or what is amiss with it."""
    if not shapes:
        return
    by_row: dict[int, list[tuple[int, int, Area]]] = {}
    for area in areas(fabric, lambda stitch: "" if stitch.sewn else stitch.yarn):
        for row, first, count in area.strips:
            by_row.setdefault(fabric.level(row), []).append((first, first + count, area))
    taken: set[Area] = set()
    for shape in shapes:
        told = _amiss(shape, fabric)
        if told:
            yield told
            continue
        strips = by_row.get(shape.row - 1, ())
        found = next((area for first, past, area in strips if first <= shape.stitch < past), None)
        if found is None or found in taken:
            yield "This area is sewn on already."
        else:
            taken.add(found)
            yield found


def _amiss(shape: SewnShape, fabric: Fabric) -> str:
    """What does not agree with the fabric."""
    if shape.row > len(fabric.levels):
        return f"The piece has {len(fabric.levels):,} rows, and no row {shape.row:,}."
    row = fabric.row_at(shape.row - 1, shape.stitch)
    there = () if row is None else cells(fabric.rows[row])
    stitch: Stitch | None = next(islice(there, shape.stitch - 1, None), None)
    where = f"stitch {shape.stitch:,} of row {shape.row:,}"
    if stitch is None:
        return f"There is no {where}."
    if stitch.yarn != shape.yarn:
        return f"{where.capitalize()} is in {quoted(stitch.yarn)}, not in {quoted(shape.yarn)}."
    if stitch.texture.kind != "stockinette":
        return f"{where.capitalize()} is not in stockinette, and duplicate stitch follows no other."
    return ""
