"""A stretch of a text in the trade's words, read from left to right; every word in it keeps its place in the text.

Patterns ignore case, and a space in one stands for any white space, an end of line too; one with a question mark
behind it for none as well.
"""

from __future__ import annotations

import re
from functools import lru_cache

NUMBERS = {
    word: number for number, word in enumerate(
        ["one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten", "eleven", "twelve"], 1
    )
}  # fmt: skip

NUMBER = r"(?:\d{1,9}|" + "|".join(NUMBERS) + r")\b"
"""The pattern of a number in digits or in words."""

STS = r"(?:stitches|stitch|sts|st)\b\.?"

ORDINALS = {
    word: number for number, word in enumerate(
        ["first", "second", "third", "fourth", "fifth", "sixth", "seventh", "eighth", "ninth", "tenth", "eleventh",
         "twelfth"], 1
    )
}  # fmt: skip
NTH = r"(?:\d{1,7}(?:st|nd|rd|th)|" + "|".join(ORDINALS) + r")\b"
"""The pattern of the place of one among several: "2nd", "third"."""


class Amiss(Exception):
    """What is wrong at an offset of the text. ``cause``: what it has in common with others."""

    def __init__(self, at: int, what: str, mend: str = "", cause: str = "") -> None:
        super().__init__(what)
        self.at, self.what, self.mend, self.cause = at, what, mend, cause or what


@lru_cache(maxsize=512)
def compiled(pattern: str) -> re.Pattern[str]:
    """A pattern for words that stand anywhere, over several lines too."""
    return re.compile(re.sub(" ([?*]?)", lambda space: r"\s*" if space[1] else r"\s+", pattern), re.IGNORECASE)


class Phrases:
    """Reads ``text`` from ``at`` to ``end``."""

    def __init__(self, text: str, at: int, end: int) -> None:
        self.text, self.at, self.end = text, at, end

    @property
    def is_over(self) -> bool:
        """Nothing but white space is left."""
        return self.here >= self.end

    @property
    def here(self) -> int:
        """The offset of the next word."""
        at = self.at
        while at < self.end and self.text[at].isspace():
            at += 1
        return at

    def look(self, pattern: str) -> re.Match[str] | None:
        """What stands here, if it is of this pattern."""
        return compiled(pattern).match(self.text, self.here, self.end)

    def may(self, pattern: str) -> re.Match[str] | None:
        """The same, read."""
        found = self.look(pattern)
        if found:
            self.at = found.end()
        return found

    def rest(self, most: int = 40) -> str:
        """What stands here, to be quoted: up to the next comma or the like."""
        found = re.compile(f"[^,;.\\n]{{1,{most}}}").match(self.text, self.here, self.end)
        return found.group().strip() if found else self.text[self.here:self.end][:1]

    def number(self, word: str) -> int:
        """A number in digits or in words."""
        return int(word[:9]) if word.isdigit() else NUMBERS[word.casefold()]

    def nth(self, word: str) -> int:
        """The number in a place among several."""
        digits = re.match(r"\d{1,7}", word)
        return int(digits[0]) if digits else ORDINALS[word.casefold()]
