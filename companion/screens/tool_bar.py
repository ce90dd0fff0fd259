"""The keys of the drawing board with what each does in a word, on as many lines as there are; each can be clicked."""

from __future__ import annotations

from collections.abc import Sequence

from companion.dialogue.keys import KeyTold
from companion.dialogue.painting import Painting
from companion.dialogue.painting_keys import keys_at_the_board, most_keys
from companion.screens.flowing import Line
from companion.screens.key_line import KeyLine

NEEDED = ("help", "paint", "let_go", "board_quit", "undo")
"""Those that get room first; the way to all others is the first of them."""


class ToolBar(KeyLine):
    """Those that have room, in the table's order."""

    def __init__(self, painting: Painting, *, id: str | None = None) -> None:
        super().__init__(id=id)
        self._painting = painting
        self._shown_for: tuple[object, ...] = ()
        self._all_for: tuple[object, ...] = ()
        self._all = 1

    def draw(self, width: int, height: int) -> list[Line]:
        """As many lines as there are."""
        keys = keys_at_the_board(self._painting)
        if self._shown_for != (keys, width, height):
            self._shown_for = keys, width, height
            self._kept_lines = self._put(self._fitting(keys, width, height), width)
        return self._kept_lines

    def lines_for(self, width: int) -> int:
        """How many lines as many as ever stand there take: the chart stays where it is, whatever is in hand."""
        deeds = self._painting.knitter.deeds
        if self._all_for != (deeds, width):
            spots, self._all_for = self.spots, (deeds, width)
            self._all = len(self._put(most_keys(self._painting), width)) if width else 1
            self.spots = spots
        return self._all

    def _fitting(self, keys: Sequence[KeyTold], width: int, height: int) -> list[KeyTold]:
        kept = list[KeyTold]()
        for each in sorted(keys, key=_need):
            more = [one for one in keys if one in kept or one is each]
            if len(self._put(more, width)) <= height:
                kept = more
        return kept


def _need(each: KeyTold) -> int:
    name = each.keys[0][1]
    return NEEDED.index(name) if name in NEEDED else len(NEEDED)
