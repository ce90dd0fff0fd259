"""What a typed line means: a deed of the table by letter, key, name or title, or a command of line mode alone; and
the words after it.
"""

from __future__ import annotations

import re
import string
from collections.abc import Iterable, Iterator, Mapping, Sequence

from companion.dialogue.deed import Deed, Where
from companion.dialogue.knitter import Knitter
from companion.knitting.value import Record
from companion.settings import key_of

SHOWN_ALONE = frozenset({
    "alone", "chart", "zoom", "held", "scroll_up", "scroll_down", "scroll_left", "scroll_right", "follow", "light",
    "map", "page_up", "page_down", "palette", "picture", "draw",
})  # fmt: skip
"""Deeds that change what is drawn and nothing else, or need a screen; their letters are free for line mode's own."""

TAKING_WORDS = frozenset({
    "rip", "at", "where", "happened", "note", "ends", "sew", "strands", "techniques", "settings", "help", "quit",
    "choose", "tick", "new", "make", "look", "rename", "remove", "bring_back", "add_key", "usual_keys", "leave",
})  # fmt: skip
"""Deeds that ask or open something; what is typed after them answers it."""


class Command(Record):
    """Something that line mode alone can do."""

    name: str
    letter: str
    title: str
    about: str
    where: Where
    takes_words: bool = False


OWN: tuple[Command, ...] = (
    Command("full", "f", "In full", "What is to be done now, told in full.", "work"),
    Command("read", "c", "Chart", "A row of the chart in runs: c 12, c 12-15, c left 3; c alone: the row in work.",
            "work", takes_words=True),
    Command("place", "p", "Place", "The row, how far it is, and where each strand hangs.", "work"),
    Command("again", "a", "Again", "What was told last, once more.", "anywhere"),
    Command("more", "", "More", "The next lines of something long.", "anywhere"),
)  # fmt: skip
"""In the order in which they are told. Where the table has the letter for something else, it has that."""

SPARE_LETTERS: Mapping[str, str] = {"back": "k"}
"""For deeds whose keys are no letters."""

MOST_WORDS = 4
"""The longest title."""

_SIGNS = {key_of(sign): sign for sign in string.punctuation}


class Meant(Record):
    """What a line means, and the words after that."""

    what: Deed | Command
    rest: str = ""

    @property
    def takes_words(self) -> bool:
        """Something can be done with the words after it."""
        return self.what.takes_words if isinstance(self.what, Command) else self.what.name in TAKING_WORDS


class Typist(Knitter):
    """A knitter who types lines, and hears what is said of them."""

    is_heard = True

    def key_of(self, name: str) -> str:
        """What is typed for a deed, as it stands in sentences."""
        return typed_for(next(deed for deed in self.deeds if deed.name == name))


def typed_for(what: Deed | Command) -> str:
    """The shortest that is typed for it: Enter, a letter or a sign; else its name."""
    if isinstance(what, Command):
        return what.letter or what.name
    if "enter" in what.keys:
        return "Enter"
    signs = (_SIGNS.get(key, key) for key in what.keys if not key.isupper())  # capitals are typed as small letters
    spare = SPARE_LETTERS.get(what.name, what.name)
    return next((sign for sign in signs if len(sign) == 1), "space" if "space" in what.keys else spare)


def commands_of(where: Where) -> tuple[Command, ...]:
    """Those of a place."""
    return tuple(one for one in OWN if one.where in (where, "anywhere"))


class Vocabulary:
    """Everything that can be typed in a place. A deed's own letter goes before that of a command."""

    def __init__(self, deeds: Iterable[Deed], commands: Iterable[Command]) -> None:
        self._known: dict[str, Deed | Command] = {}
        deeds, commands = list(deeds), list(commands)
        drawn = [deed for deed in deeds if deed.name in SHOWN_ALONE]
        said = [deed for deed in deeds if deed.name not in SHOWN_ALONE]
        self.all: Sequence[Deed | Command] = [*said, *commands]
        for those in (drawn, commands, said):
            for what in those:
                for word in _words_for(what):
                    self._known[word] = what
        for deed in deeds:
            if letter := SPARE_LETTERS.get(deed.name):
                self._known.setdefault(letter, deed)

    def meant(self, line: str) -> Meant | None:
        """What a line means; None where it is nothing that is known here."""
        if not line.strip():
            key = self._known.get("space" if line else "enter")
            return Meant(key) if key else None
        parts = line.split()
        for length in range(min(MOST_WORDS, len(parts)), 0, -1):
            head = " ".join(parts[:length])
            if what := self._known.get(head) or self._titled(head, length):
                return Meant(what, line.split(maxsplit=length)[length].rstrip() if len(parts) > length else "")
        together = re.fullmatch(r"([a-z])([0-9].*)", line.strip().casefold())
        if together and (what := self._known.get(together[1])) and Meant(what).takes_words:
            return Meant(what, together[2])
        return None

    def _titled(self, head: str, length: int) -> Deed | Command | None:
        """What is called so but for capitals and marks; a mark alone is a word that is not to be lost."""
        bare = _bare(head)
        return self._known.get(bare) if len(bare.split()) == length else None

    @property
    def names(self) -> Sequence[str]:
        """The words that are known, to find one that is near."""
        return [word for word in self._known if len(word) > 1]


def _words_for(what: Deed | Command) -> Iterator[str]:
    yield from filter(None, (what.name, what.name.replace("_", " "), _bare(what.title)))
    if isinstance(what, Command):
        yield from filter(None, (what.letter,))
        return
    for key in what.keys:
        yield key
        yield {"pageup": "page up", "pagedown": "page down"}.get(key, _SIGNS.get(key, key))


def _bare(title: str) -> str:
    """A title as it is typed: "where am i"."""
    return " ".join(re.sub(r"[^\w ]", " ", title.casefold()).split())
