"""What few stitches in another yarn would spare strands: specks, spurs, narrow bridges, slopes steeper than reach.

A stitch that is changed costs one, a strand that is spared is worth so many of them; chains of stitches and whole
rows are offered as for a picture (`bargains.py`). What is changed then lies in patches, and each is priced by itself,
since a knitter takes one and leaves another.
"""

from __future__ import annotations

from collections.abc import Collection, Iterator, Mapping
from dataclasses import replace

from companion.knitting.cloth.areas import Cell, in_other_yarns
from companion.knitting.cloth.fabric import cells
from companion.knitting.howfar import HowFar, untold
from companion.knitting.piece import Piece
from companion.knitting.reckoning.bargains import HELD, Bargaining
from companion.knitting.strands.counting import StrandCount, is_counted
from companion.knitting.strands.plan import plan_strands
from companion.knitting.value import Record

USUAL_WORTH = 6
"""So many stitches may change for a strand, its two ends and their weaving in (tried on charts; no source)."""


MOST_SOLVED = 60
"""So many patches are priced, the smallest first, where each takes a solution of its own: a tenth of a second on a
large chart."""


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


def patches(piece: Piece, free: Collection[Cell], worth: int = USUAL_WORTH, done: HowFar = untold) -> list[Patch]:
    """Those worth it each by itself, the one that spares most for a stitch first. ``free``: the stitches that may
    change; those over which another yarn is sewn never do. They are looked for as if strands neither passed behind
    nor rested and every row had all columns, and priced as they are.

    Raises:
        TooMuchToWeigh: the piece's limits allow more than can be weighed.
    """
    fabric = piece.fabric
    drawn = [list(cells(row)) for row in fabric.rows]
    drawn = [[*row, *[None] * (fabric.columns - len(row))] for row in drawn]
    grid = [[stitch.yarn if stitch else "" for stitch in row] for row in drawn]
    names = [*(yarn.name for yarn in piece.yarns), ""]
    may = set(free)
    loses = [
        [1 if Cell(index, at) in may and stitch and not stitch.sewn else HELD for at, stitch in enumerate(row, 1)]
        for index, row in enumerate(drawn)
    ]
    wants = [
        [[lost * (own != name) for own, lost in zip(row, losing, strict=True)] for name in names[:-1]]
        + [[HELD * bool(own) for own in row]]
        for row, losing in zip(grid, loses, strict=True)
    ]
    is_leftward = piece.rows[0].toward == "left"
    bargaining = Bargaining(grid, names, wants, worth, piece.carry.reach, is_leftward=is_leftward)
    bargaining.settle()
    looked_at = sorted(_together(grid, bargaining.grid), key=lambda one: (len(one[2]), one[2]))
    if not is_counted(piece.rows, piece.carry):
        looked_at = looked_at[:MOST_SOLVED]
    before, found = strands_with(piece, ()), []
    for number, (own, new, together) in enumerate(looked_at, 1):
        patch = Patch(own, new, tuple(together), 0)
        spared = before - strands_with(piece, [patch])
        if spared * worth > len(together):
            found.append(patch._replace(strands=spared))
        done(number / len(looked_at))
    return sorted(found, key=lambda patch: (len(patch.cells) / patch.strands, patch.cells[0]))


def strands_with(piece: Piece, taken: Collection[Patch]) -> int:
    """How many strands the piece takes with all of these."""
    yarns = {cell: yarn for patch in taken for cell, yarn in patch.yarns.items()}
    if is_counted(piece.rows, piece.carry):
        grid = [[stitch.yarn if stitch else "" for stitch in cells(row)] for row in piece.fabric.rows]
        for cell, yarn in yarns.items():
            grid[cell.row][cell.column - 1] = yarn
        return StrandCount(grid, piece.carry.reach, is_leftward=piece.rows[0].toward == "left").strands
    changed = replace(piece, fabric=in_other_yarns(piece.fabric, yarns))
    return plan_strands(changed.rows, changed.carry).strands.total.strands


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
