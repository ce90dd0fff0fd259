"""Everything that can be done in a place, grouped by what one wants, and found by typing: help, and the way to a deed
without its key."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from typing import ClassVar

from companion.dialogue.deed import PLACES, Deed, Where, key_words
from companion.dialogue.deeds import deeds_of
from companion.dialogue.listing import Listing
from companion.dialogue.questions import Asking, Leave
from companion.dialogue.table import Cell, Column, Row, Table
from companion.knitting import words

GROUPS: Mapping[str, tuple[str, ...]] = {
    "Knitting": ("on", "row", "mode", "say", "why", "note"),
    "Something went wrong, or you lost your place": ("back", "unpick", "rip", "happened", "where", "at"),
    "Ends, yarn and finishing": ("ends", "sew", "strands", "techniques"),
    "Looking at the chart": (
        "alone", "chart", "zoom", "held", "scroll_up", "scroll_down", "scroll_left", "scroll_right", "follow",
        "picture",
    ),
    "This program": ("settings", "light", "help", "palette", "quit"),
}
"""What one wants, and the deeds for it; those of no group are of the place itself."""

_COLUMNS = (Column("Key"), Column("What", least=12), Column("What it does", least=44, yields=1))


class Finding(Listing):
    """``typed``: what is looked for; all of its words must be in what is told of a deed. A deed that is chosen is the
    answer, by its name."""

    where: ClassVar[Where] = "finding"
    verbs = {"choose": "do it", "leave_it": "back"}

    def __init__(
        self, place: Where, deeds: Iterable[Deed], groups: Mapping[str, tuple[str, ...]] = GROUPS
    ) -> None:
        super().__init__()
        self.typed, self._grouped = "", groups
        self._place, self._deeds = place, deeds_of(place, deeds)
        self._listed: list[Deed | None] = []

    def fill(self) -> None:
        """Those that fit, under what one wants them for."""
        found = list(self._found())
        self._listed = [deed if isinstance(deed, Deed) else None for deed in found]
        self.title = f"{PLACES[self._place]}: type to find, enter to do it."
        if not found:
            self.title = f'Nothing here is called "{self.typed}".'
        rows = [_row(each) if isinstance(each, Deed) else each for each in found]
        self.put(Table(_COLUMNS, rows))

    def in_full(self) -> str:
        """What it is called, all its keys, what it does."""
        deed = None if self.meant is None else self._listed[self.meant]
        return f"{deed.title} ({key_words(deed.keys)}): {deed.about}" if deed else ""

    def choose(self) -> Asking[None]:
        """Have it done."""
        assert self.meant is not None
        deed = self._listed[self.meant]
        assert deed is not None
        yield Leave(deed.name)

    def _found(self) -> Iterator[Deed | str]:
        """Groups and their deeds; what is to be borne in mind below all of them."""
        looked_for = self.typed.lower().split()
        for group, deeds in self._groups():
            those = [deed for deed in deeds if all(_is_in(word, group, deed) for word in looked_for)]
            if those:
                yield group
                yield from those
        if not looked_for and self._place == "work":
            yield ""
            yield from words.CAUTION

    def _groups(self) -> Iterator[tuple[str, Sequence[Deed]]]:
        grouped = {name for names in self._grouped.values() for name in names}
        yield PLACES[self._place], [deed for deed in self._deeds if deed.name not in grouped]
        for group, names in self._grouped.items():
            yield group, [deed for name in names for deed in self._deeds if deed.name == name]


def _is_in(word: str, group: str, deed: Deed) -> bool:
    about = f"{group} {deed.title} {deed.about} {key_words(deed.keys)}".lower()
    return word in about


def _row(deed: Deed) -> Row:
    return Cell(key_words(deed.keys), deed.key), Cell(deed.title), Cell(deed.about)
