"""The keys: every deed with those that do it, changed by pressing another one; kept for every piece from then on."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from typing import ClassVar

from companion.dialogue.deed import PLACES, Deed, Where, key_words
from companion.dialogue.deeds import USUAL
from companion.dialogue.knitter import Knitter
from companion.dialogue.listing import Listing
from companion.dialogue.questions import Asking, PressKey
from companion.dialogue.table import Cell, Column, Row, Table
from companion.settings import MOST_KEYS, own_keys, write_keys

_COLUMNS = (Column("What", least=12), Column("Keys", least=8), Column("What it does", least=30, yields=1))


class KeysList(Listing):
    """A line a deed, under the place where it is done. A key that does something else there is told, and nothing is
    changed."""

    where: ClassVar[Where] = "keys"
    verbs = {"choose": "another key"}

    def __init__(self, knitter: Knitter, save: Callable[[Callable[[], None]], str]) -> None:
        """``save`` carries out what writes the settings; it takes them up, or says why it cannot be."""
        super().__init__()
        self._knitter, self._save = knitter, save
        self._listed: list[Deed | None] = []

    def fill(self) -> None:
        """All deeds."""
        lines = list(self._lines())
        self._listed = [line if isinstance(line, Deed) else None for line in lines]
        self.title = "Keys: choose what is to have another one."
        self.put(Table(_COLUMNS, [_row(line) if isinstance(line, Deed) else line for line in lines]))

    def _lines(self) -> Iterator[Deed | str]:
        for place, title in PLACES.items():
            here = [deed for deed in self._knitter.deeds if deed.where[0] == place]
            if here:
                yield title
                yield from here

    def choose(self) -> Asking[None]:
        """Another key in the place of those it has."""
        deed = self._deed
        has = key_words(deed.keys)
        now = f"It has now: {has}. The new one takes their place."
        key = yield PressKey((f'Press the key for "{deed.title}".', now))
        if key is not None:
            self._set(deed, (key,))

    def add(self) -> Asking[None] | None:
        """One more key beside those it has."""
        return None if self.meant is None else self._one_more(self._deed)

    def _one_more(self, deed: Deed) -> Asking[None]:
        key = yield PressKey((f'Press one more key for "{deed.title}".', f"It has now: {key_words(deed.keys)}."))
        if key is not None and key not in deed.keys:
            self._set(deed, (*deed.keys, key))

    def usual(self) -> None:
        """The keys that it has when nobody says otherwise."""
        if self.meant is not None:
            self._set(self._deed, USUAL[self._deed.name].keys)

    @property
    def _deed(self) -> Deed:
        """The deed that is meant."""
        assert self.meant is not None
        deed = self._listed[self.meant]
        assert deed is not None
        return deed

    def _set(self, deed: Deed, keys: Sequence[str]) -> None:
        """Give it these keys, unless one of them cannot be had."""
        now = self._knitter.settings.keys
        amiss = own_keys(USUAL, now)[1]
        wrong = own_keys(USUAL, {**now, deed.name: tuple(keys)})[1]
        new = [name for name in (deed.name, *wrong) if name in wrong and (name == deed.name or name not in amiss)]
        refusals = [" ".join(wrong[name]).strip() for name in new]
        if len(keys) > MOST_KEYS:
            refusals = [f"No more than {MOST_KEYS} keys may do one thing."]
        path = self._knitter.settings_file
        self.said = refusals[0] if refusals else self._save(lambda: write_keys(path, deed.name, keys))


def _row(deed: Deed) -> Row:
    return Cell(deed.title), Cell(key_words(deed.keys), deed.key), Cell(deed.about)
