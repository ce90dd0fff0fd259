"""One text and its places: every problem found in it is located by counting the text's own lines.

Lines end at LF, CR or CRLF, exactly as YAML counts them. Texts with other line breaks or with control
characters never get this far: ``unreadable`` finds them first.
"""

from __future__ import annotations

import re
from bisect import bisect_right
from collections import Counter, defaultdict
from collections.abc import Iterator
from functools import cached_property

from companion.knitting.value import Value
from companion.problems import Problem, Problems, in_order

MOST_PROBLEMS = 200
"""Reading stops when so many problems are found: nobody mends more in one go."""

MOST_OF_A_CAUSE = 3
"""So many problems that have one cause are told one by one."""

_BREAK = re.compile(r"\r\n|\r|\n")
_CONTROL = re.compile("[\x00-\x08\x0b\x0c\x0e-\x1f\x7f-\x9f\u2028\u2029\ufeff\ufffe\uffff\ud800-\udfff]")
_TAB_INDENT = re.compile(r"(?:^|(?<=[\r\n])) *\t")


class Source(Value):
    """A text and the name of the file it stands in, as problems show it."""

    name: str
    text: str

    @cached_property
    def lines(self) -> list[str]:
        """The lines without their ends."""
        return _BREAK.split(self.text)

    def line(self, number: int) -> str:
        """The line with this number, from 1; "" where the text has no such line."""
        return self.lines[number - 1] if 0 < number <= len(self.lines) else ""

    def problem(self, line: int, column: int, what: str, mend: str = "", *, is_warning: bool = False) -> Problem:
        """A problem at this place. Line and column count from 1; 0 where there is no place. What is missing is looked
        for past the last line, which is told then."""
        line = min(line, len(self._starts))
        return Problem(what, self.name, line, column, self.line(line), mend, is_warning)

    def place(self, offset: int) -> tuple[int, int]:
        """Line and column, from 1, of the character at this offset of the text."""
        line = bisect_right(self._starts, offset)
        return line, offset - self._starts[line - 1] + 1

    @cached_property
    def _starts(self) -> list[int]:
        return [0, *(found.end() for found in _BREAK.finditer(self.text))]


class Found:
    """The problems found so far, each once; of one cause the first few, the others counted."""

    def __init__(self) -> None:
        self._problems: dict[Problem, None] = {}
        self._by_cause: defaultdict[object, list[Problem]] = defaultdict(list)
        self._more: Counter[Problem] = Counter()

    def add(self, problem: Problem, cause: object = None) -> None:
        """Keep the problem. ``cause``: what it has in common with others; without it, what it says.

        Raises:
            Problems: so many are found that reading on would help nobody.
        """
        alike = self._by_cause[problem.what if cause is None else cause]
        if problem in self._problems:
            return
        if len(alike) == MOST_OF_A_CAUSE:
            self._more[alike[-1]] += 1
            return
        alike.append(problem)
        self._problems[problem] = None
        if len(self._problems) >= MOST_PROBLEMS:
            raise Problems([*self._told(), Problem(f"There may be more: reading stopped after {MOST_PROBLEMS}.")])

    @property
    def mistakes(self) -> int:
        """How many are found that are to mend."""
        return sum(not problem.is_warning for problem in self._problems)

    def stop(self) -> None:
        """Raise what is found.

        Raises:
            Problems: something is to mend; warnings alone do not count.
        """
        if not all(problem.is_warning for problem in self._problems):
            raise Problems(self._told())

    def _told(self) -> Iterator[Problem]:
        for problem in self._problems:
            more = self._more[problem]
            yield problem._replace(what=f"{problem.what} And {more:,} more of this kind.") if more else problem

    @property
    def warnings(self) -> tuple[Problem, ...]:
        """The warnings among what is found, in order."""
        return in_order(problem for problem in self._told() if problem.is_warning)


def unreadable(source: Source, *, tabs: bool) -> Iterator[Problem]:
    """The control characters of a text and, where ``tabs`` is asked for, the tabs in its indentation."""
    for found in _CONTROL.finditer(source.text):
        line, column = source.place(found.start())
        what = f"A control character (U+{ord(found.group()):04X}) stands here."
        yield source.problem(line, column, what, "Delete it: a plan is plain text.")
    if tabs:
        for found in _TAB_INDENT.finditer(source.text):
            line, column = source.place(found.end() - 1)
            yield source.problem(line, column, "A tab stands in the indentation.", "Indent with spaces.")


def has_control(text: str) -> bool:
    """Whether a value holds control characters, as a quoted YAML escape can smuggle in."""
    return _CONTROL.search(text) is not None
