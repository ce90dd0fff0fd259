"""Parts of the chart in hand: what is selected, what was copied, what floats until it is set down."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from typing import TYPE_CHECKING

from companion.board.motifs import Motif, copied, moved
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

    @property
    def told(self) -> str:
        """How large it is."""
        return f"{self.left - self.right + 1} x {self.high - self.low + 1}"


def between(one: Cell, other: Cell) -> Box:
    """The rectangle between two corners."""
    rows, columns = sorted((one.row, other.row)), sorted((one.column, other.column))
    return Box(rows[0], rows[1], columns[0], columns[1])


class Parts:
    """``floating``: a motif whose lowest right stitch lies at the one that is meant; ``lifted``: where it was taken
    from, None where it is a copy."""

    def __init__(self, painting: Painting) -> None:
        self._painting = painting
        self.selected: Box | None = None
        self.floating: Motif | None = None
        self.lifted: Cell | None = None
        self._taken: Motif | None = None  # from where it was lifted
        self._copied: Motif | None = None

    def laid(self, at: Cell) -> Mapping[Cell, str]:
        """What floats, set down at a place, as far as the chart goes."""
        if self.floating is None:
            return {}
        fabric = self._painting.fabric
        motif = self.floating.within(fabric.columns + 1 - at.column, len(fabric.levels) - at.row)
        if self.lifted is None or self._taken is None:
            return motif.laid(at)
        return moved(self._taken, self.lifted, motif, at, self._painting.yarn)

    @property
    def moved_to(self) -> Box | None:
        """Where something that is moved lies now; None where nothing is."""
        motif, at = self.floating, self._painting.at
        if motif is None or self.lifted is None:
            return None
        return between(at, Cell(at.row + motif.high - 1, at.column + motif.wide - 1))

    def copy(self) -> None:
        """What is selected can be pasted."""
        self._painting.notice = words.NOTHING_SELECTED
        if self.selected:
            self._copied = self._of(self.selected)
            self._painting.notice = words.copied(self._copied)

    def cut(self) -> None:
        """The same, and its place is painted in the yarn in hand."""
        self.copy()
        if part := self.selected:
            self._painting.paint(dict.fromkeys(box(part.corner, part.opposite, is_full=True), self._painting.yarn))

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
        """What is selected is moved; its place is filled with the yarn in hand."""
        self._painting.notice = words.NOTHING_SELECTED
        if part := self.selected:
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
