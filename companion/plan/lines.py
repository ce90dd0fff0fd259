"""The lines of a chart, wherever they stand: each keeps its place in its own file."""

from __future__ import annotations

from collections.abc import Iterable
from itertools import count

from companion.knitting.cloth.rows import Row
from companion.knitting.value import Record
from companion.knitting.words.places import row_named
from companion.plan.source import Source
from companion.problems import Problem


class Lines(Record):
    """The lines of one chart that are not blank, top line first: their texts, and their line numbers in the file.

    ``column`` is where each text begins in its line; 0 = unknown, None = as far in as the file's line is longer.
    """

    source: Source
    numbers: list[int]
    texts: list[str]
    column: int | None = 1

    @classmethod
    def of(cls, source: Source, texts: Iterable[str], first: int, step: int = 1, column: int | None = 1) -> Lines:
        """The lines among ``texts`` that are not blank; the first text stands on line ``first`` of the file."""
        kept = [(number, text) for number, text in zip(count(first, step), texts, strict=False) if text.strip()]
        return cls(source, [number for number, _ in kept], [text for _, text in kept], column)

    def among(self, indices: Iterable[int]) -> Lines:
        """Some of the lines."""
        kept = list(indices)
        return self._replace(numbers=[self.numbers[i] for i in kept], texts=[self.texts[i] for i in kept])

    def problem(self, index: int, offset: int, what: str, mend: str = "") -> Problem:
        """A problem at the offset in the line at ``index``, told by its row."""
        row = f"Row {len(self.texts) - index} of this section, counted from the bottom, "
        return self.line_problem(index, row + what, mend, offset)

    def line_problem(self, index: int, what: str, mend: str = "", offset: int = 0) -> Problem:
        """A problem at the offset in the line at ``index``, which may be no row."""
        text, number = self.texts[index], self.numbers[index]
        offset = max(offset, len(text) - len(text.lstrip()))
        start = len(self.source.line(number)) - len(text) + 1 if self.column is None else self.column
        return self.source.problem(number, start + offset if start else 0, what, mend)


def row_of_section(row: Row, level: int, start: int) -> str:
    """How a row on this level of the piece (from 0) is told of a section that begins on the level ``start``."""
    told = f"Row {level - start + 1:,} of this section, counted from the bottom"
    whole = "" if row.part else " of the piece"
    return f"{told} ({row_named(row)}{whole})" if start else told
