"""What a piece costs, always in sight: strands and ends, exact after every stroke, and what other yarns would make of
them. Nothing is estimated: where strands can be counted they are, and elsewhere the yarns concerned are matched."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from fractions import Fraction
from itertools import compress, count
from operator import is_not

from companion.knitting.cloth.areas import Cell
from companion.knitting.cloth.cast_on import separate_yarn
from companion.knitting.cloth.fabric import FabricRow, Run, cells, stitch_in
from companion.knitting.latest import latest
from companion.knitting.piece import Piece
from companion.knitting.reckoning.quantities import lengths, totals
from companion.knitting.strands.changing import YarnMoves
from companion.knitting.strands.counting import StrandCount, is_counted
from companion.knitting.strands.plan import plan_strands
from companion.knitting.strands.strands import Strands
from companion.knitting.value import Record


class Counts(Record):
    """How many strands a piece takes, and how many ends they leave."""

    strands: int
    ends: int


class Figures(Record):
    """All figures of a piece: besides its counts the most strands that hang at once, and of every yarn, in the plan's
    order, the centimetres that its strands and its sewing take; of all yarns together the metres."""

    strands: int
    ends: int
    most_at_once: int
    yarns: Mapping[str, Fraction]
    metres: Fraction


def figures(piece: Piece) -> Figures:
    """Those of a piece, solved: some thirty milliseconds at 120 by 160 stitches.

    Raises:
        TooMuchToWeigh: the limits allow more than can be weighed.
    """
    strands = _solved(piece)
    total = strands.total
    taken = {one.yarn.name: one.cm for one in totals(piece, lengths(piece, strands))}
    metres = sum(taken.values(), Fraction(0)) / 100
    return Figures(total.strands, total.ends, total.most_at_once, taken, metres)


@latest
def _solved(piece: Piece) -> Strands:
    return plan_strands(piece.rows, piece.carry).strands


class Counting:
    """The counts of a piece, kept while its stitches change yarns.

    Raises:
        TooMuchToWeigh: the limits allow more than can be weighed.
    """

    def __init__(self, piece: Piece) -> None:
        _weigh_what_is_shared(piece)
        self.piece = piece
        self._count: StrandCount | None = None
        self._moves: dict[str, YarnMoves] = {}
        if is_counted(piece.rows, piece.carry):
            grid = ((stitch.yarn if stitch else "" for stitch in cells(row)) for row in piece.fabric.rows)
            self._count = StrandCount(grid, piece.carry.reach, is_leftward=piece.rows[0].toward == "left")
        else:
            self._moves = {yarn.name: YarnMoves(piece.rows, piece.carry, yarn.name) for yarn in piece.yarns}

    @property
    def counts(self) -> Counts:
        """Those of the piece as it is."""
        if self.piece.carry.share:
            total = _solved(self.piece).total
            return Counts(total.strands, total.ends)
        strands = self._count.strands if self._count else sum(moves.strands for moves in self._moves.values())
        return Counts(strands, 2 * strands + 2 * bool(separate_yarn(self.piece.rows)))

    def goes_on_with(self, piece: Piece) -> None:
        """Count for a piece that has the same rows, some stitches in other yarns.

        Raises:
            TooMuchToWeigh: the limits allow more than can be weighed; it counts for the one before.
        """
        _weigh_what_is_shared(piece)
        changed = _changed(self.piece, piece)
        if self._count:
            self._put(self._count, self.piece, piece, changed)
        else:
            self._moves |= self._moves_in(piece, changed)
        self.piece = piece

    @property
    def is_quick(self) -> bool:
        """Whether ``more_at`` can be asked: strands can be counted."""
        return self._count is not None

    def more_at(self, cell: Cell, yarn: str) -> int:
        """How many strands more it would take with one stitch, which is there, in another yarn; where it
        ``is_quick``. Such a fabric is not shaped, so that its cells are those of the drawing for any hands."""
        stitch = stitch_in(self.piece.fabric.rows[cell.row], cell.column)
        assert self._count is not None
        assert stitch is not None
        if stitch.yarn == yarn:
            return 0
        return self._count.if_cells(cell.row, cell.column, [stitch.yarn], [yarn])

    def more_in(self, piece: Piece) -> int:
        """How many strands more such a piece would take."""
        changed = _changed(self.piece, piece)
        if self._count:
            before = self._count.strands
            self._put(self._count, self.piece, piece, changed)
            after = self._count.strands
            self._put(self._count, piece, self.piece, changed)
            return after - before
        found = self._moves_in(piece, changed)
        return sum(moves.strands - self._moves[yarn].strands for yarn, moves in found.items())

    @staticmethod
    def _put(count: StrandCount, before: Piece, after: Piece, changed: Iterable[int]) -> None:
        """Let the count go from one piece to the other."""
        for row in changed:
            first, old, new = _differing(before.fabric.rows[row], after.fabric.rows[row])
            count.change_cells(row, first, old, new)

    def _moves_in(self, piece: Piece, changed: Sequence[int]) -> dict[str, YarnMoves]:
        """Those of such a piece, of the yarns that differ in it."""
        touched = _touched(self.piece, piece, changed)
        return {yarn: self._moves[yarn].in_rows(piece.rows, changed) for yarn in touched}


def _weigh_what_is_shared(piece: Piece) -> None:
    """Which joins are halves of one length is settled for all yarns at once: ``counts`` finds it done.

    Raises:
        TooMuchToWeigh: the limits allow more than can be weighed.
    """
    if piece.carry.share:
        _solved(piece)


def _changed(before: Piece, after: Piece) -> list[int]:
    """The rows, from 0, that are not the same in both."""
    old, new = before.fabric.rows, after.fabric.rows
    return [row for row in compress(count(), map(is_not, old, new)) if old[row] != new[row]]


def _differing(before: FabricRow, after: FabricRow) -> tuple[int, list[str], list[str]]:
    """The yarns of the cells in which two rows of as many cells may differ, and the column of the first; without the
    runs at either edge that are the same."""
    old, new, same = list(before.runs), list(after.runs), 0
    while old and new and old[-1] == new[-1]:
        old.pop()
        new.pop()
    while same < min(len(old), len(new)) and old[same] == new[same]:
        same += 1
    first = 1 + sum(run.columns for run in old[:same])
    return first, _yarns(old[same:]), _yarns(new[same:])


def _yarns(runs: Iterable[Run]) -> list[str]:
    """That of every cell; "" where no stitch is."""
    return [run.stitch.yarn if run.stitch else "" for run in runs for _ in range(run.columns)]


def _touched(before: Piece, after: Piece, changed: Iterable[int]) -> list[str]:
    """The yarns that are taken from stitches of these rows, or given to them: those of other stitches have their runs
    as before."""
    pairs = (zip(cells(before.fabric.rows[row]), cells(after.fabric.rows[row]), strict=True) for row in changed)
    both = (pair for row in pairs for pair in row if pair[0] != pair[1])
    return list(dict.fromkeys(stitch.yarn for pair in both for stitch in pair if stitch))
