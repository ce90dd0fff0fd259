"""A plan on the drawing board: its file, its text and its piece say the same after every stroke.

A stroke changes only the signs of its stitches in the text, is refused whole where the plan would not load with it,
and is saved durably before it is shown. What somebody else wrote into the file is never written over."""

from __future__ import annotations

import codecs
from collections.abc import Callable, Iterable, Iterator, Mapping
from dataclasses import replace
from fractions import Fraction
from io import BytesIO
from pathlib import Path

from companion.board.costs import Counting, Counts, Figures, figures
from companion.board.differences import differing_cells, is_alike, with_stitches, yarns_across
from companion.board.growing import Grown, columns_deleted, columns_inserted, rows_deleted, rows_inserted
from companion.board.signs import NO_STITCH, Signs
from companion.board.strokes import Change, change, changed
from companion.knitting.cloth.areas import Cell, in_other_yarns
from companion.knitting.cloth.fabric import Fabric
from companion.knitting.howfar import HowFar, TooMuchToWeigh, untold
from companion.knitting.piece import Piece
from companion.knitting.reckoning import tidying
from companion.knitting.value import Record
from companion.plan.amount import MOST_RUNS
from companion.plan.drawing import redrawn
from companion.plan.edit import check_own, read_again
from companion.plan.files import MOST_BYTES, file_bytes, replace_text, text_from
from companion.plan.loaded import Loaded
from companion.plan.read import load
from companion.problems import Problem, Problems


class ChangedElsewhere(Problems):
    """Somebody else wrote into the plan file, and it was read anew; what was asked for is not done."""


class Stroke(Record):
    """What a stroke did. ``cells``: the stitches that look otherwise now; ``is_whole``: the piece has another outline
    now, so all is to be shown anew. ``left``: so many stitches that were asked for cannot be painted, and why the
    first of them cannot; None where there is none."""

    cells: frozenset[Cell]
    is_whole: bool = False
    left: int = 0
    why: Problem | None = None


InHand = Callable[[Piece], Piece]
"""Makes of a plan's piece what its knitter makes of it: in her hands, under her limits. It may raise Problems."""


def as_planned(piece: Piece) -> Piece:
    """The piece as its plan has it."""
    return piece


class Board:
    """One plan file on the board. ``loaded``: the plan as its file says it; ``piece``: what the knitter makes of it,
    from which all costs are reckoned."""

    loaded: Loaded
    piece: Piece
    _counting: Counting
    _signs: Signs
    _bytes: bytes

    def __init__(self, path: Path, in_hand: InHand = as_planned, size: str = "") -> None:
        """Use ``Board.open``."""
        self.path = path
        self._in_hand, self._size = in_hand, size
        self._done: list[Change] = []
        self._undone: list[Change] = []
        self._read()

    @classmethod
    def open(cls, path: Path, in_hand: InHand = as_planned, size: str = "") -> Board:
        """The plan in a file, in this of its sizes, else in the first.

        Raises:
            Problems: it is a demo plan, has something to mend, or too many ways for its strands to be counted.
        """
        check_own(path)
        return cls(path, in_hand, size)

    @property
    def text(self) -> str:
        """What the file says, without a byte order mark."""
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
        """One stroke in one yarn, saved. A stitch keeps its texture where the plan has a symbol for that.

        Raises:
            Problems: none of them can be painted, or the plan would not load with it. Nothing changed.
            ChangedElsewhere: the file was changed since; it is read anew.
            OSError: the file cannot be written. Nothing changed.
        """
        return self.paint_each(dict.fromkeys(cells, yarn))

    def paint_each(self, yarns: Mapping[Cell, str]) -> Stroke:
        """The same in several yarns: a motif set down, a bargain taken. Places beside the fabric and without a stitch
        stay as they are and are not counted."""
        wanted, left, why, is_any = dict[Cell, str](), 0, None, False
        for cell, yarn in yarns.items():
            if self._signs.stitch_at(cell) is None:
                continue
            if trouble := self.why_not(cell):
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
        self._check_unchanged()
        loaded = self._with(wanted)
        return self._take(loaded, change(self.text, loaded.text))._replace(left=left, why=why)

    def _with(self, symbols: Mapping[Cell, str]) -> Loaded:
        """The plan with these stitches in other symbols.

        Raises:
            Problems: it does not load.
        """
        before = self.loaded
        text, drawn = redrawn(before, symbols)
        if before.is_as_drawn and len(text) <= MOST_BYTES:
            stitches = {cell: before.stitches[symbol] for cell, symbol in symbols.items()}
            fabric = with_stitches(before.piece.fabric, stitches)
            if sum(len(row.runs) for row in fabric.rows) <= MOST_RUNS:
                piece = replace(before.piece, fabric=fabric)
                return replace(before, piece=piece, text=text, drawings=drawn)
        return self._loaded(text)

    def _loaded(self, text: str) -> Loaded:
        """The plan of this text.

        Raises:
            Problems: what is to mend in it, in any of its sizes.
        """
        return read_again(text, str(self.path), self.loaded)

    def _take(self, loaded: Loaded, one: Change, *, is_undo: bool = False, is_redo: bool = False) -> Stroke:
        """Save a plan and go on with it."""
        piece, before, old = self._in_hand(loaded.piece), self.fabric, self.piece
        counting = self._counting_for(piece)
        try:
            replace_text(self.path, loaded.text)
        except BaseException:
            if counting is self._counting:
                counting.goes_on_with(old)
            raise
        self._counting = counting
        self._bytes = (codecs.BOM_UTF8 if self._bytes.startswith(codecs.BOM_UTF8) else b"") + loaded.text.encode()
        self.loaded, self.piece, self._signs = loaded, piece, Signs(loaded, str(self.path))
        (self._undone if is_undo else self._done).append(one)
        if not is_undo and not is_redo:
            self._undone.clear()
        differing = differing_cells(before, self.fabric)
        return Stroke(differing or frozenset(), is_whole=differing is None)

    def _counting_for(self, piece: Piece) -> Counting:
        """The counting gone on to a piece, or one made anew where its rows are others.

        Raises:
            Problems: its strands cannot be counted.
        """
        try:
            if is_alike(self.piece.fabric, piece.fabric) and self._counting.piece is self.piece:
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
        while True:
            data, loaded = self._in_file(), load(self.path, self._size)
            if text_from(BytesIO(data), str(self.path)).removeprefix("\ufeff") == loaded.text:
                break  # else it was changed in between
        piece = self._in_hand(loaded.piece)
        try:
            counting = Counting(piece)
        except TooMuchToWeigh as much:
            raise Problems([Problem(str(much), str(self.path))]) from None
        self.loaded, self.piece, self._counting, self._bytes = loaded, piece, counting, data
        self._signs = Signs(loaded, str(self.path))

    def _in_file(self) -> bytes:
        return file_bytes(self.path, str(self.path), MOST_BYTES)

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
        """Takes the last stroke back, saved; None where there is none.

        Raises:
            Problems: the file was changed where that stroke lies; it is not taken back, the one before it may be.
            ChangedElsewhere, OSError: as for ``paint``.
        """
        return self._again(self._done, is_undo=True)

    def redo(self) -> Stroke | None:
        """Does again what was taken back last; otherwise as ``undo``."""
        return self._again(self._undone, is_redo=True)

    def _again(self, strokes: list[Change], *, is_undo: bool = False, is_redo: bool = False) -> Stroke | None:
        """Take the last of these changes back."""
        if not strokes:
            return None
        self._check_unchanged()
        one = strokes.pop().back
        text = changed(self.text, one)
        if text is None:
            what = "The plan was changed elsewhere where this stroke lies, so that it stays as it is now."
            raise Problems([Problem(what, str(self.path))])
        try:
            loaded = self._loaded(text)
            return self._take(loaded, one, is_undo=is_undo, is_redo=is_redo)
        except OSError:
            strokes.append(one.back)
            raise

    @property
    def can_undo(self) -> bool:
        """Whether there is a stroke to take back."""
        return bool(self._done)

    @property
    def can_redo(self) -> bool:
        """Whether there is one to do again."""
        return bool(self._undone)

    def look(self) -> bool:
        """Whether somebody else changed the file since it was read or written; it is read anew then.

        Raises:
            Problems: it has something to mend now, or is not there; the board keeps what it had until that is done.
        """
        if self._in_file() == self._bytes:
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
        self._check_unchanged()
        grown = grow()
        if grown.why:
            raise Problems([self._signs.problem(*grown.why)])
        loaded = self._loaded(grown.text)
        if list(map(yarns_across, loaded.piece.fabric.rows)) != list(map(yarns_across, grown.rows)):
            what = "This cannot be done here: something else in the plan depends on these rows or stitches."
            raise Problems([Problem(what, str(self.path), mend="Write it into the plan by hand.")])
        return self._take(loaded, change(self.text, loaded.text))

    def costs_at(self, cells: Iterable[Cell]) -> dict[str, int]:
        """For each of ``yarns`` how many strands more the piece would take with these stitches in it: exact, quick
        for a few; 0 for the yarn they are in. Those that cannot be painted are left out; without any that can, {}.

        Raises:
            TooMuchToWeigh: the limits allow more than can be weighed.
        """
        return {yarn: self._counting.more_in(piece) for yarn, piece in self._with_yarns(cells)}

    def cost_of(self, yarns: Mapping[Cell, str]) -> int:
        """How many strands more the piece would take if these stitches were painted so, a motif that is to be set
        down; otherwise as ``costs_at``."""
        can = {cell: yarn for cell, yarn in yarns.items() if self.can_paint(cell)}
        return self._counting.more_in(self._if(can)) if can else 0

    def metres_at(self, cells: Iterable[Cell]) -> Iterator[tuple[str, Fraction]]:
        """The same as ``costs_at`` for metres of all yarns together, a yarn at a time, since each is solved anew."""
        before = self.figures().metres
        for yarn, piece in self._with_yarns(cells):
            yield yarn, figures(piece).metres - before

    def _with_yarns(self, cells: Iterable[Cell]) -> Iterator[tuple[str, Piece]]:
        """The piece with these stitches in each yarn."""
        can = [cell for cell in cells if self.can_paint(cell)]
        for yarn in self.yarns if can else ():
            yield yarn, self._if(dict.fromkeys(can, yarn))

    def _if(self, yarns: Mapping[Cell, str]) -> Piece:
        """The piece with these stitches in other yarns."""
        return self._in_hand(replace(self.loaded.piece, fabric=in_other_yarns(self.fabric, yarns)))

    def bargains(self, worth: int = tidying.USUAL_WORTH, done: HowFar = untold) -> list[tidying.Patch]:
        """Few stitches in another yarn that spare strands, the best first; ``paint_each`` takes the ``yarns`` of one.

        Raises:
            TooMuchToWeigh: the limits allow more than can be weighed.
        """
        free = [cell for one in self.loaded.drawings for cell in one.cells if self.can_paint(cell)]
        return tidying.patches(self.piece, free, worth, done)
