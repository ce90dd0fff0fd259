"""The mouse on the chart: a press, a drag, a release. A drag is one stroke, saved when the button is let go."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import TYPE_CHECKING

from companion.board.tools import line
from companion.dialogue import painting_words
from companion.knitting.cloth.areas import Cell

if TYPE_CHECKING:
    from companion.dialogue.painting import Painting


class Mouse:
    """``stroke``: the stitches that are being painted. Where two are drawn in one place, both are."""

    def __init__(self, painting: Painting) -> None:
        self._painting = painting
        self.stroke: Mapping[Cell, str] = {}
        self._pressed: Sequence[Cell] = ()
        self._is_anchored = self._is_on_it = False
        self._to_corner = Cell(0, 0)  # from where what floats is held

    def look(self, on: Sequence[Cell]) -> None:
        """The right button: go to a stitch and leave it as it is; of two in one place to the other one, if the first
        is meant already."""
        self._painting.go_to(on[-1] if self._painting.at == on[0] else on[0])

    def press(self, on: Sequence[Cell]) -> None:
        """The button goes down: on what floats, which is held there then, or where that goes to."""
        painting = self._painting
        if floats := painting.parts.lies:
            self._pressed, self._is_on_it = on, any(map(floats.holds, on))
            corner = floats.corner if self._is_on_it else on[0]
            self._to_corner = Cell(corner.row - on[0].row, corner.column - on[0].column)
            painting.go_to(corner)
            return
        painting.go_to(on[0])
        if painting.proposed:
            painting.drop()
        if painting.tool == "fill":
            painting.act()
            return
        self._pressed = on
        if not painting.tool:
            self.stroke = dict.fromkeys(on, painting.yarn)
        elif not self._is_anchored:
            painting.anchor = painting.at

    def drag(self, on: Sequence[Cell]) -> None:
        """It moves on to others."""
        painting, was, self._pressed = self._painting, self._pressed, on if self._pressed else ()
        if not was:
            return
        if painting.parts.floating:
            self._is_on_it = False
            painting.go_to(Cell(on[0].row + self._to_corner.row, on[0].column + self._to_corner.column))
            return
        painting.go_to(on[0])
        if not painting.tool:
            cells = (cell for pair in zip(was, on, strict=False) for cell in line(*pair))
            self.stroke = {**self.stroke, **dict.fromkeys(cells, painting.yarn)}

    def release(self) -> None:
        """The button is let go: the stroke is done, or what is begun ends here; two clicks are as good as a drag.
        What floats is set down by a click on it, not by a drag."""
        painting, was, self._pressed = self._painting, self._pressed, ()
        if not was:
            return
        if painting.parts.floating:
            if self._is_on_it:
                painting.act()
            return
        if not painting.tool:
            stroke, self.stroke = self.stroke, {}
            painting.paint(stroke)
        elif painting.anchor != painting.at or self._is_anchored:
            painting.act()
        else:
            self._is_anchored = True
            painting.notice = painting_words.ANCHORED

    def forget(self) -> None:
        """What was begun is dropped."""
        self.stroke, self._pressed = {}, ()
        self._is_anchored = self._is_on_it = False
