"""A part's XML as it comes: elements begun and ended, and the text between. No tree is built and nothing is looked
up elsewhere: a document type, with which entities would come, is refused.

Prefixes are taken off names: those of the two kinds of documents are as the kinds' own programs write them.
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import Literal
from xml.parsers import expat

from companion.drafts.sheets.archive import Archive
from companion.knitting.value import Record
from companion.problems import Problems

DEEPEST = 64
MOST_ELEMENTS = 1_000_000
"""Of one part: three for each cell there may be, and some."""

_MOST_NAMES = 2_000
"""Of elements and what they say; the parser keeps each."""

_LONGEST = 1_000_000
"""No tag is so many bytes long."""


class Mark(Record):
    """``kind`` "<": the element ``name`` begins; ">": it ends; "": a stretch of text, which is ``name``."""

    kind: Literal["<", ">", ""]
    name: str
    values: dict[str, str]


_NONE: dict[str, str] = {}


def marks(archive: Archive, part: str) -> Iterator[Mark]:
    """Everything in a part, in order.

    Raises:
        Problems: it is no XML, has a document type, nests too deep, or is too much.
    """
    reading = _Reading(archive)
    fed = 0
    try:
        for chunk in archive.chunks(part):
            reading.parser.Parse(chunk, False)
            fed += len(chunk)
            if fed - reading.parser.CurrentByteIndex > _LONGEST + len(chunk):
                raise archive.damaged(part)
            yield from reading.taken()
        reading.parser.Parse(b"", True)
        yield from reading.taken()
    except (expat.ExpatError, LookupError, ValueError):  # the last two for encodings that are none
        raise archive.damaged(part) from None


class _Reading:
    """A parser, and what it found since it was last asked."""

    def __init__(self, archive: Archive) -> None:
        self.parser = parser = expat.ParserCreate()
        parser.buffer_text = True
        parser.StartDoctypeDeclHandler = self._doctype
        parser.StartElementHandler = self._begun
        parser.EndElementHandler = self._ended
        parser.CharacterDataHandler = self._text
        self._archive, self._depth, self._elements = archive, 0, 0
        self._found: list[Mark] = []
        self._local: dict[str, str] = {}

    def taken(self) -> list[Mark]:
        found, self._found = self._found, []
        return found

    def _doctype(self, *_: object) -> None:
        raise self._amiss("has a document type, which no spreadsheet needs.")

    def _begun(self, name: str, values: dict[str, str]) -> None:
        self._depth += 1
        self._elements += 1
        if self._depth > DEEPEST:
            raise self._amiss(f"nests more than {DEEPEST} deep.")
        if self._elements > MOST_ELEMENTS:
            raise self._amiss("holds more than a chart can have.")
        local = {self._without_prefix(key): value for key, value in values.items()} if values else _NONE
        self._found.append(Mark("<", self._without_prefix(name), local))

    def _ended(self, name: str) -> None:
        self._depth -= 1
        self._found.append(Mark(">", self._without_prefix(name), _NONE))

    def _text(self, text: str) -> None:
        self._found.append(Mark("", text, _NONE))

    def _without_prefix(self, name: str) -> str:
        local = self._local.get(name)
        if local is None:
            if len(self._local) == _MOST_NAMES:
                raise self._amiss("has more kinds of parts than any spreadsheet.")
            local = self._local[name] = name.rpartition(":")[2]
        return local

    def _amiss(self, what: str) -> Problems:
        return self._archive.amiss(what)
