"""What of a sheet is its chart: cells that are filled or say one letter, close together; and what stands around it.

Places in a ``View`` count from 0, hidden rows and columns left out; messages name cells as the file does.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from functools import cached_property
from itertools import product

from companion.drafts.sheets.sheet import EMPTY, Cell, Place, Sheet, Span
from companion.knitting.value import Record

MOST_BLOCKS = 10_000
"""Among more no chart is looked for."""


class Box(Record):
    """Rows and columns of a view, the last of each included."""

    top: int
    bottom: int
    left: int
    right: int

    def has(self, place: Place) -> bool:
        """Whether a place lies in it."""
        return self.top <= place[0] <= self.bottom and self.left <= place[1] <= self.right

    def with_others(self, others: Sequence[Box]) -> Box:
        """The box around it and others."""
        tops, bottoms, lefts, rights = zip(self, *others, strict=True)
        return Box(min(tops), max(bottoms), min(lefts), max(rights))


class View:
    """A sheet without what is hidden in it."""

    def __init__(self, sheet: Sheet) -> None:
        self._sheet = sheet
        self.rows, self.columns = sheet.rows, sheet.columns
        of_row = {row: number for number, row in enumerate(self.rows)}
        of_column = {column: number for number, column in enumerate(self.columns)}
        self._cells = {
            (of_row[row], of_column[column]): cell for (row, column), cell in sheet.cells.items()
            if row in of_row and column in of_column
        }

    def at(self, row: int, column: int) -> Cell:
        return self._cells.get((row, column), EMPTY)

    def where(self, row: int, column: int) -> str:
        """A place as the file names it."""
        return self._sheet.where((self.rows[row], self.columns[column]))

    def box_words(self, box: Box) -> str:
        """A box as the file names it."""
        first, last = (box.top, box.left), (box.bottom, box.right)
        return self._sheet.area(*((self.rows[row], self.columns[column]) for row, column in (first, last)))

    def box_of(self, rows: Span, columns: Span) -> Box | None:
        """What of an area of the file is in use; None where nothing is."""
        some = [at for at, row in enumerate(self.rows) if rows[0] <= row <= rows[1]]
        across = [at for at, column in enumerate(self.columns) if columns[0] <= column <= columns[1]]
        return Box(some[0], some[-1], across[0], across[-1]) if some and across else None

    @cached_property
    def blocks(self) -> list[Block]:
        """Marked cells that touch, at their corners too, the largest block first; no more than one past the most."""
        left = {place for place, cell in self._cells.items() if is_marked(cell)}
        found = []
        while left:
            open_ = [left.pop()]
            block = dict[Place, Cell]()
            while open_:
                row, column = open_.pop()
                block[row, column] = self._cells[row, column]
                for near in ((row + down, column + across) for down in (-1, 0, 1) for across in (-1, 0, 1)):
                    if near in left:
                        left.remove(near)
                        open_.append(near)
            found.append(Block(block))
            if len(found) > MOST_BLOCKS:
                break
        return sorted(found, key=lambda block: (-len(block.cells), block.box))


class Block(Record):
    """Marked cells by their places."""

    cells: Mapping[Place, Cell]

    @property
    def box(self) -> Box:
        rows, columns = zip(*self.cells, strict=True)
        return Box(min(rows), max(rows), min(columns), max(columns))

    @property
    def is_numbers(self) -> bool:
        """Nothing but numbers on no colour."""
        return all(is_number(cell.text) and not cell.fill for cell in self.cells.values())

    def by_row(self) -> Iterator[list[tuple[Place, Cell]]]:
        """The cells of each row, from the left."""
        rows = dict[int, list[tuple[Place, Cell]]]()
        for place, cell in sorted(self.cells.items()):
            rows.setdefault(place[0], []).append((place, cell))
        yield from rows.values()


def is_number(text: str) -> bool:
    """Whether it is a whole number such as rows have."""
    return text.isascii() and text.isdecimal() and len(text) <= 5


def is_marked(cell: Cell) -> bool:
    """Whether it may be a stitch, or a number beside stitches."""
    return is_number(cell.text) or (len(cell.text) <= (_LONGEST_CODE if cell.fill else 1) and cell != EMPTY)


_LONGEST_CODE = 3
"""A filled cell may say so much of its yarn; what says more is a heading."""


class Named(Record):
    """A line of a legend: a cell, the name beside it, and what is said after that."""

    place: Place
    cell: Cell
    name: str
    more: tuple[str, ...]


_MOST_SAID = 4


def legend_of(view: View, block: Block) -> list[Named]:
    """The block as a legend, a line for each row of it; nothing where it is none: every row must be alike from end to
    end and have a name to its right, or else to its left."""
    rows = list(block.by_row())
    if any(len({cell for _, cell in row}) > 1 for row in rows):
        return []
    right = [_beside(view, *row[-1]) for row in rows]
    found = right if all(right) else [_before(view, *row[0]) for row in rows]
    return [one for one in found if one] if all(found) else []


def _beside(view: View, place: Place, cell: Cell) -> Named | None:
    row, column = place
    texts = [view.at(row, column + step).text for step in range(1, _MOST_SAID + 2)]
    return Named(place, cell, texts[0], tuple(filter(None, texts[1:]))) if _is_name(texts[0]) else None


def _before(view: View, place: Place, cell: Cell) -> Named | None:
    text = view.at(place[0], place[1] - 1).text
    return Named(place, cell, text, ()) if _is_name(text) else None


def _is_name(text: str) -> bool:
    return len(text) > 1 and not is_number(text)


class Taken(Record):
    """Borders of a box that were numbers: which, by their places; ``is_downward``: rows count from the top."""

    box: Box
    borders: tuple[str, ...]
    is_downward: bool = False
    is_by_more: bool = False


def without_numbers(view: View, box: Box) -> Taken:
    """A box less the numbers of rows and stitches at its borders."""
    borders, is_downward, is_by_more = list[str](), False, False
    is_strict = _has_digits(view, box)
    while True:
        for side in ("left", "right", "top", "bottom"):
            line, inner = _border(box, side)
            step = _step([view.at(*place) for place in line], view, inner, is_strict=is_strict) if inner else 0
            if inner and step:
                is_rows = side in ("left", "right")
                borders.append(view.box_words(Box(line[0][0], line[-1][0], line[0][1], line[-1][1])))
                is_downward |= is_rows and step > 0
                is_by_more |= is_rows and abs(step) != 1
                box = inner
                break
        else:
            return Taken(box, tuple(borders), is_downward, is_by_more)


def _has_digits(view: View, box: Box) -> bool:
    """Whether digits are stitches: they stand on no colour elsewhere than in borders of nothing but numbers; or
    nothing is left without these."""
    borders = {
        place for side in ("left", "right", "top", "bottom") for line in [_border(box, side)[0]]
        if all(_is_beside(view.at(*one)) for one in line) for place in line
    }
    places = product(range(box.top, box.bottom + 1), range(box.left, box.right + 1))
    left = [view.at(*place) for place in places if place not in borders]
    return not left or any(cell.text and _is_beside(cell) for cell in left)


def _is_beside(cell: Cell) -> bool:
    """Whether it may stand in a border of numbers."""
    return not cell.fill and (not cell.text or is_number(cell.text))


def _border(box: Box, side: str) -> tuple[list[Place], Box | None]:
    """The places of a border, and the box without it."""
    match side:
        case "left":
            inner = box._replace(left=box.left + 1)
            line = [(row, box.left) for row in range(box.top, box.bottom + 1)]
        case "right":
            inner = box._replace(right=box.right - 1)
            line = [(row, box.right) for row in range(box.top, box.bottom + 1)]
        case "top":
            inner = box._replace(top=box.top + 1)
            line = [(box.top, column) for column in range(box.left, box.right + 1)]
        case _:
            inner = box._replace(bottom=box.bottom - 1)
            line = [(box.bottom, column) for column in range(box.left, box.right + 1)]
    return line, inner if inner.top <= inner.bottom and inner.left <= inner.right else None


def _step(line: Sequence[Cell], view: View, inner: Box, *, is_strict: bool) -> float:
    """By how much the numbers of a border rise from one cell to the next; 0 where they are none, or rise unevenly.
    Where digits are stitches, too, every cell must have one."""
    said = [(at, int(cell.text)) for at, cell in enumerate(line) if is_number(cell.text)]
    fills = {cell.fill for cell in line}
    if len(said) < (4 if is_strict else 2) or any(cell.text and not is_number(cell.text) for cell in line):
        return 0
    (first, low), (last, high) = said[0], said[-1]
    step = (high - low) / (last - first)
    if any(number != low + step * (at - first) for at, number in said) or (is_strict and len(said) < len(line) - 2):
        return 0
    if fills == {""}:
        return step
    within = {
        view.at(row, column).fill
        for row in range(inner.top, inner.bottom + 1) for column in range(inner.left, inner.right + 1)
    }
    return step if len(fills - {""}) == 1 and not fills & within else 0
