"""What few stitches in another yarn would spare strands: specks, spurs, narrow bridges, slopes steeper than reach.

A stitch that is changed costs one, a strand that is spared is worth so many of them; chains of stitches and whole
rows are offered as for a picture (`bargains.py`). What is changed then lies in patches, and each is priced by itself,
since a knitter takes one and leaves another.
"""

from __future__ import annotations

from collections.abc import Collection, Iterator, Mapping

from companion.knitting.cloth.areas import Cell
from companion.knitting.cloth.fabric import cells
from companion.knitting.piece import Piece
from companion.knitting.reckoning.bargains import HELD, Bargaining
from companion.knitting.strands.counting import StrandCount, is_counted
from companion.knitting.value import Record

USUAL_WORTH = 6
"""So many stitches may change for a strand, its two ends and their weaving in (tried on charts; no source)."""


class Patch(Record):
    """Stitches of one yarn that lie together and would be knitted in another one. ``strands``: so many fewer if they
    alone are changed."""

    yarn: str
    instead: str
    cells: tuple[Cell, ...]
    strands: int

    @property
    def yarns(self) -> Mapping[Cell, str]:
        """The yarn that each of them would have."""
        return dict.fromkeys(self.cells, self.instead)


class Uncounted(ValueError):
    """The strands of this piece cannot be counted stitch by stitch."""


def patches(piece: Piece, free: Collection[Cell], worth: int = USUAL_WORTH) -> list[Patch]:
    """Those worth it each by itself, the one that spares most for a stitch first. ``free``: the stitches that may
    change; those over which another yarn is sewn never do.

    Raises:
        Uncounted: the piece is shaped or has rounds, or its strands may pass behind, rest, or share a length.
    """
    rows = piece.rows
    if not is_counted(rows, piece.carry):
        raise Uncounted
    fabric = piece.fabric
    grid = [[stitch.yarn if stitch else "" for stitch in cells(row)] for row in fabric.rows]
    names = [yarn.name for yarn in piece.yarns]
    may = set(free)
    loses = [
        [1 if Cell(index, at) in may and stitch and not stitch.sewn else HELD
         for at, stitch in enumerate(cells(row), 1)]
        for index, row in enumerate(fabric.rows)
    ]  # fmt: skip
    wants = [
        [[lost * (own != name) for own, lost in zip(row, losing, strict=True)] for name in names]
        for row, losing in zip(grid, loses, strict=True)
    ]
    is_leftward = rows[0].toward == "left"
    bargaining = Bargaining(grid, names, wants, worth, piece.carry.reach, is_leftward=is_leftward)
    bargaining.settle()
    count = StrandCount(grid, piece.carry.reach, is_leftward=is_leftward)
    found = []
    for own, new, together in _together(grid, bargaining.grid):
        changed = [list(row) for row in grid]
        for cell in together:
            changed[cell.row][cell.column - 1] = new
        spared = count.strands - StrandCount(changed, piece.carry.reach, is_leftward=is_leftward).strands
        if spared * worth > len(together):
            found.append(Patch(own, new, tuple(together), spared))
    return sorted(found, key=lambda patch: (len(patch.cells) / patch.strands, patch.cells[0]))


def strands_with(piece: Piece, taken: Collection[Patch]) -> int:
    """How many strands the piece takes with all of these."""
    grid = [[stitch.yarn if stitch else "" for stitch in cells(row)] for row in piece.fabric.rows]
    for patch in taken:
        for cell in patch.cells:
            grid[cell.row][cell.column - 1] = patch.instead
    return StrandCount(grid, piece.carry.reach, is_leftward=piece.rows[0].toward == "left").strands


def _together(old: list[list[str]], new: list[list[str]]) -> Iterator[tuple[str, str, list[Cell]]]:
    """What differs, in patches of stitches that touch and change from the same yarn into the same one: both yarns,
    and the stitches in their order."""
    left = {
        Cell(index, at): (was, now)
        for index, (before, after) in enumerate(zip(old, new, strict=True))
        for at, (was, now) in enumerate(zip(before, after, strict=True), 1) if was != now
    }
    while left:
        first, kind = next(iter(left.items()))
        found, waiting = [], [first]
        del left[first]
        while waiting:
            cell = waiting.pop()
            found.append(cell)
            for beside in (
                Cell(cell.row + 1, cell.column), Cell(cell.row - 1, cell.column),
                Cell(cell.row, cell.column + 1), Cell(cell.row, cell.column - 1),
            ):
                if left.get(beside) == kind:
                    del left[beside]
                    waiting.append(beside)
        yield *kind, sorted(found)
