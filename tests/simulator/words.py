"""A line of words, read from its beginning to the letter: what is not expected there is refused."""

from __future__ import annotations

import re
from collections.abc import Callable, Sequence
from typing import NamedTuple, TypeVar

Some = TypeVar("Some")


class NotUnderstood(AssertionError):
    """A sentence that is not in the grammar."""


class Manner(NamedTuple):
    """Whose words: "bind off" or "cast off"; the needle that the work comes from is the left one where the knitter
    works mirrored."""

    is_uk: bool = False
    is_mirrored: bool = False

    @property
    def bind_off(self) -> str:
        return "cast off" if self.is_uk else "bind off"

    @property
    def coming(self) -> str:
        """Where stitches lie that are worked: the first of the row furthest to this side."""
        return "left" if self.is_mirrored else "right"

    @property
    def going(self) -> str:
        return "right" if self.is_mirrored else "left"


class Words:
    """A line, read from its beginning."""

    def __init__(self, line: str, yarns: Sequence[str]) -> None:
        self.line = line
        self.at = 0
        self._yarns = sorted(yarns, key=len, reverse=True)

    def __bool__(self) -> bool:
        return self.at < len(self.line)

    def may(self, text: str) -> bool:
        """Whether this text stands here; it is read if so."""
        if not self.line.startswith(text, self.at):
            return False
        self.at += len(text)
        return True

    def must(self, text: str) -> None:
        if not self.may(text):
            self.fail(f"{text!r}")

    def fail(self, expected: str) -> None:
        raise NotUnderstood(f"expected {expected} at: {self.line[self.at:self.at + 60]!r}, in {self.line!r}")

    def pattern(self, pattern: str, what: str) -> str:
        found = re.compile(pattern).match(self.line, self.at)
        if not found:
            self.fail(what)
            raise AssertionError
        self.at = found.end()
        return found.group()

    def number(self) -> int:
        """A count without sign or leading zero; 0 is never told."""
        return int(self.pattern("[1-9][0-9]*", "a number"))

    def yarn(self) -> str:
        for name in self._yarns:
            if self.may(name):
                return name
        self.fail("a yarn")
        raise AssertionError

    def one_of(self, *texts: str) -> str:
        for text in sorted(texts, key=len, reverse=True):
            if self.may(text):
                return text
        self.fail(" or ".join(map(repr, texts)))
        raise AssertionError

    def counted(self, one: str, more: str) -> int:
        """ "1 st", "2 sts": the number, and the noun that fits it."""
        number = self.number()
        self.must(f" {one if number == 1 else more}")
        return number

    def several(self, each: Callable[[], Some], between: str) -> tuple[Some, ...]:
        found = [each()]
        while self.may(between):
            found.append(each())
        return tuple(found)
