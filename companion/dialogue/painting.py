"""One plan on the drawing board: the stitch that is meant, the yarn in hand, the tool, what floats over the chart.

A stroke is shown, and then saved before anything else is done: whoever shows it calls ``save``. What is begun and
not ended changes nothing: it lies ``over`` the chart. Places are those of the picture: rows from the cast-on edge up,
those of two parts side by side.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping, Sequence
from typing import TYPE_CHECKING

from companion.board.board import Board
from companion.board.strokes import Stroke
from companion.board.tools import box, fill, line
from companion.dialogue import painting_words as words
from companion.dialogue.deed import Where
from companion.dialogue.painting_costs import Costs, News
from companion.dialogue.painting_heads import Head, heads_of
from companion.dialogue.painting_mouse import Mouse
from companion.dialogue.painting_parts import Box, Parts, between
from companion.dialogue.painting_words import Tool
from companion.knitting.cloth.areas import Cell
from companion.knitting.cloth.fabric import Fabric, Stitch, stitch_in
from companion.knitting.howfar import TooMuchToWeigh
from companion.problems import Problem, Problems

if TYPE_CHECKING:
    from companion.dialogue.knitter import Knitter
    from companion.knitting.reckoning.tidying import Patch

WIDTHS = (1, 3, 2)
"""Columns of a stitch that a knitter can choose, one after the other: first the one that shows most of a chart, where
two rows share a line if colours can be told."""


class Painting:
    """``at``: the stitch that is meant; ``yarn``: the one in hand; ``anchor``: where a tool was begun; ``proposed``:
    a bargain that is shown and not taken; ``width``: columns of a stitch, 0 = those that suit. ``notice`` is to be
    said once. ``parts``, ``mouse``, ``slow``: parts of the chart in hand, what the mouse does, what takes time."""

    where: Where = "drawing"

    def __init__(self, knitter: Knitter, board: Board) -> None:
        self.knitter, self.board = knitter, board
        self.at, self.width = self._first(), 0
        self.yarn = self._first_yarn()
        self.is_pen_down = self._is_tidying = False
        self.tool: Tool = ""
        self.anchor: Cell | None = None
        self.proposed: Patch | None = None
        self.notice = knitter.notice or words.greeting(board.loaded)
        self.parts: Parts = Parts(self)
        self.mouse, self.slow = Mouse(self), Costs(board)
        self._costs: tuple[object, Mapping[str, int]] | None = None
        self._cost: tuple[object, int | None] | None = None
        self.heads: Sequence[Head] = ()
        self.digits = 1  # of the longest row number
        self._take_up_rows()
        self.slow.is_meant(self.in_order(self.at))

    # What is shown

    @property
    def fabric(self) -> Fabric:
        """As it is drawn."""
        return self.board.fabric

    @property
    def over(self) -> Mapping[Cell, str]:
        """The yarns of stitches that are not set down yet."""
        if self.proposed:
            return {self.in_picture(cell): yarn for cell, yarn in self.proposed.yarns.items()}
        if self.parts.floating:
            return self.parts.laid(self.at)
        return dict.fromkeys(self._traced(), self.yarn) if self.tool else self.mouse.stroke

    @property
    def outlined(self) -> Box | None:
        """What is selected, or being selected."""
        return between(self.anchor, self.at) if self.tool == "select" and self.anchor else self.parts.selected

    @property
    def marked(self) -> Iterable[Cell]:
        """The stitches that are marked."""
        return map(self.in_picture, self.slow.marked)

    @property
    def costs(self) -> Mapping[str, int]:
        """For each yarn how many strands more the piece would take with the stitch that is meant in it; {} where that
        cannot be painted or told."""
        piece, at = self.board.piece, self.at
        if self._costs is None or self._costs[0] != (id(piece), at):
            place = self.in_order(at)
            self._costs = (id(piece), at), self.board.costs_at([place] if place else [])
        return self._costs[1]

    @property
    def stitch(self) -> Stitch | None:
        """The one that is meant."""
        place = self.in_order(self.at)
        return stitch_in(self.fabric.rows[place.row], place.column) if place else None

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
        """What is in hand, in a few words."""
        if self.proposed:
            return "A change is shown"
        if floating := self.parts.floating:
            cost = words.cost(self._cost_over())
            return f"{floating.wide} x {floating.high} in hand{cost and f': {cost}'}"
        if self.anchor:
            return f"{words.TOOLS[self.tool]} {between(self.anchor, self.at).told}"
        selected = f", {self.parts.selected.told} selected" if self.parts.selected else ""
        return words.TOOLS[self.tool] or f"Pen {'down' if self.is_pen_down else 'up'}{selected}"

    def _cost_over(self) -> int | None:
        """How many strands more it would be with what floats set down where it is; None where that cannot be told."""
        over = self.over
        key = id(self.board.piece), over
        if self._cost is None or self._cost[0] != key:
            self._cost = key, self.board.cost_of(self._all_in_order(over))
        return self._cost[1]

    @property
    def why_not(self) -> Problem | None:
        """Why the stitch that is meant cannot be painted."""
        place = self.in_order(self.at)
        return self.board.why_not(place) if place else None

    def change_width(self) -> None:
        """Stitches larger or smaller."""
        self.notice = ""
        self.width = WIDTHS[(WIDTHS.index(self.width or WIDTHS[-1]) + 1) % len(WIDTHS)]

    # Moving about and painting

    def move(self, up: int, left: int) -> None:
        """To another stitch; with the pen down all on the way are painted."""
        was = self.at
        self.go_to(Cell(was.row + up, was.column + left))
        if self.is_pen_down and not self.is_in_hand and was != self.at:
            self.paint(dict.fromkeys(line(was, self.at), self.yarn))

    def go_to(self, cell: Cell) -> None:
        """The nearest stitch of the chart to a place."""
        self.notice = ""
        rows, columns = len(self.fabric.levels), self.fabric.columns
        at = Cell(max(0, min(cell.row, rows - 1)), max(1, min(cell.column, columns)))
        if at != self.at:
            self.at = at
            self.slow.is_meant(self.in_order(at))

    @property
    def is_in_hand(self) -> bool:
        """Something is begun that ``act`` ends and ``let_go`` drops."""
        return bool(self.proposed or self.parts.floating or self.tool)

    def act(self) -> None:
        """Paint the stitch that is meant, or end what is begun there."""
        self.notice = ""
        if self.proposed or self.parts.floating:
            moved_to = self.parts.moved_to
            if self.paint(self.over) is not None and self.save():  # else it stays in hand
                self.drop()
                self.parts.selected = moved_to or self.parts.selected
        elif self.tool == "select" and self.anchor:
            self.parts.selected = between(self.anchor, self.at)
            self.drop()
            self.notice = words.SELECTED
        elif self.tool:
            place = self.in_order(self.at) if self.tool == "fill" else None
            traced = [*map(self.in_picture, fill(self.fabric, place))] if place else [*self._traced()]
            self.drop()
            stroke = self.paint(dict.fromkeys(traced, self.yarn))
            if stroke is not None and not (stroke.cells or stroke.is_whole):
                self.notice = self.notice or words.already(self.yarn)
        else:
            self.paint({self.at: self.yarn})

    def let_go(self) -> None:
        """Drop what is in hand; then what is selected, then the marks."""
        self.notice = ""
        if self.is_in_hand:
            self.drop()
        elif self.parts.selected:
            self.parts.selected = None
        else:
            self.slow.unmark()

    def drop(self) -> None:
        """Nothing is in hand."""
        self.tool, self.anchor, self.proposed = "", None, None
        self.parts.floating = self.parts.lifted = None
        self.mouse.forget()

    def take_tool(self, tool: Tool) -> None:
        """A tool is begun at the stitch that is meant; where it is in hand already, it ends there."""
        if self.tool == tool:
            self.act()
            return
        self.drop()
        self.tool, self.anchor = tool, None if tool == "fill" else self.at
        self.notice = words.begun(tool, self.knitter.key_of("paint"))

    def change_pen(self) -> None:
        """The pen down, or up again; put down it paints."""
        self.drop()
        self.is_pen_down = not self.is_pen_down
        self.notice = words.PEN_DOWN if self.is_pen_down else words.PEN_UP
        if self.is_pen_down:
            self.paint({self.at: self.yarn})

    def paint(self, yarns: Mapping[Cell, str]) -> Stroke | None:
        """One stroke."""
        return self._done(lambda: self.board.paint_each(self._all_in_order(yarns)))

    def save(self) -> bool:
        """Put the last stroke into the file. Whether it is there now, or was already; else it is taken back, and why
        is said."""
        try:
            self.board.save()
        except (Problems, OSError) as error:
            self._say_why(error)
            return False
        return True

    # Yarns

    def pick(self, yarn: str) -> None:
        """This yarn in hand."""
        can_paint = yarn in self.board.yarns
        self.notice = "" if can_paint else words.no_symbol(yarn)
        self.yarn = yarn if can_paint else self.yarn

    def pick_up(self) -> None:
        """The yarn of the stitch that is meant."""
        if stitch := self.stitch:
            self.pick(stitch.yarn)

    def pick_number(self, number: int) -> None:
        """The yarn of this number in the list, from 1."""
        for yarn in self.board.yarns[number - 1:number]:
            self.pick(yarn)

    def next_yarn(self, step: int) -> None:
        """The next one of the list, or the one before."""
        if yarns := self.board.yarns:
            self.pick(yarns[(yarns.index(self.yarn) + step) % len(yarns)])

    # Undoing, and the chart's own size

    def undo(self) -> None:
        """The last stroke is taken back."""
        self._again(self.board.undo, words.NOTHING_TO_UNDO)

    def redo(self) -> None:
        """What was taken back is done again."""
        self._again(self.board.redo, words.NOTHING_TO_REDO)

    def _again(self, do: Callable[[], Stroke | None], nothing: str) -> None:
        self.drop()
        self.notice = ""
        if self._done(do) is None:
            self.notice = self.notice or nothing

    def resize(self, change: Callable[[Board, Cell], Stroke]) -> None:
        """Rows or columns come or go at the stitch that is meant."""
        self.drop()
        self.notice, self.parts.selected, place = "", None, self.in_order(self.at)
        if place:
            self._done(lambda: change(self.board, place))

    # What takes time

    def next_marks(self) -> None:
        """The next kind is marked, after the last one none."""
        self.notice = self.slow.mark_next()

    def tidy(self) -> None:
        """The next change of few stitches that spares strands is shown."""
        self.drop()
        if self.slow.bargains is None:
            self.slow.want_bargains()
            self.notice, self._is_tidying = words.LOOKING, True
        else:
            self._propose(self.slow.bargains)

    def take_up(self, news: News) -> None:
        """Something was worked out."""
        self.notice = self.slow.take_up(news) or self.notice
        if self._is_tidying and self.slow.bargains is not None:
            self._propose(self.slow.bargains)

    def _propose(self, bargains: list[Patch]) -> None:
        """Show the next bargain; after the last one they are looked for anew."""
        is_first, self._is_tidying = self._is_tidying, False
        if not bargains:
            self.slow.bargains = None
            self.notice = words.NO_BARGAIN if is_first else words.NO_MORE_BARGAINS
            return
        patch = bargains.pop(0)
        self.go_to(self.in_picture(patch.cells[0]))
        self.proposed, self.notice = patch, words.proposed(patch, self.knitter.key_of("tidy"))

    def look(self) -> bool:
        """Whether somebody else changed the file; it is shown as it is now then."""
        if not self.save():
            return True
        try:
            if not self.board.look():
                return False
            said = words.CHANGED_ELSEWHERE
        except Problems as found:
            said = f"The plan file was changed elsewhere and cannot be read: {words.why(found)}"
            if said == self.notice:  # as it was when it was looked at last
                return False
        self.notice = said
        self.drop()
        self._changed(is_whole=True)
        return True

    # Inside

    def _traced(self) -> Iterable[Cell]:
        """The stitches of the line or box that is begun."""
        if self.anchor is None or self.tool == "select":
            return ()
        if self.tool == "line":
            return line(self.anchor, self.at)
        return box(self.anchor, self.at, is_full=self.tool == "block")

    def _done(self, do: Callable[[], Stroke | None]) -> Stroke | None:
        """What a stroke did; why it could not be done is said, and None."""
        try:
            stroke = do()
        except (Problems, OSError, TooMuchToWeigh) as error:
            self._say_why(error)
            return None
        if stroke is not None:
            self.notice = words.stayed(stroke) or self.notice
            if stroke.cells or stroke.is_whole:
                self._changed(is_whole=stroke.is_whole)
        return stroke

    def _say_why(self, error: Problems | OSError | TooMuchToWeigh) -> None:
        """Why a stroke could not be done, or be saved: what is drawn may be another one now."""
        self.notice = words.why(error)
        self._changed(is_whole=True)

    def _changed(self, *, is_whole: bool) -> None:
        """The drawing is another one."""
        self._costs = self._cost = None
        self.slow.is_changed()
        if is_whole:
            self._take_up_rows()
            said = self.notice
            self.go_to(self.at)
            self.notice = said
            if self.yarn not in self.board.yarns:
                self.yarn = self._first_yarn()

    def _first(self) -> Cell:
        """The lowest stitch at the right that can be painted; where none can be, the first one."""
        drawn = (cell for one in self.board.loaded.drawings for cell in one.cells)
        places = ((cell, self.in_order(cell)) for cell in drawn)
        return next((cell for cell, place in places if place and self.board.why_not(place) is None), Cell(0, 1))

    def _first_yarn(self) -> str:
        """The first one that shows where it is painted; "" where the plan has none to paint with."""
        yarns, stitch = self.board.yarns, self.stitch
        return next((yarn for yarn in yarns if stitch is None or yarn != stitch.yarn), next(iter(yarns), ""))

    def _take_up_rows(self) -> None:
        self.heads = heads_of(self.board.loaded.piece, is_mirrored=self.knitter.is_mirrored)
        self.digits = max(len(str(head.number)) for head in self.heads)

    def _all_in_order(self, yarns: Mapping[Cell, str]) -> Mapping[Cell, str]:
        places = ((self.in_order(cell), yarn) for cell, yarn in yarns.items())
        return {place: yarn for place, yarn in places if place}

    def in_order(self, cell: Cell) -> Cell | None:
        """The stitch at a place of the picture by its row in working order; None where there is none."""
        row = self.fabric.row_at(*cell)
        return None if row is None else Cell(row, cell.column)

    def in_picture(self, cell: Cell) -> Cell:
        """The place in the picture of a stitch of a row in working order."""
        return Cell(self.fabric.level(cell.row), cell.column)
