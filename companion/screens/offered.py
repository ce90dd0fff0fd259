"""Words that are likely in a field, side by side below it; one that is clicked goes there."""

from __future__ import annotations

from collections.abc import Callable, Sequence

from textual import events

from companion.screens.flowing import Line, cells
from companion.screens.lines import Lines
from companion.screens.rowside import Answering

SPACE = "space"
"""A space among the words that are offered."""


class Offered(Lines):
    """``words`` on as many lines as they take; ``take`` is called with the one that is clicked."""

    def __init__(self, words: Sequence[str], take: Callable[[str], None]) -> None:
        super().__init__(id="offered")
        self._words, self._take = words, take
        self._spots: list[tuple[int, int, int, str]] = []  # line, where it begins and before where it ends, word

    def draw(self, width: int, height: int) -> list[Line]:
        """None is left out."""
        lines: list[Line] = [[]]
        self._spots = []
        for word in self._words:
            shown: Line = [(f" {word.strip(' ') or SPACE} ", "now"), (" ", "")]
            if lines[-1] and cells(lines[-1]) + cells(shown[:1]) > width:
                lines.append([])
            start = cells(lines[-1])
            lines[-1] += shown
            self._spots.append((len(lines) - 1, start, start + cells(shown[:1]), word))
        return lines

    def get_content_height(self, container: object, viewport: object, width: int) -> int:
        """Lines that they take."""
        return len(self.draw(width, 0)) if width else 1

    def on_click(self, event: events.Click) -> None:
        """The one under the pointer."""
        event.stop()
        found = (word for y, start, end, word in self._spots if y == event.y and start <= event.x < end)
        word, screen = next(found, None), self.screen
        if word is not None and isinstance(screen, Answering) and screen.is_meant(event):
            self._take(word)
