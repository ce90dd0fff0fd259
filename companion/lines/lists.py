"""A list: its lines with numbers, one of them meant. A number means a line and tells it in full; Enter chooses it."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING

from companion.dialogue.deed import Deed
from companion.dialogue.listing import Listing
from companion.lines.answering import MOVES, moved
from companion.lines.commands import Command, Meant, typed_for
from companion.lines.heard import without_marks
from companion.lines.place import Place

if TYPE_CHECKING:
    from companion.lines.conversation import Conversation

_ON_A_LINE = ("choose", "tick", "new", "look", "rename", "remove", "add_key", "usual_keys")
"""Deeds that are done to the line that is meant; its number may stand after them."""
_AS_IT_IS = ("choose", "tick", "add_key", "usual_keys")
"""After these the lines stand where they stood, and only the one that is meant is told."""


class ListPlace(Place):
    """``_at``: the line that is meant, as the list counts them."""

    def __init__(self, conversation: Conversation, listing: Listing) -> None:
        super().__init__(conversation, listing)
        self.listing = listing
        self.where = listing.where
        self._at = 0
        self._begun = ""

    def begin(self) -> None:
        """The title and the lines."""
        self._fill()
        self._list()

    def after(self, deed: Deed) -> None:
        """What became of the line; all of them where they are others now."""
        before = self.listing.heading
        self._fill()
        if deed.name in _AS_IT_IS:
            heading = self.listing.heading
            self.talk.tell(heading if heading != before or self.listing.said else "", self._line())
        else:
            self._list()

    def obey(self, command: Command, rest: str) -> None:
        """None is of lists alone."""

    def take(self, line: str) -> None:
        """A number, a step to another line, or what all places know."""
        word = line.strip().casefold()
        count = len(self._lines)
        if word.isascii() and word.isdigit():
            if 1 <= int(word[:9]) <= count:
                self._mean(int(word) - 1)
            else:
                self.talk.say(f"Type a number from 1 to {count}." if count else "There is no line here.")
        elif word in MOVES and count:
            self._mean(moved(word, self._number - 1, count))
        else:
            super().take(line)

    def do(self, meant: Meant) -> None:
        """To the line whose number stands after the deed, where one does."""
        number, _, rest = meant.rest.partition(" ")
        if meant.what.name in _ON_A_LINE and number.isascii() and number.isdigit():
            if not 1 <= int(number[:9]) <= len(self._lines):
                self.talk.say(f"Type a number from 1 to {len(self._lines)}.")
                return
            self._at, meant = self._lines[int(number) - 1], meant._replace(rest=rest.strip())
        self.listing.at = self._at if self._lines else None
        super().do(meant)

    def called(self, what: Deed | Command) -> str:
        """By the list's own word, where it has one."""
        verb = self.listing.verbs.get(what.name)
        return super().called(what) if verb is None else f"{verb or 'nothing here'}.".capitalize()

    @property
    def _lines(self) -> list[int]:
        """Those that can be meant."""
        table = self.listing.table
        return [at for at in range(len(table.rows)) if not table.is_heading(at)]

    @property
    def _number(self) -> int:
        """That of the line that is meant, from 1."""
        return self._lines.index(self._at) + 1

    def _fill(self) -> None:
        """Put the lines in, and what takes time to work out, which is said before."""
        listing, self._begun = self.listing, ""
        listing.at = self._at
        listing.fill()
        if listing.is_slow:
            self._begun = listing.title
            self.talk.say(listing.title)
            listing.work_out(lambda: False)
        lines = self._lines
        self._at = next((at for at in lines if at >= self._at), lines[-1] if lines else 0)
        listing.at = self._at if lines else None

    def _list(self) -> None:
        listing = self.listing
        self.talk.tell(listing.trouble, "" if listing.heading == self._begun else listing.heading)
        self.talk.read_out(self._numbered(), is_told=True)
        if self._lines:
            self.talk.add(self._how())

    def _numbered(self) -> Iterator[str]:
        number = 0
        for at, row in enumerate(self.listing.table.rows):
            if isinstance(row, str):
                yield f"{row}:" if row else ""
            else:
                number += 1
                yield self._line_at(at, number)

    def _line_at(self, at: int, number: int) -> str:
        before, self.listing.at = self.listing.at, at
        line = without_marks(self.listing.in_full())
        self.listing.at = before
        return f"{number}. {line}"

    def _line(self) -> str:
        return self._line_at(self._at, self._number) if self._lines else ""

    def _mean(self, index: int) -> None:
        self._at = self.listing.at = self._lines[index]
        self.talk.tell(self._line(), *self.listing.about(), self._how())

    def _how(self) -> str:
        """What Enter does with the line that is meant, and the way out."""
        vocabulary = self.vocabulary
        choose, leave = vocabulary.meant(""), vocabulary.meant("leave")
        verb = self.listing.verbs.get(choose.what.name, "choose") if choose else ""
        enter = f"Enter, line {self._number}: {verb}. ".replace("?.", "?") if verb else ""
        return f"{enter}{typed_for(leave.what) if leave else 'leave'}: {self.listing.verbs.get('leave', 'back')}."
