"""The keys at the bottom of a screen, each with what it does in a word; each can be clicked."""

from __future__ import annotations

from collections.abc import Callable, Sequence

from textual import events

from companion.dialogue.deed import Deed
from companion.dialogue.deeds import DEEDS
from companion.dialogue.keys import KeyTold, keys_at_the_needles
from companion.knitting.value import Record
from companion.screens.flowing import Bit, Line, cells
from companion.screens.lines import Lines
from companion.screens.rowside import Answering


class Spot(Record):
    """Where a deed is clicked: a line, from one column to before another."""

    line: int
    start: int
    end: int
    deed: str


class KeyLine(Lines):
    """One line: as many keys of what is possible as fit, in the table's order; those that are kept always. Who only
    looks can change nothing (``is_look_only``)."""

    deeds: Sequence[Deed] = DEEDS
    is_look_only = False

    def __init__(self, *, id: str | None = None) -> None:
        super().__init__(id=id)
        self.spots: list[Spot] = []
        self._put_for: tuple[object, ...] = ()

    def draw(self, width: int, height: int) -> list[Line]:
        """What has room."""
        session = None if self.is_look_only else self.session
        keys = keys_at_the_needles(session, self.deeds, self.telling.pressed if self.telling else "")
        if self._put_for == (keys, width):
            return self._lines  # as they were
        self._put_for = keys, width
        shown = [each for each in keys if each.is_possible]
        free, kept = width - sum(_width(each) for each in shown if each.is_kept), list[KeyTold]()
        for each in shown:
            needed = 0 if each.is_kept else _width(each)
            if needed <= free:
                free -= needed
                kept.append(each)
        return self._put(kept, width)

    def on_click(self, event: events.Click) -> None:
        """What is clicked is done."""
        event.stop()
        found = (spot for spot in self.spots if spot.line == event.y and spot.start <= event.x < spot.end)
        screen, spot = self.screen, next(found, None)
        if spot and isinstance(screen, Answering) and screen.is_meant(event):
            screen.action_deed(spot.deed)

    def _put(self, keys: Sequence[KeyTold], width: int) -> list[Line]:
        """One after the other, a new line where the next has no room; and where each is."""
        lines: list[Line] = [[]]
        self.spots = []
        for each in keys:
            if lines[-1] and cells(lines[-1]) + _width(each) - 1 > width:
                lines.append([])
            for key, deed in each.keys:
                self._add(lines, (f" {key} ", "now"), deed)
            self._add(lines, (f"{each.word} ", "quiet"), each.keys[0][1])
        return lines

    def _add(self, lines: list[Line], bit: Bit, deed: str) -> None:
        start = cells(lines[-1])
        lines[-1].append(bit)
        self.spots.append(Spot(len(lines) - 1, start, cells(lines[-1]), deed))


class Foot(KeyLine):
    """The keys of a place, all of them, on as many lines as they take. ``told``: them."""

    def __init__(self, told: Callable[[], Sequence[KeyTold]]) -> None:
        super().__init__(id="foot")
        self._told = told

    def draw(self, width: int, height: int) -> list[Line]:
        """None is left out."""
        return self._put(self._told(), width)

    def get_content_height(self, container: object, viewport: object, width: int) -> int:
        """Lines that they take."""
        return len(self.draw(width, 0)) if width else 1


def _width(each: KeyTold) -> int:
    return cells([(f" {key} ", "") for key, _ in each.keys]) + cells([(f"{each.word} ", "")])
