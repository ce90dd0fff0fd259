"""One sheet: its cells by row and column, from 1, as they stand in the file; and what is hidden of it.

A cell is what it says and the colour that it is filled with. Cells that are neither are not kept.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from itertools import product

from companion.drafts.sheets.archive import SheetFile
from companion.knitting.value import Record

MOST_COLUMNS = 16_384
MOST_ROWS = 1_048_576
"""No sheet is larger (ECMA-376, Office Open XML; OpenDocument programs keep to it)."""

Place = tuple[int, int]
Span = tuple[int, int]
"""The first and the last."""

ALL_ROWS, ALL_COLUMNS = (1, MOST_ROWS), (1, MOST_COLUMNS)


NO_RULES = "Colours that a rule gives (conditional formats) are not read; what cells say is."


class Cell(Record):
    """``text``: what it says, without spaces at its ends; ``fill``: "#rrggbb", "" where it has none."""

    text: str = ""
    fill: str = ""


EMPTY = Cell()


class Sheet(Record):
    """``is_lines``: its cells are values in lines of text, which is how places are then told. ``notes``: what of it
    was not read, in sentences."""

    name: str
    cells: dict[Place, Cell]
    hidden_rows: tuple[Span, ...] = ()
    hidden_columns: tuple[Span, ...] = ()
    notes: tuple[str, ...] = ()
    is_lines: bool = False

    def where(self, place: Place) -> str:
        """A place as a knitter finds it."""
        row, column = place
        return f"line {row:,}, value {column:,}" if self.is_lines else f"{letters(column)}{row}"

    def area(self, first: Place, last: Place) -> str:
        """What lies from one place to another, as a knitter finds it."""
        if not self.is_lines:
            return self.where(first) if first == last else f"{self.where(first)}:{self.where(last)}"
        lines = f"line {first[0]:,}" if first[0] == last[0] else f"lines {first[0]:,} to {last[0]:,}"
        return f"value {first[1]:,} of {lines}" if first[1] == last[1] else lines

    @property
    def rows(self) -> list[int]:
        """Those in use that are not hidden."""
        return _shown((row for row, _ in self.cells), self.hidden_rows)

    @property
    def columns(self) -> list[int]:
        """Those in use that are not hidden."""
        return _shown((column for _, column in self.cells), self.hidden_columns)


def _shown(used: Iterator[int], hidden: tuple[Span, ...]) -> list[int]:
    """From the first that is used to the last, all but the hidden ones."""
    numbers = set(used)
    if not numbers:
        return []
    low, high = min(numbers), max(numbers)
    left = set(range(low, high + 1))
    for first, last in hidden:
        left.difference_update(range(max(low, first), min(high, last) + 1))
    return sorted(left)


class Cells:
    """Cells of a sheet as they are read; those of a file are so many at most."""

    def __init__(self, file: SheetFile) -> None:
        self._file = file
        self._found: dict[Place, Cell] = {}
        self._kept: dict[Cell, Cell] = {}
        self._lent = list[tuple[Span, Span, str]]()
        self._bare = list[tuple[Span, Span]]()
        self._merged = list[tuple[Span, Span]]()

    def put(self, rows: Span, columns: Span, cell: Cell) -> None:
        """A cell that stands in all of these rows and columns.

        Raises:
            Problems: they are too many, or where no sheet has any.
        """
        if rows[1] > MOST_ROWS or columns[1] > MOST_COLUMNS or min(rows[0], columns[0]) < 1:
            raise self._file.amiss("has cells where no sheet has any.")
        self._spend(rows, columns)
        if cell == EMPTY:
            return
        cell = self._kept.setdefault(cell, cell)
        for row in range(rows[0], rows[1] + 1):
            for column in range(columns[0], columns[1] + 1):
                self._found[row, column] = cell

    def lend(self, fill: str, rows: Span = ALL_ROWS, columns: Span = ALL_COLUMNS) -> None:
        """A fill for those of the cells there that have none of their own, and for what lies between them."""
        self._file.spend(1)
        self._lent.append((rows, columns, fill))

    def bare(self, rows: Span, columns: Span) -> None:
        """Cells that are lent no fill."""
        self._file.spend(1)
        self._bare.append((rows, columns))

    def merge(self, rows: Span, columns: Span) -> None:
        """Cells that are one, told in the first of them."""
        self._file.spend(1)
        self._merged.append((rows, columns))

    def whole(self) -> dict[Place, Cell]:
        """All that there are in the end.

        Raises:
            Problems: they are too many.
        """
        if self._found and self._lent:
            rows, columns = ((min(one), max(one)) for one in zip(*self._found, strict=True))
            areas = ((_within(one, rows), _within(other, columns)) for one, other in self._bare)
            bare = {place for area in areas for place in self._in(*area)}
            for some, across, fill in sorted(self._lent, key=lambda lent: lent[0] == ALL_ROWS):  # rows go first
                for place in self._in(_within(some, rows), _within(across, columns)):
                    there = self._found.get(place, EMPTY)
                    if not there.fill and place not in bare:
                        self._found[place] = Cell(there.text, fill)
        for rows, columns in self._merged:
            self.put(rows, columns, self._found.get((rows[0], columns[0]), EMPTY))
        return self._found

    def _in(self, rows: Span, columns: Span) -> Iterator[Place]:
        self._spend(rows, columns)
        return product(range(rows[0], rows[1] + 1), range(columns[0], columns[1] + 1))

    def _spend(self, rows: Span, columns: Span) -> None:
        self._file.spend(max(0, rows[1] - rows[0] + 1) * max(0, columns[1] - columns[0] + 1))


def _within(span: Span, bounds: Span) -> Span:
    return max(span[0], bounds[0]), min(span[1], bounds[1])


def letters(column: int) -> str:
    """A column's name: 1 is A, 27 is AA."""
    name = ""
    while column:
        column, place = divmod(column - 1, 26)
        name = chr(ord("A") + place) + name
    return name


_ADDRESS = re.compile(r"\$?([A-Z]{1,3})\$?([1-9][0-9]{0,6})", re.ASCII | re.IGNORECASE)


def place_of(address: str) -> Place | None:
    """Row and column of an address such as B12; None where it is none."""
    found = _ADDRESS.fullmatch(address)
    if found is None:
        return None
    column = 0
    for letter in found[1].upper():
        column = 26 * column + ord(letter) - ord("A") + 1
    return int(found[2]), column


def area_of(address: str) -> tuple[Span, Span] | None:
    """Rows and columns of an area such as B2:K20, or of one cell; None where it is none."""
    first, _, last = address.partition(":")
    one, other = place_of(first), place_of(last or first)
    if one is None or other is None:
        return None
    return (min(one[0], other[0]), max(one[0], other[0])), (min(one[1], other[1]), max(one[1], other[1]))
