"""A grid of colours shown as chips, one of which is meant: chosen with arrows or with a click."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from typing import Any

from rich.style import Style
from textual import events

from companion.dialogue.new.answers import colour_of
from companion.knitting.cloth.colour import ink_on
from companion.screens.flowing import Line, cells
from companion.screens.lines import Lines
from companion.screens.plain_parts import PlainInput
from companion.screens.rowside import Answering

ACROSS, CELLS = 8, 4
"""So many chips stand in a row, each so many cells wide: 32 columns, which every screen has."""

HINTS = ("  Or one of these: down, then the arrows, or a click.", "  Down, or click one.", "  Or click one.")
"""How a chip is chosen, as long as there is room to say it."""


ARROWS: Mapping[str, int] = {"left": -1, "right": 1, "up": -ACROSS, "down": ACROSS}
"""Keys that move among the chips, and how far."""


class Chips(Lines):
    """``colours``: each by its name, with its "#rrggbb". The one that is meant is marked; below stands the colour
    that is typed, and its name. ``choose`` is called with the name of one that is meant now.

    Keys stay with the field above, which hands on the arrows: were they to come here from one arrow on, those that
    come in one burst with it would still go there."""

    def __init__(self, colours: Sequence[tuple[str, str]], choose: Callable[[str], None]) -> None:
        super().__init__(id="chips")
        self._colours, self._choose = colours, choose
        self._at: int | None = None
        self._typed = ""

    def draw(self, width: int, height: int) -> list[Line]:
        """The rows of chips, and the name of the one that is meant."""
        lines: list[Line] = []
        for start in range(0, len(self._colours), ACROSS):
            row = range(start, min(start + ACROSS, len(self._colours)))
            lines.append([(f"{'▸' if at == self._at else ' '}{'  '}{'◂' if at == self._at else ' '}",
                           Style(bgcolor=self._colours[at][1], color=ink_on(self._colours[at][1]))) for at in row])
        chip: Line = [("    ", Style(bgcolor=self._typed))] if self._typed else []
        told = f" {self._typed}" if self._at is None else f" {' '.join(self._colours[self._at])}"
        hint = next((hint for hint in HINTS if cells([*chip, (told + hint, "")]) <= width), "")
        return [*lines, [*chip, (told + hint, "quiet")]]

    def typed(self, text: str) -> None:
        """What stands in the field, which is a colour or none."""
        self._typed = colour_of(text) or ""
        if self._at is not None and self._colours[self._at][0] != text:
            self._at = None
        self.redraw()

    def get_content_height(self, container: object, viewport: object, width: int) -> int:
        """Its rows, and the name."""
        return -(-len(self._colours) // ACROSS) + 1

    def press(self, key: str) -> bool:
        """Whether a key was meant for the chips: down for the first of them, then every arrow; up from the first row
        leaves them."""
        step = ARROWS.get(key)
        if step is None or (self._at is None and key != "down"):
            return False
        to = 0 if self._at is None else self._at + step
        if 0 <= to < len(self._colours):
            self._mean(to)
        elif key == "up":
            self._at = None
            self.redraw()
        return True

    def on_click(self, event: events.Click) -> None:
        """The one under the pointer."""
        event.stop()
        at = event.y * ACROSS + event.x // CELLS
        is_chip = event.x < ACROSS * CELLS and 0 <= at < len(self._colours)
        if is_chip and isinstance(self.screen, Answering) and self.screen.is_meant(event):
            self._mean(at)

    def _mean(self, at: int) -> None:
        self._at = at
        self.redraw()
        self._choose(self._colours[at][0])


class ChipField(PlainInput):
    """A field, and the chips below it, None where there are none: arrows that are meant for them are theirs."""

    def __init__(self, chips: Chips | None, *given: Any, **named: Any) -> None:
        super().__init__(*given, **named)
        self._chips = chips

    def on_key(self, event: events.Key) -> None:
        """One key after the other, in their order."""
        if self._chips and self._chips.press(event.key):
            event.stop()
