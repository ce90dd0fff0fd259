"""What is said and what is typed, line by line. Each line that is said is out before the next one is asked for.

Words that are typed after a deed wait here and answer what it asks, one after the other.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator
from itertools import chain, islice

from companion.lines.heard import heard

PAGE = 20
"""So many lines are read out at once."""

AGAIN = ("a", "again")
"""What is typed to hear it again."""

MORE = "more"


class Ended(Exception):
    """Nobody types any more."""


class Talk:
    """``read`` gives a line with its end, or "" where nobody types any more; ``write`` takes some.

    ``waiting`` are words of the line typed last that have answered nothing yet; ``typed_at``: when it was typed, by a
    ``clock`` that only goes forward, None where no hand types and so no key can be held down."""

    def __init__(
        self, read: Callable[[], str], write: Callable[[str], None], clock: Callable[[], float] | None = None
    ) -> None:
        self._read, self._write, self._clock = read, write, clock
        self.waiting = ""
        self.typed_at: float | None = None
        self._last: list[str] = []
        self._is_unsaid = False
        self._rest: Iterator[str] = iter(())

    def say(self, *texts: str) -> None:
        """Beside what is told: it is not said again. A text of several lines is said as such, each as the text is
        heard."""
        lines = (type(text)(line) for text in texts if text for line in text.split("\n"))
        if said := "".join(f"{heard(line)}\n" for line in lines):
            self._write(said)

    def tell(self, *texts: str) -> None:
        """What is said again when that is asked for."""
        self._last, self._is_unsaid = list(texts), False
        self.say(*texts)

    def ask(self, *texts: str) -> None:
        """The same for a question; where words wait that answer it, it need not be said."""
        self._last, self._is_unsaid = list(texts), bool(self.waiting)
        if not self._is_unsaid:
            self.say(*texts)

    def ask_again(self, why: str) -> None:
        """What was typed is no answer, and what stood after it is for nothing now."""
        self.waiting = ""
        self.say(why)
        if self._is_unsaid:
            self.ask(*self._last)

    def tell_again(self) -> None:
        """The same once more."""
        self.say(*self._last)

    def add(self, *texts: str) -> None:
        """More of what is told."""
        self._last += texts
        self.say(*texts)

    def read_out(self, lines: Iterable[str], *, is_told: bool = False) -> None:
        """As much of it as is heard at once; the rest when it is asked for. ``is_told``: it is more of what is told,
        not said beside it."""
        self._rest = iter(lines)
        (self.add if is_told else self.say)(*islice(self._rest, PAGE))
        if (following := next(self._rest, None)) is not None:
            self._rest = chain([following], self._rest)
            self.say(f'There is more: "{MORE}" reads on.')

    @property
    def has_more(self) -> bool:
        """Something was not read out at once."""
        following = next(self._rest, None)
        if following is not None:
            self._rest = chain([following], self._rest)
        return following is not None

    def read_on(self) -> None:
        """The next lines of what was not read out at once."""
        following = next(self._rest, None)
        if following is None:
            self.say("There is no more.")
        else:
            self.read_out(chain([following], self._rest))

    def line(self) -> str:
        """The words that wait, or else the next line that is typed, without its end.

        Raises:
            Ended: there is none.
        """
        if self.waiting:
            line, self.waiting = self.waiting, ""
            return line
        line = self._read()
        if not line:
            raise Ended
        self.typed_at = self._clock() if self._clock else None
        return line.rstrip("\r\n")

    def words(self, most: int) -> str:
        """So many words of the line; those after them wait."""
        line = self.line()
        *taken, rest = [*line.split(maxsplit=most), ""][:most + 1] if line.strip() else ["", ""]
        self.waiting = rest.strip()
        return " ".join(taken)

    def drop(self) -> None:
        """Forget the words that wait; it is said."""
        if self.waiting:
            self.say(f'Not used: "{self.waiting}".')
        self.waiting = ""
