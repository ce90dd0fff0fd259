"""A list to pick from: a title, lines, what is told of one of them, and what choosing it does."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from typing import ClassVar

from companion.dialogue.deeds import Where
from companion.dialogue.questions import Asking
from companion.progress.actions import Refused
from companion.progress.trouble import Trouble


class Listing:
    """``at`` is the line that is meant, as the front end has it (None: there is none); ``headings`` are lines that
    cannot be chosen. ``said`` is why something could not be done, until the next thing is done; ``trouble`` is to be
    read before anything else.

    ``where`` its deeds are in the table; ``verbs``: what some of them are called here.
    """

    where: ClassVar[Where]
    verbs: ClassVar[Mapping[str, str]] = {}

    def __init__(self) -> None:
        self.title = self.said = self.trouble = ""
        self.lines: tuple[str, ...] = ()
        self.headings: frozenset[int] = frozenset()
        self.at: int | None = None

    @property
    def heading(self) -> str:
        """What stands above the lines."""
        return self.said or self.title

    def fill(self) -> None:
        """Put title and lines in."""
        raise NotImplementedError(f"{type(self).__name__} lists nothing")

    @property
    def is_slow(self) -> bool:
        """Something that takes time is still to be worked out; what is known before that stands there."""
        return False

    def work_out(self, is_left: Callable[[], bool]) -> None:
        """What takes time, until it is done or the list is left."""

    def about(self) -> list[str]:
        """What is told of the line that is meant."""
        return []

    def choose(self) -> Asking[None] | None:
        """The line that is meant was chosen."""
        raise NotImplementedError(f"{type(self).__name__} lists nothing to choose")

    def try_to(self, do: Callable[[], object]) -> bool:
        """Whether something that may not be possible was done; why it was not is said."""
        self.said = ""
        try:
            do()
        except (Refused, Trouble) as reason:
            self.said = str(reason)
        return not self.said

