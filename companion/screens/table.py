"""Tables as they are drawn: which columns have room, what is shortened, and one line of one.

A number is never cut. Where anything is cut or left out, ``is_whole`` is False, and the line under the highlight is
told in full below the list.
"""

from __future__ import annotations

import re
from collections.abc import Collection, Sequence
from functools import lru_cache

from rich.cells import cell_len
from textual.color import Color
from textual.content import Content
from textual.css.styles import RulesMap
from textual.strip import Strip
from textual.style import Style
from textual.visual import RenderOptions, Visual

from companion.dialogue.table import Cell, Column, Table
from companion.knitting.cloth.colour import ink_on
from companion.knitting.cloth.fabric import Yarn
from companion.knitting.value import Record
from companion.problems import plain, shorten
from companion.screens.flowing import wrapped

GAP = "  "
CHIP = 4
"""Cells of a yarn's chip and the space after it."""

UP, DOWN = "▲", "▼"
"""Behind the title of the column that sorts."""


class Place(Record):
    """A column that is shown: which one, in how many cells, in short or in full."""

    column: int
    cells: int
    is_short: bool


class Fit(Record):
    """The columns that have room. ``is_whole``: all of them in full."""

    places: tuple[Place, ...]
    is_whole: bool


class Drawn:
    """A table, drawn line by line at any width; what is needed for all of its lines is worked out once a width."""

    def __init__(self, table: Table) -> None:
        self.table = table
        self._fits: dict[int, Fit] = {}
        self._needed = [(_needed(table, at, False), _needed(table, at, True)) for at in range(len(table.columns))]

    def fit(self, width: int) -> Fit:
        """Which columns have room in so many cells."""
        if width not in self._fits:
            self._fits[width] = _fit(self.table.columns, self._needed, width)
        return self._fits[width]

    def head(self, width: int) -> Content:
        """The columns' titles; nothing where they have none."""
        texts = [self._title(place) for place in self.fit(width).places]
        line = GAP.join(_set(text, place.cells, self.table.columns[place.column]) for text, place in texts)
        return Content(line.rstrip())

    def line(self, at: int, width: int) -> Content:
        """One of its lines."""
        row, parts = self.table.rows[at], list[Content | str]()
        if isinstance(row, str):
            return Content(plain(row))
        own = len(row) if self._is_open(row) else len(row) + 1
        for place in self.fit(width).places:
            if place.column >= own - 1:
                break
            cell, column = row[place.column], self.table.columns[place.column]
            text, room = plain(cell.short or cell.text if place.is_short else cell.text), place.cells
            parts.append(GAP if parts else "")
            if cell.yarn is not None:
                parts += [chip(cell.yarn), " "]
                room -= CHIP
            parts.append(_set(text, room, column))
        if self._is_open(row):
            parts += [GAP, shorten(plain(row[-1].text), self._left(width, len(row)))]
        return Content.assemble(*parts)

    def is_whole(self, at: int, width: int) -> bool:
        """Whether a line stands there in full in so many cells."""
        row = self.table.rows[at]
        if isinstance(row, str) or not self._is_open(row):
            return self.fit(width).is_whole
        before = [place for place in self.fit(width).places if place.column < len(row) - 1]
        are_whole = all(not place.is_short and place.cells >= self._needed[place.column][0] for place in before)
        return are_whole and cell_len(plain(row[-1].text)) <= self._left(width, len(row))

    def _is_open(self, row: Sequence[Cell]) -> bool:
        """Its last cell takes what room is left."""
        return len(row) < len(self.table.columns)

    def _left(self, width: int, cells: int) -> int:
        """Room for the last of so many cells."""
        before = [place for place in self.fit(width).places if place.column < cells - 1]
        return max(1, width - _width(before) - len(GAP))

    def _title(self, place: Place) -> tuple[str, Place]:
        column, is_sorting = self.table.columns[place.column], self.table.sorted_by == place.column
        title = column.short or column.title if place.is_short else column.title
        arrow = {"up": UP, "down": DOWN}.get(column.order, "") if is_sorting else ""
        return (f"{title[:place.cells - 1]}{arrow}" if arrow else title[:place.cells]), place


class TableLine(Visual):
    """One line of a table, in a list: drawn when it is seen, as wide as the list is then."""

    def __init__(self, drawn: Drawn, at: int) -> None:
        self._drawn, self._at = drawn, at

    def __str__(self) -> str:
        row = self._drawn.table.rows[self._at]
        return row if isinstance(row, str) else GAP.join(cell.text for cell in row if cell.text)

    def render_strips(self, width: int, height: int | None, style: Style, options: RenderOptions) -> list[Strip]:
        """A heading or a line without columns is broken where it must be."""
        return self._content(width).render_strips(width, height, style, options)

    def get_optimal_width(self, rules: RulesMap, container_width: int) -> int:
        """All there is."""
        return container_width

    def get_height(self, rules: RulesMap, width: int) -> int:
        """Lines that it takes."""
        return len(wrapped(str(self), width)) or 1 if self._is_alone else 1

    @property
    def _is_alone(self) -> bool:
        return isinstance(self._drawn.table.rows[self._at], str) or len(self._drawn.table.columns) == 1

    def _content(self, width: int) -> Content:
        if self._is_alone:
            return Content("\n".join(wrapped(str(self), width)))
        return self._drawn.line(self._at, width)


@lru_cache(maxsize=256)
def chip(yarn: Yarn) -> Content:
    """The yarn's symbol on its colour; its edges are seen on a ground of the same colour too."""
    style = Style(background=Color.parse(yarn.colour), foreground=Color.parse(ink_on(yarn.colour)), bold=True)
    return Content.styled(f"▏{yarn.symbol}▕", style)


def _needed(table: Table, at: int, is_short: bool) -> int:
    """Cells that a column needs."""
    column = table.columns[at]
    title = column.short or column.title if is_short else column.title
    arrow = table.sorted_by == at
    rows = (row for row in table.rows if not isinstance(row, str))
    cells = (_cells(row[at], is_short) for row in rows if at < len(row) - (len(row) < len(table.columns)))
    return max(cell_len(title) + (arrow if title else 0), max(cells, default=0))


def _cells(cell: Cell, is_short: bool) -> int:
    text = cell.short or cell.text if is_short else cell.text
    return cell_len(plain(text)) + CHIP * (cell.yarn is not None)


def _fit(columns: Sequence[Column], needed: Sequence[Sequence[int]], width: int) -> Fit:
    """All columns in full; shortened where they must be, those that yield first; without those that yield first where
    that is not enough. One that does not yield is cut only when none is left that does."""
    yielding = sorted((at for at in range(len(columns)) if columns[at].yields), key=lambda at: -columns[at].yields)
    places: list[Place] = []
    for given_up in range(len(yielding) + 1):
        kept = [at for at in range(len(columns)) if at not in yielding[:given_up]]
        places = _shortened(columns, needed, kept, width, is_last=given_up == len(yielding))
        if _width(places) <= width:
            break
    is_whole = all(not place.is_short and place.cells == needed[place.column][0] for place in places)
    return Fit(tuple(places), is_whole and len(places) == len(columns) and _width(places) <= width)


def _shortened(
    columns: Sequence[Column], needed: Sequence[Sequence[int]], kept: Sequence[int], width: int, *, is_last: bool
) -> list[Place]:
    """These columns, as much of them shortened as must be, those that yield first: to a shorter form, then cut."""
    places = {at: Place(at, needed[at][0], False) for at in kept}
    staying = [at for at in kept if not columns[at].yields]
    for at in (*sorted({*kept} - {*staying}, key=lambda at: -columns[at].yields), *staying):
        if _width(places.values()) > width and needed[at][1] < needed[at][0]:
            places[at] = Place(at, needed[at][1], True)
        excess = _width(places.values()) - width
        if excess > 0 and columns[at].yields:
            places[at] = _cut(places[at], columns[at], excess)
    for at in staying if is_last else ():
        places[at] = _cut(places[at], columns[at], _width(places.values()) - width)
    for at, place in places.items():
        spare = width - _width(places.values())
        if spare > 0:
            places[at] = place._replace(cells=min(needed[at][place.is_short], place.cells + spare))
    return list(places.values())


def _cut(place: Place, column: Column, excess: int) -> Place:
    """The column in so many cells less, as far as it may be cut."""
    if excess <= 0 or not 0 < column.least < place.cells:
        return place
    return place._replace(cells=max(column.least, place.cells - excess))


def _width(places: Collection[Place]) -> int:
    return sum(place.cells for place in places) + len(GAP) * (len(places) - 1)


def _set(text: str, cells: int, column: Column) -> str:
    """A text in so many cells, at the right where it is a number; cut where it must be, but in no number."""
    if cell_len(text) > cells:
        text = re.sub(r"\d+(?=…$)", "", shorten(text, cells))
    space = " " * max(0, cells - cell_len(text))
    return space + text if column.is_number else text + space
