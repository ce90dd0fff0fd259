"""Which stitches a stroke takes: those of a line, a box, an area. Pure."""

from __future__ import annotations

from companion.knitting.cloth.areas import Cell
from companion.knitting.cloth.fabric import Fabric, cells


def line(start: Cell, end: Cell) -> tuple[Cell, ...]:
    """The stitches from one to another, both among them, each touching the one before, at a corner at least: one a
    row or one a column, whichever are more (Bresenham, Algorithm for computer control of a digital plotter, IBM
    Systems Journal 4, 1965)."""
    up, across = end.row - start.row, end.column - start.column
    many = max(abs(up), abs(across))
    return tuple(
        Cell(start.row + _part(up, at, many), start.column + _part(across, at, many)) for at in range(many + 1)
    )


def _part(whole: int, at: int, many: int) -> int:
    """So much of a way when ``at`` of ``many`` steps are made, to the nearest whole; halves away from the start."""
    if not many:
        return 0
    size = (2 * abs(whole) * at + many) // (2 * many)
    return size if whole > 0 else -size


def box(one: Cell, other: Cell, *, is_full: bool = False) -> tuple[Cell, ...]:
    """The stitches of the rectangle between two corners, row by row from the bottom and from the right: its outline,
    or all of them."""
    rows, columns = sorted((one.row, other.row)), sorted((one.column, other.column))
    return tuple(
        Cell(row, column)
        for row in range(rows[0], rows[1] + 1)
        for column in range(columns[0], columns[1] + 1)
        if is_full or row in rows or column in columns
    )


def fill(fabric: Fabric, start: Cell) -> tuple[Cell, ...]:
    """The stitches in the yarn of one of them that hang together with it, side by side or one above the other; none
    where there is no stitch."""
    looks = [[stitch and (stitch.yarn, stitch.sewn) for stitch in cells(row)] for row in fabric.rows]

    def look(row: int, column: int) -> tuple[str, str] | None:
        return looks[row][column - 1] if 0 <= row < len(looks) and 0 < column <= len(looks[row]) else None

    wanted = look(*start)
    found, waiting = {start} if wanted else set(), [start] if wanted else []
    while waiting:
        for beside in map(Cell._make, fabric.around(*waiting.pop())):
            if beside not in found and look(*beside) == wanted:
                found.add(beside)
                waiting.append(beside)
    return tuple(sorted(found))
