"""A plan on the drawing board: its text and its piece say the same after every stroke, and so does its file as soon
as that is saved.

A stroke changes only the signs of its stitches in the text, is refused whole where the plan would not load with it,
and is durably in the file before the next one is begun: ``save`` puts it there, and whatever changes the drawing
begins with it. So no more than the last stroke can be lost, and one that cannot be saved is taken back. What somebody
else wrote into the file is never written over."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Mapping
from contextlib import suppress
from fractions import Fraction
from pathlib import Path
from typing import Literal

from companion.board.costs import Counting, Counts, Figures, figures
from companion.board.differences import differing_cells, has_same_rows, yarns_across
from companion.board.growing import Grown, columns_deleted, columns_inserted, rows_deleted, rows_inserted
from companion.board.plan_file import PlanFile
from companion.board.signs import NO_STITCH, Signs
from companion.board.strokes import Change, Stroke, change, changed
from companion.knitting.cloth.areas import Cell, with_stitches
from companion.knitting.cloth.fabric import Fabric
from companion.knitting.howfar import HowFar, TooMuchToWeigh, untold
from companion.knitting.piece import Piece
from companion.knitting.reckoning import tidying
from companion.knitting.value import Record
from companion.plan.amount import MOST_RUNS
from companion.plan.drawing import redrawn
from companion.plan.edit import check_own, read_again
from companion.plan.files import MOST_BYTES
from companion.plan.loaded import Loaded
from companion.problems import Problem, Problems


class ChangedElsewhere(Problems):
    """Somebody else wrote into the plan file, and it was read anew; what was asked for is not done."""


InHand = Callable[[Piece], Piece]
"""Makes of a plan's piece what its knitter makes of it: in her hands, under her limits. It may raise Problems."""


def as_planned(piece: Piece) -> Piece:
    """The piece as its plan has it."""
    return piece


class _Unsaved(Record):
    """A stroke that is not in the file yet: its ``kind``, and the board as it was before it."""

    kind: Literal["new", "undo", "redo"]
    loaded: Loaded
    piece: Piece
    counting: Counting
    signs: Signs


class Board:
    """One plan file on the board. ``loaded``: the plan as it is drawn; ``piece``: what the knitter makes of it, from
    which all costs are reckoned."""

    loaded: Loaded
    piece: Piece
    _counting: Counting
    _signs: Signs
    _unsaved: _Unsaved | None = None

    def __init__(self, path: Path, in_hand: InHand = as_planned, size: str = "") -> None:
        """Open the plan in a file, in this of its sizes, else in the first.

        Raises:
            Problems: it is a demo plan, has something to mend, or too many ways for its strands to be counted.
        """
        check_own(path)
        self.path, self._in_hand, self._file = path, in_hand, PlanFile(path, size)
        self._done: list[Change] = []
        self._undone: list[Change] = []
        self._read()

    @property
    def text(self) -> str:
        """What the file says once all is saved, without a byte order mark."""
        return self.loaded.text

    @property
    def fabric(self) -> Fabric:
        """The fabric as it is drawn: what is shown and painted. Its rows are in working order."""
        return self.loaded.piece.fabric

    @property
    def counts(self) -> Counts:
        """Strands and ends, those of ``rowside check``; quick."""
        return self._counting.counts

    def figures(self) -> Figures:
        """All figures; they take some thirty milliseconds at 120 by 160 stitches.

        Raises:
            TooMuchToWeigh: the limits allow more than can be weighed.
        """
        return figures(self.piece)

    def why_not(self, cell: Cell) -> Problem | None:
        """Why a stitch cannot be painted, and in which line of the plan it is changed; None where it can be."""
        return self._signs.why_not(cell)

    def can_paint(self, cell: Cell) -> bool:
        """Whether a stitch stands in the plan by a sign of its own."""
        return self.why_not(cell) is None

    @property
    def yarns(self) -> tuple[str, ...]:
        """The yarns that can be painted with: those a symbol of the plan stands for, in the plan's order."""
        return self._signs.yarns

    def paint(self, cells: Iterable[Cell], yarn: str) -> Stroke:
        """One stroke in one yarn, to be saved. A stitch keeps its texture where the plan has a symbol for that.

        Raises:
            Problems: none of them can be painted, or the plan would not load with it. Nothing changed.
            ChangedElsewhere, OSError: as for ``save``, of the stroke before; nothing is drawn.
        """
        return self.paint_each(dict.fromkeys(cells, yarn))

    def paint_each(self, yarns: Mapping[Cell, str]) -> Stroke:
        """The same in several yarns: a motif set down, a bargain taken. Places beside the fabric and without a stitch
        stay as they are and are not counted, nor are stitches that cannot be painted and are in that yarn already."""
        self.save()
        wanted, left, why, is_any = dict[Cell, str](), 0, None, False
        for cell, yarn in yarns.items():
            if (stitch := self._signs.stitch_at(cell)) is None:
                continue
            if trouble := self.why_not(cell):
                if (stitch.sewn or stitch.yarn) != yarn:
                    left, why = left + 1, why or trouble
                continue
            is_any = True
            symbol = self._signs.in_yarn(cell, yarn)
            if symbol != self._signs.sign(cell):
                wanted[cell] = symbol
        if not is_any:
            first = next(iter(yarns), Cell(-1, 0))
            raise Problems([why or self.why_not(first) or Problem(NO_STITCH, str(self.path))])
        if not wanted:
            return Stroke(frozenset(), left=left, why=why)
        loaded, differing = self._with(wanted)
        cells, is_whole, _, _ = self._take(loaded, differing)
        return Stroke(cells, is_whole, left, why)

    def _with(self, symbols: Mapping[Cell, str]) -> tuple[Loaded, frozenset[Cell] | None]:
        """The plan with these stitches in other symbols, and those that may differ then; None where more may.

        Raises:
            Problems: it does not load.
        """
        before = self.loaded
        text, drawn = redrawn(before, symbols)
        if before.is_as_drawn and len(text) <= MOST_BYTES:
            stitches = {cell: before.stitches[symbol] for cell, symbol in symbols.items()}
            fabric = with_stitches(before.piece.fabric, stitches)
            is_small = len(fabric.rows) * fabric.columns <= MOST_RUNS
            if is_small or sum(len(row.runs) for row in fabric.rows) <= MOST_RUNS:
                piece = before.piece._replace(fabric=fabric)
                return before._replace(piece=piece, text=text, drawings=drawn), frozenset(symbols)
        return read_again(text, str(self.path), self.loaded), None

    def _take(
        self, loaded: Loaded, differing: frozenset[Cell] | None = None, kind: Literal["new", "undo", "redo"] = "new"
    ) -> Stroke:
        """Go on with a plan, which is to be saved. ``differing``: the stitches that may not be as before; None where
        they are to be looked for, and its rows may be others, too."""
        piece = self._in_hand(loaded.piece)
        unsaved = _Unsaved(kind, self.loaded, self.piece, self._counting, self._signs)
        self._counting = self._counting_for(piece, is_alike=differing is not None)
        self._unsaved = unsaved
        self.loaded, self.piece = loaded, piece
        if differing is None:
            self._signs = Signs(loaded, str(self.path))
            differing = differing_cells(unsaved.loaded.piece.fabric, self.fabric)
        else:
            self._signs = self._signs.of(loaded)
        return Stroke(differing or frozenset(), differing is None, 0, None)

    @property
    def is_saved(self) -> bool:
        """Whether the last stroke is in the file."""
        return self._unsaved is None

    def save(self) -> None:
        """Put the last stroke into the file, durably, where it is not there yet. One that cannot be saved is taken
        back, as if it had never been drawn.

        Raises:
            ChangedElsewhere: the file was changed since it was read or written; it is read anew.
            Problems: and it has something to mend now, or is not there.
            OSError: it cannot be written.
        """
        before, self._unsaved = self._unsaved, None
        if before is None:
            return
        try:
            self._check_unchanged()
            self._file.write(self.text)
        except ChangedElsewhere:
            raise  # what the stroke was drawn on is gone
        except BaseException:
            self._put_back(before)
            raise
        one = change(before.loaded.text, self.text)
        if before.kind == "undo":
            self._done.pop()
            self._undone.append(one)
            return
        self._done.append(one)
        if before.kind == "redo":
            self._undone.pop()
        else:
            self._undone.clear()

    def _put_back(self, before: _Unsaved) -> None:
        """The board as it was before a stroke."""
        if before.counting is self._counting:
            self._counting.goes_on_with(before.piece)
        self.loaded, self.piece = before.loaded, before.piece
        self._counting, self._signs = before.counting, before.signs

    def _counting_for(self, piece: Piece, *, is_alike: bool) -> Counting:
        """The counting gone on to a piece, or one made anew where its rows are others. ``is_alike``: they are not.

        Raises:
            Problems: its strands cannot be counted.
        """
        try:
            is_alike = is_alike or has_same_rows(self.piece.fabric, piece.fabric)
            if is_alike:
                self._counting.goes_on_with(piece)
                return self._counting
            return Counting(piece)
        except TooMuchToWeigh as much:
            raise Problems([Problem(str(much), str(self.path))]) from None

    def _read(self) -> None:
        """Read the file.

        Raises:
            Problems: it has something to mend; the board stays as it was.
        """
        loaded, data = self._file.read()
        piece = self._in_hand(loaded.piece)
        try:
            counting = Counting(piece)
        except TooMuchToWeigh as much:
            raise Problems([Problem(str(much), str(self.path))]) from None
        self._file.known(data)
        self.loaded, self.piece, self._counting, self._signs = loaded, piece, counting, Signs(loaded, str(self.path))

    def _check_unchanged(self) -> None:
        """Nothing is written over what somebody else wrote.

        Raises:
            ChangedElsewhere: somebody did; it is read.
            Problems: and it has something to mend now, or the file is not there.
        """
        if self.look():
            what = "This plan was changed elsewhere, in another window perhaps. It is read anew; nothing is drawn."
            raise ChangedElsewhere([Problem(what, str(self.path), mend="Look at it, and draw again.")])

    def undo(self) -> Stroke | None:
        """Takes the last stroke back, to be saved; None where there is none.

        Raises:
            Problems: the file was changed where that stroke lies; it is not taken back, the one before it may be.
            ChangedElsewhere, OSError: as for ``paint``.
        """
        self.save()
        return self._again(self._done, "undo")

    def redo(self) -> Stroke | None:
        """Does again what was taken back last; otherwise as ``undo``."""
        self.save()
        return self._again(self._undone, "redo")

    def _again(self, strokes: list[Change], kind: Literal["undo", "redo"]) -> Stroke | None:
        """Take the last of these changes back."""
        if not strokes:
            return None
        text = changed(self.text, strokes[-1].back)
        if text is None:
            strokes.pop()
            what = "The plan was changed elsewhere where this stroke lies, so that it stays as it is now."
            raise Problems([Problem(what, str(self.path))])
        try:
            return self._take(read_again(text, str(self.path), self.loaded), kind=kind)
        except Problems:
            strokes.pop()
            raise

    def look(self) -> bool:
        """Whether somebody else changed the file since it was read or written; it is read anew then.

        Raises:
            Problems: it has something to mend now, or is not there; the board keeps what it had until that is done.
            ChangedElsewhere, OSError: as for ``save``, of the last stroke.
        """
        self.save()
        if not self._file.is_changed:
            return False
        self._read()
        return True

    def insert_rows(self, row: int, many: int = 1) -> Stroke:
        """So many rows like this one (its index in working order) above it.

        Raises:
            As ``paint`` does; Problems also where it has no line of its own in the plan, or the plan counts on rows.
        """
        return self._grown(lambda: rows_inserted(self.loaded, row, many))

    def delete_rows(self, first: int, last: int) -> Stroke:
        """The rows from one to another go; otherwise as ``insert_rows``."""
        return self._grown(lambda: rows_deleted(self.loaded, first, last))

    def insert_columns(self, column: int, many: int = 1) -> Stroke:
        """So many columns like this one, counted from 1 at the right edge, to the left of it, in all charts of the
        plan; otherwise as ``insert_rows``."""
        return self._grown(lambda: columns_inserted(self.loaded, column, many))

    def delete_columns(self, first: int, last: int) -> Stroke:
        """The columns from one to another go, in all charts of the plan; otherwise as ``insert_rows``."""
        return self._grown(lambda: columns_deleted(self.loaded, first, last))

    def _grown(self, grow: Callable[[], Grown]) -> Stroke:
        """Have other rows or columns, where the plan then says just that."""
        self.save()
        grown = grow()
        if grown.why:
            raise Problems([self._signs.problem(*grown.why)])
        loaded = read_again(grown.text, str(self.path), self.loaded)
        if list(map(yarns_across, loaded.piece.fabric.rows)) != list(map(yarns_across, grown.rows)):
            what = "This cannot be done here: something else in the plan depends on these rows or stitches."
            raise Problems([Problem(what, str(self.path), mend="Write it into the plan by hand.")])
        return self._take(loaded)

    def costs_at(self, cells: Iterable[Cell]) -> dict[str, int]:
        """For each of ``yarns`` how many strands more the piece would take with these stitches in it: exact, quick
        for a few; 0 for the yarn they are in. Those that cannot be painted are left out, and a yarn with which the
        plan would not load; {} without any, or where the limits would allow more than can be weighed."""
        can = [cell for cell in cells if self.can_paint(cell)]
        if len(can) == 1 and self._counting.is_quick and self.loaded.is_as_drawn:
            return {yarn: self._counting.more_at(can[0], yarn) for yarn in self.yarns}
        with suppress(TooMuchToWeigh):
            return {yarn: self._counting.more_in(piece) for yarn, piece in self._with_yarns(can)}
        return {}

    def cost_of(self, yarns: Mapping[Cell, str]) -> int | None:
        """How many strands more the piece would take if these stitches were painted so, a motif that is to be set
        down; None where none can be, the plan would not load with them or more would be allowed than can be weighed.
        Otherwise as ``costs_at``."""
        can = {cell: yarn for cell, yarn in yarns.items() if self.can_paint(cell)}
        with suppress(TooMuchToWeigh):
            return self._counting.more_in(piece) if can and (piece := self._if(can)) else None
        return None

    def metres_at(self, cells: Iterable[Cell]) -> Iterator[tuple[str, Fraction]]:
        """The same as ``costs_at`` for metres of all yarns together, a yarn at a time, since each is solved anew."""
        before = self.figures().metres
        for yarn, piece in self._with_yarns(cells):
            yield yarn, figures(piece).metres - before

    def _with_yarns(self, cells: Iterable[Cell]) -> Iterator[tuple[str, Piece]]:
        """The piece with these stitches in each yarn that they can be painted in."""
        can = [cell for cell in cells if self.can_paint(cell)]
        for yarn in self.yarns if can else ():
            if (piece := self._if(dict.fromkeys(can, yarn))) is not None:
                yield yarn, piece

    def _if(self, yarns: Mapping[Cell, str]) -> Piece | None:
        """What such a stroke would make of the piece; None where the plan would not load with it."""
        try:
            loaded, _ = self._with({cell: self._signs.in_yarn(cell, yarn) for cell, yarn in yarns.items()})
            return self._in_hand(loaded.piece)
        except Problems:
            return None

    def bargains(self, worth: int = tidying.USUAL_WORTH, done: HowFar = untold) -> list[tidying.Patch]:
        """Few stitches in another yarn that spare strands, the best first; ``paint_each`` takes the ``yarns`` of one.

        Raises:
            TooMuchToWeigh: the limits allow more than can be weighed.
        """
        free = [cell for one in self.loaded.drawings for cell in one.cells if self.can_paint(cell)]
        found = tidying.patches(self.piece, free, worth, done)
        if self.loaded.is_as_drawn:
            return found
        priced = ((patch, self.cost_of(patch.yarns)) for patch in found)
        return [patch._replace(strands=-cost) for patch, cost in priced if cost and -cost * worth > len(patch.cells)]
