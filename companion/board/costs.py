"""What a piece costs, always in sight: strands and ends, exact after every stroke, and what other yarns would make of
them. Nothing is estimated: where strands can be counted they are, and elsewhere the yarns concerned are matched."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from fractions import Fraction

from companion.knitting.cloth.cast_on import separate_yarn
from companion.knitting.cloth.fabric import cells
from companion.knitting.latest import latest
from companion.knitting.piece import Piece
from companion.knitting.reckoning.quantities import lengths, totals
from companion.knitting.strands.changing import SharedMoves, YarnMoves, changing
from companion.knitting.strands.counting import StrandCount, is_counted
from companion.knitting.strands.plan import fewest, plan_strands
from companion.knitting.strands.strands import Strands
from companion.knitting.value import Record


class Counts(Record):
    """How many strands a piece takes, and how many ends they leave."""

    strands: int
    ends: int


class Figures(Record):
    """All figures of a piece: besides its counts the most strands that hang at once, and of every yarn, in the plan's
    order, the centimetres that its strands and its sewing take."""

    strands: int
    ends: int
    most_at_once: int
    yarns: Mapping[str, Fraction]

    @property
    def metres(self) -> Fraction:
        """Of all yarns together."""
        return sum(self.yarns.values(), Fraction(0)) / 100


def figures(piece: Piece) -> Figures:
    """Those of a piece, solved: some thirty milliseconds at 120 by 160 stitches.

    Raises:
        TooMuchToWeigh: the limits allow more than can be weighed.
    """
    strands = _solved(piece)
    total = strands.total
    taken = {one.yarn.name: one.cm for one in totals(piece, lengths(piece, strands))}
    return Figures(total.strands, total.ends, total.most_at_once, taken)


@latest
def _solved(piece: Piece) -> Strands:
    return plan_strands(piece.rows, piece.carry).strands


class Counting:
    """The counts of a piece, kept while its stitches change yarns.

    Raises:
        TooMuchToWeigh: the limits allow more than can be weighed.
    """

    def __init__(self, piece: Piece) -> None:
        self.piece = piece
        self._count: StrandCount | None = None
        self._strands: dict[str, int] = {}
        self._moves: dict[str, YarnMoves | SharedMoves] = {}
        if is_counted(piece.rows, piece.carry):
            grid = ((stitch.yarn if stitch else "" for stitch in cells(row)) for row in piece.fabric.rows)
            self._count = StrandCount(grid, piece.carry.reach, is_leftward=piece.rows[0].toward == "left")
        else:
            self._strands = {yarn.name: self._matched(yarn.name, piece) for yarn in piece.yarns}

    @property
    def counts(self) -> Counts:
        """Those of the piece as it is."""
        if self.piece.carry.share:  # which joins are halves of one length is settled for all yarns at once
            total = _solved(self.piece).total
            return Counts(total.strands, total.ends)
        strands = self._count.strands if self._count else sum(self._strands.values())
        return Counts(strands, 2 * strands + 2 * bool(separate_yarn(self.piece.rows)))

    def goes_on_with(self, piece: Piece) -> None:
        """Count for a piece that has the same rows, some stitches in other yarns.

        Raises:
            TooMuchToWeigh: the limits allow more than can be weighed; it counts for the one before.
        """
        changed = _changed(self.piece, piece)
        if self._count:
            self._put(self._count, self.piece, piece, changed)
        else:
            touched = _touched(self.piece, piece, changed)
            found = {
                yarn: self._strands[yarn] - self._moves[yarn].fewer_in(piece.rows, changed) if yarn in self._moves
                else self._matched(yarn, piece) for yarn in touched
            }
            self._strands |= found
            self._moves = {yarn: moves for yarn, moves in self._moves.items() if yarn not in touched}
        self.piece = piece

    def more_in(self, piece: Piece) -> int:
        """How many strands more such a piece would take."""
        changed = _changed(self.piece, piece)
        if self._count:
            before = self._count.strands
            self._put(self._count, self.piece, piece, changed)
            after = self._count.strands
            self._put(self._count, piece, self.piece, changed)
            return after - before
        touched = _touched(self.piece, piece, changed)
        return -sum(self._moves_of(yarn).fewer_in(piece.rows, changed) for yarn in touched)

    @staticmethod
    def _put(count: StrandCount, before: Piece, after: Piece, changed: Iterable[int]) -> None:
        """Let the count go from one piece to the other."""
        for row in changed:
            rows = before.fabric.rows[row], after.fabric.rows[row]
            old, new = ([stitch.yarn if stitch else "" for stitch in cells(one)] for one in rows)
            differing = [at for at, (was, now) in enumerate(zip(old, new, strict=True)) if was != now]
            if differing:
                part = slice(differing[0], differing[-1] + 1)
                count.change_cells(row, differing[0] + 1, old[part], new[part])

    @staticmethod
    def _matched(yarn: str, piece: Piece) -> int:
        """The strands of a yarn, matched by itself."""
        return fewest(piece.rows, piece.carry, {yarn})

    def _moves_of(self, yarn: str) -> YarnMoves | SharedMoves:
        if yarn not in self._moves:
            self._moves[yarn] = changing(self.piece.rows, self.piece.carry, yarn)
        return self._moves[yarn]


def _changed(before: Piece, after: Piece) -> list[int]:
    """The rows, from 0, that are not the same in both."""
    both = zip(before.fabric.rows, after.fabric.rows, strict=True)
    return [row for row, (old, new) in enumerate(both) if old is not new and old != new]


def _touched(before: Piece, after: Piece, changed: Iterable[int]) -> list[str]:
    """The yarns that are taken from stitches of these rows, or given to them: those of other stitches have their runs
    as before."""
    pairs = (zip(cells(before.fabric.rows[row]), cells(after.fabric.rows[row]), strict=True) for row in changed)
    both = (pair for row in pairs for pair in row if pair[0] != pair[1])
    return list(dict.fromkeys(stitch.yarn for pair in both for stitch in pair if stitch))
