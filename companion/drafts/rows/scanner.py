"""A stretch of written rows, read from left to right: the names of yarns in it."""

from __future__ import annotations

import re

from companion.plan.phrases import Amiss, Phrases, compiled
from companion.problems import nearest, quoted

MOST_YARNS = 40
"""More yarns than that have no symbols of their own."""

_WORD = r"[^\W\d_]+(?:['’-][^\W\d_]+)*(?:\d{1,2}(?!\w))?"

_MORE = re.compile(r"[^\S\n]+([^\W\d_]{3,40})(?![\w'’-])")
"""A word more of a name; one that holds a number is a stitch."""

RESERVED = frozenset([
    "across", "after", "again", "all", "alternate", "alternately", "alt", "an", "and", "around", "as", "at", "back",
    "beg", "begin", "beginning", "beside", "between", "bind", "bo", "both", "bound", "break", "but", "by", "cable",
    "carry", "cast", "catch", "change", "co", "continue", "cross", "cut", "dec", "decrease", "decreasing", "do",
    "down", "each", "edge", "edges", "end", "ending", "ends", "every", "even", "fasten", "first", "following",
    "foll", "for", "from", "garter", "gauge", "hangs", "held", "hold", "holder", "in", "inc", "increase",
    "increasing", "it", "join", "joining", "k", "knit", "knits", "knitwise", "last", "lay", "leave", "leaving",
    "left", "length", "less", "loop", "loops", "make", "marker", "more", "needle", "new", "next", "no", "of",
    "off", "old", "on", "once", "only", "or", "other", "over", "p", "part", "patt", "pattern", "piece", "place",
    "pm", "psso", "pull", "purl", "purls", "purlwise", "rem", "remain", "remaining", "rep", "repeat", "rest", "rib",
    "right", "rnd", "rnds", "round", "rounds", "row", "rows", "rs", "same", "seam", "seed", "set", "side", "skp",
    "skpo", "sl", "slip", "sm", "ssk", "ssp", "st", "stitch", "stitches", "stockinette", "stocking", "sts", "tail",
    "tbl", "tension", "then", "this", "through", "time", "times", "to", "together", "tog", "toward", "turn",
    "twice", "under", "until", "up", "using", "using", "work", "worked", "working", "wrap", "ws", "wyib", "wyif",
    "yarn", "yb", "yf", "yo", "yon", "yrn", "with", "wrong", "you", "your", "moss", "odd", "thrice", "colour",
    "color", "ktbl",
])  # fmt: skip
"""Words that are no names of yarns where none are listed."""


class Yarns:
    """The yarns of a text. ``is_closed``: they are listed, and no others are there."""

    def __init__(self) -> None:
        self.names: list[str] = []
        self.is_closed = False
        self._by_word: dict[str, str] = {}
        self._known: re.Pattern[str] | None = None

    def declare(self, name: str) -> str:
        """The name by which a yarn is known, which is new or not."""
        key = " ".join(name.split())
        for word in (key, key.casefold()):
            if word in self._by_word and (len(key) > 1 or word == key):
                return self._by_word[word]
        self.names.append(key)
        self._by_word[key] = key
        self._by_word.setdefault(key.casefold(), key)
        self._known = None
        return key

    def known(self, text: str, at: int, end: int) -> re.Match[str] | None:
        """A name that is known, here."""
        if not self.names:
            return None
        if self._known is None:
            long = sorted(self.names, key=len, reverse=True)
            self._known = re.compile("|".join(f"{_case(name)}{_edge(name)}" for name in long))
        return self._known.match(text, at, end)


def _case(name: str) -> str:
    words = r"\s+".join(map(re.escape, name.split()))
    return f"(?i:{words})" if len(name) > 1 else words


def _edge(name: str) -> str:
    """What must not follow a name, or it would be the beginning of another word."""
    return r"(?![^\W_])" if name[-1].isalnum() else ""


class Scanner(Phrases):
    """Reads ``text`` from ``at`` to ``end``, the names of ``yarns`` in it too."""

    def __init__(self, text: str, at: int, end: int, yarns: Yarns) -> None:
        super().__init__(text, at, end)
        self.yarns = yarns

    def known_yarn(self) -> str:
        """A yarn that is known already, read; "" where none stands here."""
        found = self.yarns.known(self.text, self.here, self.end)
        if found is None:
            return ""
        self.at = found.end()
        return self.yarns.declare(found.group())

    def yarn(self) -> str:
        """A yarn, read, be it new; "" where none stands here.

        Raises:
            Amiss: it has a name that is not listed.
        """
        if known := self.known_yarn():
            return known
        start = self.here
        found = compiled(_WORD).match(self.text, start, self.end)
        if found is None or found.group().casefold() in RESERVED:
            return ""
        name, end = found.group(), found.end()
        while len(name.rpartition(" ")[2]) > 2:  # "dark blue", but not "A B"
            more = _MORE.match(self.text, end, self.end)
            if more is None or more[1].casefold() in RESERVED or name.count(" ") == 2:
                break
            name, end = f"{name} {more[1]}", more.end()
        if self.yarns.is_closed:
            raise self.unknown(name, start)
        if len(name) > 40 or len(self.yarns.names) >= MOST_YARNS:
            raise Amiss(start, f"Here stands a new yarn, {quoted(name)}, and there are {MOST_YARNS} at most.")
        self.at = end
        return self.yarns.declare(name)

    def named_yarn(self) -> str:
        """A yarn, before which the word yarn or colour may stand, read; "" where none does.

        Raises:
            Amiss: it has a name that is not listed.
        """
        self.may(r"(?:yarn|colou?r)\b(?=\s+\S)")
        return self.yarn()

    def unknown(self, name: str, at: int) -> Amiss:
        """A yarn that is not listed."""
        near = nearest(name, self.yarns.names)
        mend = f"Did you mean {quoted(near)}? " if near else ""
        mend += f"Yarns listed above the rows: {', '.join(self.yarns.names)}."
        return Amiss(at, f"The yarn {quoted(name)} is not listed above the rows.", mend, "yarn")
