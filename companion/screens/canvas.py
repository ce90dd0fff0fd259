"""The chart on the drawing board: it follows the stitch that is meant, and tells which stitches the mouse is on.

A stitch is three, two or one columns wide, as the knitter wants it or as suits the gauge and lets the whole width be
seen; at one column it is half a line high where colours can be told.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from itertools import compress, count
from operator import is_not

from textual import events
from textual.message import Message

from companion.dialogue.painting import WIDTHS, Painting
from companion.dialogue.painting_words import in_sight
from companion.knitting.cloth.areas import Cell
from companion.knitting.cloth.fabric import FabricRow, Yarn
from companion.screens.canvas_lines import (
    PLAIN,
    Frame,
    RowLooks,
    following,
    foot,
    halved,
    lettered,
    numbered,
    showing,
    within,
)
from companion.screens.chart import LEAST_WITH_FOOT, near_columns
from companion.screens.chart_lines import NONE
from companion.screens.flowing import Line
from companion.screens.lines import Lines
from companion.screens.themes import FEW_COLOURS
from companion.screens.touch import RIGHT

WHEEL = 3
"""Rows that a turn of the wheel scrolls."""

_NOT_LOOKED_AT: tuple[int, int] | None = None


class Canvas(Lines):
    """Shows the chart of a painting. ``looked_at``: the lowest row and the rightmost column that the wheel scrolled
    to; None follows the stitch that is meant. ``given``: the width that it has once the screen is laid out."""

    looked_at = _NOT_LOOKED_AT
    given = 0

    class Pressed(Message):
        """A button went down on these stitches; ``is_look``: it was the right one."""

        def __init__(self, cells: list[Cell], *, is_look: bool) -> None:
            super().__init__()
            self.cells, self.is_look = cells, is_look

    class Dragged(Message):
        """It was moved to these."""

        def __init__(self, cells: list[Cell]) -> None:
            super().__init__()
            self.cells = cells

    class Released(Message):
        """It was let go."""

    def __init__(self, painting: Painting, *, id: str | None = None) -> None:
        super().__init__(id=id)
        self._painting = painting
        self._corner = 0, 1
        self._meant: Cell | None = None
        self._drawn: Frame | None = None
        self._rows: tuple[FabricRow, ...] = ()
        self._looks: Mapping[int, RowLooks] = {}
        self._kept: dict[tuple[int, ...], Line] = {}
        self._dragged: list[Cell] | None = None

    def frame(self, width: int, height: int) -> Frame:
        """What is seen of the chart in so much room."""
        painting = self._painting
        fabric = painting.fabric
        levels = len(fabric.levels)
        side, columns, across = self._across(width)
        is_halved = columns == 1 and self._has_colours()
        has_foot = height >= LEAST_WITH_FOOT
        up = max(1, min(levels, (height - has_foot) * (2 if is_halved else 1)))
        frame = Frame(0, 1, across, up, 0 if is_halved else columns, side, has_foot)
        if painting.at != self._meant:
            self._meant, self.looked_at = painting.at, None
        corner = self.looked_at or following(frame, self._corner, painting.at)
        if (box := painting.parts.lies) and not self.looked_at:
            corner = showing(frame, corner, *box)
        self._corner = within(frame, corner, levels, fabric.columns)
        return frame._replace(low=self._corner[0], right=self._corner[1])

    def _across(self, width: int) -> tuple[int, int, int]:
        """In so much room: columns on either side, columns of a stitch, and how many stitches are seen."""
        painting = self._painting
        stitches, side = painting.fabric.columns, 1 + painting.digits
        side = side if width >= 6 * side else 0
        columns = painting.width or self._fitting(stitches, width - 2 * side)
        return side, columns, max(1, min(stitches, (width - 2 * side) // columns))

    def width_for(self, width: int, height: int) -> int:
        """How many columns it takes where it may have so many."""
        frame = self.frame(width, height)
        return 2 * frame.side + frame.across * frame.wide

    def unseen(self) -> str:
        """That its rows are not in sight from end to end, where more of them can be; else ""."""
        columns = self._painting.fabric.columns
        if not self.given or self._painting.width == WIDTHS[0]:
            return ""
        *_, seen = self._across(self.given)
        return in_sight(seen, columns, self._painting.knitter.key_of("board_zoom")) if seen < columns else ""

    def _fitting(self, stitches: int, room: int) -> int:
        """The widest that suits the gauge and lets the whole width be seen; else that of two columns."""
        most = near_columns(self._painting.board.loaded.piece.gauge)
        return 3 if most >= 3 and 3 * stitches <= room else 2

    def _has_colours(self) -> bool:
        """Yarns can be told apart by colour alone; of 16 colours two may look the same."""
        return not (self.app.no_color or self.app.console.color_system in FEW_COLOURS)

    def scroll_by(self, up: int, left: int) -> None:
        """Look elsewhere."""
        low, right = self._corner
        self.looked_at = low + up, right + left
        self.redraw()

    def draw(self, width: int, height: int) -> list[Line]:
        """Lines from the top of what is shown down to its bottom, and the foot."""
        painting = self._painting
        frame = self.frame(width, height)
        piece, looks = painting.board.loaded.piece, self._looks_now()
        rows, anywhere = piece.fabric.picture, frame._replace(low=0)
        yarns = {yarn.name: yarn for yarn in piece.yarns}
        if anywhere != self._drawn or len(rows) != len(self._rows):
            self._drawn, self._kept = anywhere, {}
        else:  # a line is kept while its rows and their looks are as they were; whatever is read anew is another row
            others = {*looks, *self._looks, *compress(count(), map(is_not, rows, self._rows))}
            self._kept = {levels: line for levels, line in self._kept.items() if others.isdisjoint(levels)}
        self._rows, self._looks = rows, looks
        seen = frame.levels
        for levels in seen:
            if levels not in self._kept:
                self._kept[levels] = self._line(levels, yarns, frame)
        lines = [self._kept[levels] for levels in seen]
        if frame.has_foot:
            is_mirrored = painting.knitter.is_mirrored
            lines.append(foot(frame, piece.fabric.columns, painting.at.column, is_mirrored=is_mirrored))
        return lines

    def _line(self, levels: tuple[int, ...], yarns: Mapping[str, Yarn], frame: Frame) -> Line:
        """One line, with its number."""
        rows = [None if level == NONE else self._rows[level] for level in levels]
        its, head = [self._looks.get(level, PLAIN) for level in levels], self._painting.heads[levels[-1]]
        if rows[0] is not None and not frame.is_halved:
            line = lettered(yarns, rows[0], its[0], frame)
        else:
            line = halved(yarns, rows, its, frame)
        return numbered(line, head.number, head.starts_right, self._painting.at.row in levels, frame.side)

    def _looks_now(self) -> Mapping[int, RowLooks]:
        """What lies over the rows that are not plain."""
        painting = self._painting
        over: dict[int, dict[int, str]] = {}
        for (row, column), yarn in painting.over.items():
            over.setdefault(row, {})[column] = yarn
        marked: dict[int, set[int]] = {}
        for row, column in painting.marked:
            marked.setdefault(row, set()).add(column)
        box, at = painting.outlined, painting.at
        selected = range(box.low, box.high + 1) if box else range(0)
        columns = (box.right, box.left) if box else (0, 0)
        return {
            row: RowLooks(
                over.get(row, {}), frozenset(marked.get(row, ())), columns if row in selected else (0, 0),
                at.column if row == at.row else 0,
            )
            for row in {*over, *marked, *selected, at.row}
        }  # fmt: skip

    # The mouse

    def on_mouse_down(self, event: events.MouseDown) -> None:
        """It paints, or with the right button looks."""
        event.stop()
        if cells := self._cells_at(event):
            is_look = event.button == RIGHT
            if not is_look:
                self._dragged = cells
                self.capture_mouse()
            self.post_message(self.Pressed(cells, is_look=is_look))

    def on_mouse_move(self, event: events.MouseMove) -> None:
        """With the button down it goes on painting."""
        if self._dragged is not None and (cells := self._cells_at(event)) and cells != self._dragged:
            self._dragged = cells
            self.post_message(self.Dragged(cells))

    def on_mouse_up(self, event: events.MouseUp) -> None:
        """The stroke ends."""
        if self._dragged is not None:
            self._dragged = None
            self.release_mouse()
            self.post_message(self.Released())

    def on_mouse_scroll_up(self, event: events.MouseScrollUp) -> None:
        """The wheel scrolls; with shift or ctrl sideways."""
        event.stop()
        self.scroll_by(*((0, WHEEL) if event.shift or event.ctrl else (WHEEL, 0)))

    def on_mouse_scroll_down(self, event: events.MouseScrollDown) -> None:
        """The wheel scrolls; with shift or ctrl sideways."""
        event.stop()
        self.scroll_by(*((0, -WHEEL) if event.shift or event.ctrl else (-WHEEL, 0)))

    def on_mouse_scroll_left(self, event: events.MouseScrollLeft) -> None:
        """A wheel that tilts."""
        event.stop()
        self.scroll_by(0, WHEEL)

    def on_mouse_scroll_right(self, event: events.MouseScrollRight) -> None:
        """A wheel that tilts."""
        event.stop()
        self.scroll_by(0, -WHEEL)

    def _cells_at(self, event: events.MouseEvent) -> list[Cell]:
        width, height = self.size
        return list(_cells(self.frame(width, height).cells_at(int(event.x), int(event.y))))


def _cells(places: Iterable[tuple[int, int]]) -> Iterable[Cell]:
    return (Cell(*place) for place in places)
