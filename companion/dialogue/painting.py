"""One plan on the drawing board: the stitch that is meant, the yarn in hand, the tool, what floats over the chart.

A stroke is saved before it is shown. What is begun and not ended changes nothing: it lies ``over`` the chart. Places
are those of the picture: rows from the cast-on edge up, those of two parts side by side.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping, Sequence
from fractions import Fraction
from pathlib import Path
from typing import TYPE_CHECKING, Literal

from companion.board.board import Board, Stroke
from companion.board.costs import Figures
from companion.board.marks import KINDS, Kind, marked
from companion.board.motifs import Motif, copied, moved
from companion.board.tools import box, fill, line
from companion.dialogue.deeds import Where
from companion.knitting.cloth.areas import Cell
from companion.knitting.cloth.colour import apart
from companion.knitting.cloth.fabric import Fabric, Stitch, cells
from companion.knitting.howfar import TooMuchToWeigh
from companion.knitting.piece import Piece
from companion.knitting.value import Record
from companion.knitting.words import how_many
from companion.problems import Problem, Problems

if TYPE_CHECKING:
    from companion.dialogue.knitter import Knitter
    from companion.knitting.reckoning.tidying import Patch

Tool = Literal["", "line", "box", "block", "fill", "select"]
"""What the next press does at the stitch that is meant; "" paints it."""

FAR = 10
"""Stitches or rows of a long step."""

WIDTHS = (3, 2, 1)
"""Columns of a stitch that a knitter can choose; of the last one two rows share a line where colours can be told."""

NOTHING_SELECTED = "Nothing is selected: select a part of the chart first."

_BEGUN: Mapping[Tool, str] = {
    "line": "A line begins here: go to its other end and press paint, or drag.",
    "box": "A box begins here: go to the opposite corner and press paint, or drag.",
    "block": "A filled box begins here: go to the opposite corner and press paint, or drag.",
    "fill": "Fill: go to an area and press paint, or click it.",
    "select": "A selection begins here: go to the opposite corner and press paint, or drag.",
}
_MARKED: Mapping[Kind, str] = {
    "lone stitches": "Areas of one stitch", "beyond reach": "Strands that end because the next stitches of their yarn "
    "lie beyond reach", "floats": "Floats that must be caught", "sewn on": "Small areas that would save ends sewn on",
}


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


def between(one: Cell, other: Cell) -> Box:
    """The rectangle between two corners."""
    rows, columns = sorted((one.row, other.row)), sorted((one.column, other.column))
    return Box(rows[0], rows[1], columns[0], columns[1])


class Head(Record):
    """How a row of the chart is numbered: its number, and whether it starts at the right edge."""

    number: int
    starts_right: bool


class News(Record):
    """Something that was worked out: of what kind, for which piece and which stitch, and what was found."""

    what: str
    piece: Piece
    at: Cell
    found: object


class Painting:
    """``at``: the stitch that is meant; ``yarn``: the one in hand; ``anchor``: where a tool was begun; ``floating``: a
    motif whose lowest right stitch lies at ``at``; ``lifted``: where it was taken from, None where it is a copy;
    ``proposed``: a bargain that is shown and not taken; ``marks``: the kind that is marked, None = none.

    ``notice`` is to be said once. ``is_slow`` asks a front end to have ``work_out`` called beside its own work.
    """

    where: Where = "drawing"

    def __init__(self, knitter: Knitter, board: Board) -> None:
        self.knitter, self.board = knitter, board
        self.at = Cell(0, 1)
        self.yarn = board.yarns[0] if board.yarns else ""
        self.tool: Tool = ""
        self.is_pen_down = False
        self.width = 0
        self.anchor: Cell | None = None
        self.selected: Box | None = None
        self.copied: Motif | None = None
        self.floating: Motif | None = None
        self.lifted: Cell | None = None
        self.proposed: Patch | None = None
        self.marks: Kind | None = None
        self.marked: frozenset[Cell] = frozenset()
        self.notice = knitter.notice
        self.figures: Figures | None = None
        self.metres: dict[str, Fraction] = {}
        self._stroke: dict[Cell, str] = {}
        self._pressed: Sequence[Cell] = ()
        self._is_anchored = False
        self._bargains: list[Patch] | None = None
        self._is_tidying = False
        self._unknown: set[str] = {"figures", "metres"}
        self._costs: tuple[object, dict[str, int]] | None = None
        self.heads: Sequence[Head] = ()
        self._take_up_rows()

    # What is shown

    @property
    def fabric(self) -> Fabric:
        """As it is drawn."""
        return self.board.fabric

    @property
    def over(self) -> Mapping[Cell, str]:
        """The yarns of stitches that are not set down yet."""
        if self.proposed:
            return self.proposed.yarns
        if self.floating:
            return self._laid(self.floating)
        return dict.fromkeys(self._traced(), self.yarn) if self.anchor else self._stroke

    @property
    def outlined(self) -> Box | None:
        """What is selected, or being selected."""
        if self.tool == "select" and self.anchor:
            return between(self.anchor, self.at)
        return self.selected

    @property
    def costs(self) -> Mapping[str, int]:
        """For each yarn how many strands more the piece would take with the stitch that is meant in it, or with all
        that floats; {} where it cannot be painted."""
        key = (self.board.piece, self.at)
        if self._costs is None or self._costs[0] != key:
            place = self._in_order(self.at)
            self._costs = key, self.board.costs_at([place]) if place else {}
        return self._costs[1]

    @property
    def stitch(self) -> Stitch | None:
        """The one that is meant."""
        found = self.fabric.row_at(*self.at)
        there = [] if found is None else list(cells(self.fabric.rows[found]))
        return there[self.at.column - 1] if self.at.column <= len(there) else None

    def yarn_told(self, name: str) -> str:
        """A yarn by its symbol and name, with what the stitch that is meant would cost in it, or save."""
        metres = self.metres.get(name)
        return f"{self.board.loaded.piece.yarn(name).symbol} {name}{cost_told(self.costs.get(name), metres)}"

    @property
    def told(self) -> str:
        """The stitch that is meant in a few words."""
        row, column = self.heads[self.at.row].number, self.at.column
        if self.knitter.is_mirrored:
            column = self.fabric.columns + 1 - column
        stitch = self.stitch
        sewn = f", {stitch.sewn} sewn on" if stitch and stitch.sewn else ""
        return f"Row {row}, stitch {column}: {stitch.yarn + sewn if stitch else 'no stitch'}"

    @property
    def hand(self) -> str:
        """What is in hand, in a few words: what the next press does."""
        if self.proposed:
            return "A change is shown"
        if self.floating:
            return f"{self.floating.wide} x {self.floating.high} in hand"
        if self.tool and self.anchor:
            size = between(self.anchor, self.at)
            return f"{_TOOLS[self.tool]} {size.left - size.right + 1} x {size.high - size.low + 1}"
        return _TOOLS[self.tool] or ("Pen down" if self.is_pen_down else "Pen up")

    @property
    def why_not(self) -> Problem | None:
        """Why the stitch that is meant cannot be painted."""
        place = self._in_order(self.at)
        return self.board.why_not(place) if place else None

    # Moving about

    def move(self, up: int, left: int) -> None:
        """To another stitch; with the pen down all on the way are painted."""
        was = self.at
        self.go_to(Cell(was.row + up, was.column + left))
        if self.is_pen_down and not self.is_in_hand and was != self.at:
            self._paint(line(was, self.at))

    def go_to(self, cell: Cell) -> None:
        """The nearest stitch of the chart to a place."""
        self.notice = ""
        self._look_at(cell)

    def _look_at(self, cell: Cell) -> None:
        rows, columns = len(self.fabric.levels), self.fabric.columns
        at = Cell(max(0, min(cell.row, rows - 1)), max(1, min(cell.column, columns)))
        if at != self.at:
            self.at, self.metres = at, {}
            self._unknown.add("metres")

    # Painting

    @property
    def is_in_hand(self) -> bool:
        """Something is begun that ``act`` ends and ``let_go`` drops."""
        return bool(self.proposed or self.floating or self.tool)

    def act(self) -> None:
        """Paint the stitch that is meant, or end what is begun there."""
        self.notice = ""
        if self.proposed:
            self._take()
        elif self.floating:
            self._set_down()
        elif self.tool:
            self._end()
        else:
            self._paint([self.at])

    def let_go(self) -> None:
        """Drop what is in hand; then what is selected, then the marks."""
        self.notice = ""
        if self.is_in_hand:
            self._drop()
        elif self.selected:
            self.selected = None
        else:
            self.marks, self.marked = None, frozenset()

    def take_tool(self, tool: Tool) -> None:
        """A tool is begun at the stitch that is meant; where it is in hand already, it ends there."""
        if self.tool == tool:
            self.act()
            return
        self._drop()
        self.tool, self.anchor = tool, None if tool == "fill" else self.at
        self._is_anchored = False
        self.notice = _BEGUN[tool]

    def change_pen(self) -> None:
        """The pen down, or up again; put down it paints."""
        self._drop()
        self.is_pen_down = not self.is_pen_down
        self.notice = "The pen is down: moving paints." if self.is_pen_down else "The pen is up."
        if self.is_pen_down:
            self._paint([self.at])

    def pick(self, yarn: str) -> None:
        """This yarn in hand."""
        self.notice = ""
        if yarn in self.board.yarns:
            self.yarn = yarn
        else:
            self.notice = f"No symbol of the plan stands for {yarn}: give it one under symbols."

    def pick_up(self) -> None:
        """The yarn of the stitch that is meant."""
        if stitch := self.stitch:
            self.pick(stitch.yarn)

    def pick_number(self, number: int) -> None:
        """The yarn of this number in the list, from 1."""
        yarns = self.board.yarns
        if number <= len(yarns):
            self.pick(yarns[number - 1])

    def next_yarn(self, step: int) -> None:
        """The next one of the list, or the one before."""
        yarns = self.board.yarns
        if yarns:
            self.pick(yarns[(yarns.index(self.yarn) + step) % len(yarns)])

    # The mouse

    def look_at(self, on: Sequence[Cell]) -> None:
        """The right button: go to a stitch and leave it as it is; of two in one place the other one, if the first is
        meant already."""
        self.go_to(on[-1] if self.at == on[0] else on[0])

    def press(self, on: Sequence[Cell]) -> None:
        """The button goes down on a stitch, or on two that are drawn in one place."""
        was = self.at
        self.go_to(on[0])
        if self.proposed:
            self._drop()
        self._pressed = on
        if self.floating:
            self._pressed = ()
            if any(cell in self._laid(self.floating, was) for cell in on):
                self._look_at(was)
                self.act()
        elif self.tool == "fill":
            self._pressed = ()
            self.act()
        elif self.tool:
            if not self._is_anchored:
                self.anchor = self.at
        else:
            self._stroke = dict.fromkeys(on, self.yarn)

    def drag(self, on: Sequence[Cell]) -> None:
        """It moves on to others."""
        was = self._pressed
        if not was:
            return
        self._look_at(on[0])
        if not self.tool:
            pairs = zip(was, on, strict=False)
            self._stroke |= {cell: self.yarn for one, other in pairs for cell in line(one, other)}
        self._pressed = on

    def release(self) -> None:
        """The button is let go."""
        was, self._pressed = self._pressed, ()
        if not was:
            return
        if not self.tool:
            self._paint(self._stroke)
        elif self.anchor != self.at or self._is_anchored:
            self.act()
        else:
            self._is_anchored = True  # two clicks are as good as a drag

    def look(self) -> bool:
        """Whether somebody else changed the file; it is shown as it is now then."""
        try:
            if not self.board.look():
                return False
            self.notice = "The plan file was changed elsewhere: it is shown as it is now."
        except Problems as found:
            said = f"The plan file was changed elsewhere and cannot be read: {_said(found)}"
            if said == self.notice:
                return False
            self.notice = said
        self._drop()
        self._changed(is_whole=True)
        return True

    # Parts of the chart

    def motif_of(self, path: Path) -> Motif:
        """The chart of another plan; a yarn that this one has not is the one most like it in colour.

        Raises:
            Problems: it has something to mend.
        """
        from companion.plan.read import load

        there, own = load(path).piece, self.board.loaded.piece
        like = {
            yarn.name: min(self.board.yarns, key=lambda name: (name != yarn.name, apart(own.yarn(name).colour, yarn.colour)))
            for yarn in there.yarns
        }
        motif = copied(there.fabric, Cell(0, 1), Cell(there.fabric.undivided - 1, there.fabric.columns))
        return Motif(tuple(tuple(yarn and like[yarn] for yarn in row) for row in motif.rows))

    def copy(self) -> None:
        """What is selected can be pasted."""
        if self.selected is None:
            self.notice = NOTHING_SELECTED
            return
        self.copied = self._part(self.selected)
        self.notice = f"Copied, {self.copied.wide} x {self.copied.high}: paste it where you like."

    def cut(self) -> None:
        """The same, and its place is painted in the yarn in hand."""
        if (part := self.selected) is None:
            self.notice = NOTHING_SELECTED
            return
        self.copy()
        said = self.notice
        self._paint(box(part.corner, part.opposite, is_full=True))
        self.notice = self.notice or said

    def paste(self) -> None:
        """What was copied floats at the stitch that is meant."""
        if self.copied is None:
            self.notice = "Nothing was copied: select a part of the chart and copy it first."
        else:
            self.float(self.copied)

    def float(self, motif: Motif, lifted: Cell | None = None) -> None:
        """A motif to be moved about and set down."""
        self._drop()
        self.floating, self.lifted = motif, lifted
        self.notice = "Move it to its place and set it down; mirror, turn or repeat it before."

    def lift(self) -> None:
        """What is selected is moved; its place is filled with the yarn in hand."""
        if (part := self.selected) is None:
            self.notice = NOTHING_SELECTED
            return
        self._look_at(part.corner)
        self.float(self._part(part), part.corner)

    def turned(self, turn: Callable[[Motif], Motif]) -> None:
        """What floats, or is selected, is mirrored or repeated; it floats then."""
        if self.floating is None:
            if (part := self.selected) is None:
                self.notice = NOTHING_SELECTED
                return
            self._look_at(part.corner)
            self.float(self._part(part))
        assert self.floating is not None
        self.floating = turn(self.floating)

    # Undoing, and the chart's own size

    def undo(self) -> None:
        """The last stroke is taken back."""
        self._drop()
        self.notice = ""
        if self._is_done(self.board.undo) is None and not self.notice:
            self.notice = "There is no stroke to take back."

    def redo(self) -> None:
        """What was taken back is done again."""
        self._drop()
        self.notice = ""
        if self._is_done(self.board.redo) is None and not self.notice:
            self.notice = "Nothing was taken back."

    def resize(self, change: Callable[[Board, Cell], Stroke]) -> None:
        """Rows or columns come or go at the stitch that is meant."""
        self._drop()
        self.notice, self.selected = "", None
        place = self._in_order(self.at)
        if place:
            self._is_done(lambda: change(self.board, place))

    def change_width(self) -> None:
        """Stitches larger or smaller; ``width`` 0 is that which suits the gauge."""
        self.notice = ""
        self.width = WIDTHS[(WIDTHS.index(self.width or WIDTHS[-1]) + 1) % len(WIDTHS)]

    # What takes time

    def next_marks(self) -> None:
        """The next kind is marked, after the last one none."""
        ways: list[Kind | None] = [None, *KINDS]
        self.marks = ways[(ways.index(self.marks) + 1) % len(ways)]
        self.marked, self.notice = frozenset(), "" if self.marks else "Nothing is marked."
        if self.marks:
            self._unknown.add("marks")

    def tidy(self) -> None:
        """The next change of few stitches that spares strands is shown."""
        self._drop()
        if self._bargains is None:
            self.notice = "Looking for stitches that would spare strands ..."
            self._unknown.add("bargains")
            self._is_tidying = True
        else:
            self._propose()

    @property
    def is_slow(self) -> bool:
        """Something is still to be worked out."""
        return bool(self._unknown)

    def work_out(self, is_left: Callable[[], bool], tell: Callable[[News], object]) -> None:
        """What takes time, told as it is found, until all is or it is not wanted any more. It only reads, so that it
        may be done beside everything else; whoever is told has it taken up (``take_up_news``) where keys are."""
        board, piece, at, wanted, kind = self.board, self.board.piece, self.at, frozenset(self._unknown), self.marks

        def is_old() -> bool:
            return is_left() or board.piece is not piece

        def came(what: str, found: object) -> None:
            if not is_old():
                tell(News(what, piece, at, found))

        try:
            if "figures" in wanted:
                came("figures", board.figures())
            if "metres" in wanted:
                found, place = dict[str, Fraction](), self._in_order(at)
                for yarn, more in board.metres_at([place] if place else []):
                    found[yarn] = more
                    if is_old() or self.at != at:
                        return
                came("metres", found)
            if "marks" in wanted:
                came("marks", (kind, marked(piece, kind) if kind else frozenset()))
            if "bargains" in wanted:
                came("bargains", board.bargains())
        except TooMuchToWeigh as much:
            came("trouble", str(much))

    def take_up_news(self, news: News) -> None:
        """Something was worked out; what is so no more is thrown away."""
        what, piece, at, found = news
        if piece is not self.board.piece or (what == "metres" and at != self.at):
            return
        self._unknown.discard(what)
        match what, found:
            case "figures", Figures():
                self.figures = found
            case "metres", dict():
                self.metres = found
            case "marks", (kind, frozenset() as where) if kind and kind == self.marks:
                self.marked = frozenset(self._in_picture(cell) for cell in where)
                self.notice = f"{_MARKED[kind]}: {_stitches(len(self.marked))} marked."
            case "bargains", list():
                self._bargains = found
                if self._is_tidying:
                    self._propose()
            case "trouble", str():
                self.notice = found
                self._unknown.clear()

    def _propose(self) -> None:
        """Show the next bargain; those shown before and left are not offered again until something changes."""
        self._is_tidying = False
        if not self._bargains:
            self.notice = "No change of few stitches would spare a strand."
            return
        patch = self.proposed = self._bargains.pop(0)
        self._look_at(self._in_picture(patch.cells[0]))
        many, spared = _stitches(len(patch.cells)), how_many(patch.strands, "strand")
        self.notice = f"{many} of {patch.yarn} in {patch.instead} would spare {spared}. Take it, or see the next."

    # Inside

    def _traced(self) -> Iterable[Cell]:
        """The stitches of the tool that is begun."""
        if self.anchor and self.tool == "line":
            return line(self.anchor, self.at)
        if self.anchor and self.tool in ("box", "block"):
            return box(self.anchor, self.at, is_full=self.tool == "block")
        return ()

    def _end(self) -> None:
        """End the tool that is in hand."""
        if self.tool == "select":
            assert self.anchor is not None
            self.selected = between(self.anchor, self.at)
            self._drop()
            self.notice = "Selected: copy, cut, move, mirror or repeat it."
            return
        place = self._in_order(self.at)
        filled = fill(self.fabric, place) if self.tool == "fill" and place else ()
        stroke = list(map(self._in_picture, filled)) or list(self._traced())
        self._drop()
        self._paint(stroke)

    def _set_down(self) -> None:
        assert self.floating is not None
        yarns, is_moved = self._laid(self.floating), self.lifted is not None
        place = between(self.at, Cell(self.at.row + self.floating.high - 1, self.at.column + self.floating.wide - 1))
        if self._is_done(lambda: self.board.paint_each(self._all_in_order(yarns))):
            self._drop()
            if is_moved:
                self.selected = place

    def _take(self) -> None:
        assert self.proposed is not None
        yarns = self.proposed.yarns
        if self._is_done(lambda: self.board.paint_each(yarns)):
            self._drop()

    def _laid(self, motif: Motif, at: Cell | None = None) -> Mapping[Cell, str]:
        place = at or self.at
        return motif.laid(place) if self.lifted is None else moved(motif, self.lifted, place, self.yarn)

    def _part(self, part: Box) -> Motif:
        return copied(self.fabric, part.corner, part.opposite)

    def _drop(self) -> None:
        self.tool, self.anchor, self.floating, self.lifted, self.proposed = "", None, None, None, None
        self._stroke, self._pressed, self._is_anchored = {}, (), False

    def _paint(self, where: Iterable[Cell]) -> None:
        yarns = dict.fromkeys(where, self.yarn)
        self._is_done(lambda: self.board.paint_each(self._all_in_order(yarns)))
        self._stroke = {}

    def _is_done(self, do: Callable[[], Stroke | None]) -> Stroke | None:
        """What a stroke did; why it could not be done is said, and None."""
        try:
            stroke = do()
        except (Problems, OSError, TooMuchToWeigh) as error:
            self.notice = _said(error)
            self._changed(is_whole=True)
            return None
        if stroke is not None:
            if stroke.left and stroke.why:
                kept = "stays as it was" if stroke.left == 1 else "stay as they were"
                self.notice = f"{_stitches(stroke.left)} {kept}: {_told(stroke.why)}"
            if stroke.cells or stroke.is_whole:
                self._changed(is_whole=stroke.is_whole)
        return stroke

    def _changed(self, *, is_whole: bool) -> None:
        """The drawing is another one: what was worked out from it is so no more."""
        self._costs, self._bargains, self.metres = None, None, {}
        self._unknown |= {"figures", "metres"} | ({"marks"} if self.marks else set())
        if is_whole:
            self._take_up_rows()
            self._look_at(self.at)
            if self.yarn not in self.board.yarns:
                self.yarn = next(iter(self.board.yarns), "")

    def _take_up_rows(self) -> None:
        rows, levels = self.board.loaded.piece.rows, self.fabric.levels
        turned = self.knitter.is_mirrored
        firsts = (rows[level[0]] for level in levels)
        self.heads = [Head(row.number, (row.toward == "left") != turned) for row in firsts]

    def _in_order(self, cell: Cell) -> Cell | None:
        """The stitch at a place of the picture by its row in working order; None where there is none."""
        row = self.fabric.row_at(*cell)
        return None if row is None else Cell(row, cell.column)

    def _all_in_order(self, yarns: Mapping[Cell, str]) -> Mapping[Cell, str]:
        found = ((self._in_order(cell), yarn) for cell, yarn in yarns.items())
        return {cell: yarn for cell, yarn in found if cell}

    def _in_picture(self, cell: Cell) -> Cell:
        return Cell(self.fabric.level(cell.row), cell.column)


_TOOLS: Mapping[Tool, str] = {
    "": "", "line": "Line", "box": "Box", "block": "Filled box", "fill": "Fill", "select": "Selecting",
}


def cost_told(strands: int | None, metres: Fraction | None = None) -> str:
    """What a yarn would cost or save: "  +2 strands, +0.4 m"; "" where it is not known."""
    if strands is None:
        return ""
    yarn = f", {float(metres):+.1f} m" if metres is not None else ""
    return f"  {strands:+d} strand{'s' * (abs(strands) != 1)}{yarn}"


def _stitches(number: int) -> str:
    return "1 stitch" if number == 1 else f"{number} stitches"


def _said(error: Problems | OSError | TooMuchToWeigh) -> str:
    """Why something could not be done, in a line."""
    if isinstance(error, Problems):
        return _told(error.problems[0])
    return str(error)


def _told(problem: Problem) -> str:
    """What is wrong, where in the plan, and how it is mended."""
    where = f" (line {problem.line})" if problem.line else ""
    return f"{problem.what.rstrip('.')}{where}. {problem.mend}".strip()
