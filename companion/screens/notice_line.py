"""The line of the drawing board that says what is to be said once, or else what the stitch that is meant is."""

from __future__ import annotations

from companion.dialogue.painting import Painting
from companion.dialogue.painting_words import size_told, told, yarn_told
from companion.screens.canvas import Canvas
from companion.screens.flowing import Line, cut_off, paragraphs
from companion.screens.lines import Lines


class NoticeLine(Lines):
    """What is to be said once; where nothing is, which of several sizes is drawn in, why the stitch that is meant
    cannot be painted, or that not all of the chart is in sight; and where the costs stand above the chart, what that
    stitch is, and what is in hand."""

    is_telling = False

    def __init__(self, painting: Painting, canvas: Canvas, *, id: str | None = None) -> None:
        super().__init__(id=id)
        self._painting, self._canvas = painting, canvas

    def draw(self, width: int, height: int) -> list[Line]:
        """As much as has room."""
        painting = self._painting
        if painting.notice:
            return cut_off(paragraphs([painting.notice], width, "strong"), height, width)
        here = f"{painting.told}. {painting.hand}." if self.is_telling else ""
        said = [text] if (text := f"{size_told(painting.board.loaded)} {here}".strip()) else []
        if problem := painting.why_not:
            said = [f"{said[0] if said else ''} It cannot be painted. {told(problem)}".strip()]
        elif unseen := self._canvas.unseen():
            said.append(unseen)
        elif here and painting.yarn in painting.slow.metres:
            said.append(yarn_told(painting, painting.yarn))  # metres, which have no room above the chart
        lines: list[Line] = []
        for text in said:
            lines += cut_off(paragraphs([text], width, "quiet"), height - len(lines), width)
        return lines
