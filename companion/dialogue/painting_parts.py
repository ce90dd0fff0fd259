"""Parts of the chart in hand: what is selected, what was copied, what floats until it is set down."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from typing import TYPE_CHECKING

from companion.board.motifs import Motif, around, copied, moved
from companion.board.tools import box
from companion.dialogue import painting_words as words
from companion.knitting.cloth.areas import Cell
from companion.knitting.value import Record

if TYPE_CHECKING:
    from companion.dialogue.painting import Painting


class Box(Record):
    """A rectangle of the chart; rows from 0, columns from 1, the last ones among them."""

    low: int
    high: int
    right: int
    left: int

    @property
    def corner(self) -> Cell:
        """Its lowest right stitch."""
        return Cell(self.low, self.right)

    @property
    def opposite(self) -> Cell:
        """Its highest left stitch."""
        return Cell(self.high, self.left)

    def holds(self, cell: Cell) -> bool:
        """Whether a stitch lies in it."""
        return self.low <= cell.row <= self.high and self.right <= cell.column <= self.left

    @property
    def told(self) -> str:
        """How large it is."""
        return f"{self.left - self.right + 1} x {self.high - self.low + 1}"


def between(one: Cell, other: Cell) -> Box:
    """The rectangle between two corners."""
    rows, columns = sorted((one.row, other.row)), sorted((one.column, other.column))
    return Box(rows[0], rows[1], columns[0], columns[1])


def _all_of(part: Box) -> tuple[Cell, ...]:
    return box(part.corner, part.opposite, is_full=True)


class Parts:
    """``floating``: a motif whose lowest right stitch lies at the one that is meant; ``lifted``: where it was taken
    from, None where it is a copy."""

    def __init__(self, painting: Painting) -> None:
        self._painting = painting
        self.selected: Box | None = None
        self.floating: Motif | None = None
        self.lifted: Cell | None = None
        self._taken: Motif | None = None  # from where it was lifted
        self._ground = ""  # that it leaves there
        self._copied: Motif | None = None

    def laid(self, at: Cell) -> Mapping[Cell, str]:
        """What floats, set down at a place, as far as the chart goes."""
        if self.floating is None:
            return {}
        fabric = self._painting.fabric
        motif = self.floating.within(fabric.columns + 1 - at.column, len(fabric.levels) - at.row)
        if self.lifted is None or self._taken is None:
            return motif.laid(at)
        return moved(self._taken, self.lifted, motif, at, self._ground)

    @property
    def lies(self) -> Box | None:
        """Where something floats now; None where nothing does."""
        motif, at = self.floating, self._painting.at
        return between(at, Cell(at.row + motif.high - 1, at.column + motif.wide - 1)) if motif else None

    @property
    def moved_to(self) -> Box | None:
        """The same, where it is moved and no copy."""
        return self.lies if self.lifted else None

    @property
    def chosen(self) -> Box:
        """What is selected, else the stitch that is meant alone."""
        return self.selected or between(self._painting.at, self._painting.at)

    @property
    def rows(self) -> list[int]:
        """The rows of what is chosen, by their indexes in working order."""
        places = map(self._painting.in_order, _all_of(self.chosen))
        return [place.row for place in places if place]

    def copy(self) -> None:
        """What is selected can be pasted."""
        self._painting.notice = words.NOTHING_SELECTED
        if self.selected:
            self._copied = self._of(self.selected)
            self._painting.notice = words.copied(self._copied)

    def cut(self) -> None:
        """The same, and its place is painted in the yarn around it."""
        self.copy()
        if part := self.selected:
            self._painting.paint(dict.fromkeys(_all_of(part), self._ground_of(part)))

    def paste(self) -> None:
        """What was copied floats at the stitch that is meant."""
        self._painting.notice = words.NOTHING_COPIED
        if self._copied:
            self.float(self._copied)

    def float(self, motif: Motif, lifted: Cell | None = None) -> None:
        """A motif to be moved about and set down."""
        self._painting.drop()
        self.floating, self.lifted, self._painting.notice = motif, lifted, words.FLOATING
        self._taken = motif if lifted else None

    def lift(self) -> None:
        """What is selected is moved; its place is filled with the yarn around it."""
        self._painting.notice = words.NOTHING_SELECTED
        if part := self.selected:
            self._ground = self._ground_of(part)
            self._painting.go_to(part.corner)
            self.float(self._of(part), part.corner)

    def turned(self, turn: Callable[[Motif], Motif]) -> None:
        """What floats, or is selected, is mirrored or repeated; it floats then."""
        self._painting.notice = words.FLOATING if self.floating else words.NOTHING_SELECTED
        if not self.floating and (part := self.selected):
            self._painting.go_to(part.corner)
            self.float(self._of(part))
        self.floating = self.floating and turn(self.floating)

    def repeated(self, across: int, up: int) -> None:
        """The same so many times, no further than it covers the chart."""
        columns, rows = self._painting.fabric.columns, len(self._painting.fabric.levels)
        self.turned(lambda it: it.repeated(min(across, -(-columns // it.wide)), min(up, -(-rows // it.high))))

    def _of(self, part: Box) -> Motif:
        return copied(self._painting.fabric, part.corner, part.opposite)

    def _ground_of(self, part: Box) -> str:
        """What a part that goes leaves behind; the yarn in hand where that around it cannot be painted."""
        found = around(self._painting.fabric, part.corner, part.opposite)
        return found if found in self._painting.board.yarns else self._painting.yarn
