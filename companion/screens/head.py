"""The line on top: which row of how many, which side, which way along the drawn chart."""

from __future__ import annotations

from rich.cells import cell_len

from companion.knitting import words
from companion.problems import plain
from companion.screens.flowing import Line, cells
from companion.screens.lines import Lines


class HeadLine(Lines):
    """Row, side and arrow always; ready ends, the piece's title, the side in words and how high it is where there is
    room for them whole.

    ``is_held``: the chart shows wrong-side rows as they are held, so the arrow goes the other way in them;
    ``is_offered``: ready ends are told of elsewhere on the screen.
    """

    is_look_only = is_held = is_offered = False

    def draw(self, width: int, height: int) -> list[Line]:
        """One line."""
        telling = self.telling
        if telling is None:
            return []
        row = telling.row
        is_turned = self.is_held and row.side == "WS"
        arrow = "◀──" if (row.toward == "left") != is_turned else "──▶"
        line: Line = [(f" {telling.row_of} ", "strong")]
        if telling.is_in_rows and telling.side_in_large == row.side:  # after it the work may be held otherwise
            line += [(f" {row.side} ", "strong"), (f"{arrow} ", "strong")]
        if self.is_look_only:
            line += [("  ", ""), (words.LOOK_ONLY, "strong")]
        ready, title = "" if self.is_offered else telling.ready, plain(telling.session.piece.title)
        free, kept = width - cells(line), set[str]()
        for text in (ready, title, telling.side, telling.height):
            if text and 2 + cell_len(text) <= free:
                kept.add(text)
                free -= 2 + cell_len(text)
        shown = [text for text in (ready, telling.side, telling.height, title) if text in kept]
        return [[*line, *((f"  {text}", "quiet") for text in shown)]]
