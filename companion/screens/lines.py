"""A widget drawn line by line from plain text: nothing in it is ever read as markup or obeyed as a control."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from typing import ClassVar

from rich.cells import cell_len
from rich.segment import Segment
from rich.style import Style
from textual.geometry import Region
from textual.reactive import reactive
from textual.strip import Strip
from textual.widget import Widget

from companion.knitting.words import US, Terms
from companion.problems import plain
from companion.progress.session import Session

Bit = tuple[str, str | Style]
"""A text and how it is shown: the name of a manner ("strong", "quiet", "now", "done", "alert", "") or a style."""

Line = list[Bit]


class Lines(Widget):
    """Shows the lines that ``draw`` makes of the session. Repaints only those that changed."""

    COMPONENT_CLASSES: ClassVar[set[str]] = {
        "lines--strong", "lines--quiet", "lines--now", "lines--done", "lines--alert",
    }
    ALLOW_SELECT = False
    session: reactive[Session | None] = reactive(None, repaint=False)
    terms: reactive[Terms] = reactive(US, repaint=False)

    def __init__(self, *, id: str | None = None) -> None:
        super().__init__(id=id)
        self._strips: list[Strip] = []
        self._drawn_for: tuple[int, int] | None = None

    def draw(self, width: int, height: int) -> list[Line]:
        """The lines to show; at most ``height`` of them are shown, each cut at ``width`` cells."""
        raise NotImplementedError(f"{type(self).__name__} draws nothing")

    def watch_session(self) -> None:
        """Another session: draw again."""
        self.redraw()

    def redraw(self) -> None:
        """Draw again and repaint the lines that differ."""
        if not self.is_mounted or not self.size:
            return
        old, self._strips = self._strips, self._make()
        if len(old) != len(self._strips):
            self.refresh()
            return
        changed = [Region(0, y, self.size.width, 1) for y, strip in enumerate(self._strips) if strip != old[y]]
        if changed:
            self.refresh(*changed)

    def _make(self) -> list[Strip]:
        width, height = self.size
        self._drawn_for = (width, height)
        lines = self.draw(width, height)[:height] if width and height else []
        blank = self.rich_style
        return [self._strip(line, width, blank) for line in lines]

    def _strip(self, line: Line, width: int, blank: Style) -> Strip:
        segments = [Segment(plain(text), self.manner(manner)) for text, manner in line if text]
        return Strip(segments).adjust_cell_length(width, blank)

    def manner(self, name: str | Style) -> Style:
        """The style of a manner on this widget's ground."""
        if isinstance(name, Style):
            return self.rich_style + name
        return self.get_component_rich_style(f"lines--{name}") if name else self.rich_style

    def notify_style_update(self) -> None:
        """The theme changed: every line is drawn anew."""
        super().notify_style_update()
        self._drawn_for = None

    def render_line(self, y: int) -> Strip:
        """One line of the widget."""
        if self._drawn_for != tuple(self.size):
            self._strips = self._make()
        if y < len(self._strips):
            return self._strips[y]
        return Strip.blank(self.size.width, self.rich_style)


def wrapped(text: str, width: int) -> list[str]:
    """The text in lines of at most ``width`` cells, broken at spaces; a longer word is broken where it must be."""
    lines: list[str] = []
    line = ""
    for word in text.split():
        while cell_len(word) > width:
            head = word[:max(1, width // 2 if cell_len(word[:width]) > width else width)]
            lines += [line, head] if line else [head]
            word, line = word[len(head):], ""
        joined = f"{line} {word}" if line else word
        if cell_len(joined) > width:
            lines.append(line)
            line = word
        else:
            line = joined
    return [*lines, line] if line else lines


def flowed(bits: Sequence[Line], width: int, gap: str = "  ") -> list[Line]:
    """Groups of bits set one after the other, a new line where the next group does not fit."""
    lines: list[Line] = []
    used = 0
    for group in bits:
        needed = sum(cell_len(text) for text, _ in group)
        if lines and used + cell_len(gap) + needed <= width:
            lines[-1] += [(gap, ""), *group]
            used += cell_len(gap) + needed
        else:
            lines.append(list(group))
            used = needed
    return lines


def paragraphs(texts: Iterable[str], width: int, manner: str = "") -> list[Line]:
    """Texts as wrapped lines, empty texts left out."""
    return [[(line, manner)] for text in texts if text for line in wrapped(text, width)]
