"""Sheets of an OpenDocument spreadsheet (OASIS OpenDocument 1.3, part 3): what cells say, and how they are filled.

A cell has the style it names, or else that of its row, or of its column; the last two as far as cells go. What is
repeated past everything that says or shows something is passed over.
"""

from __future__ import annotations

from collections.abc import Iterator

from companion.drafts.sheets.archive import Archive
from companion.drafts.sheets.markup import Mark, marks
from companion.drafts.sheets.sheet import EMPTY, MOST_COLUMNS, MOST_ROWS, NO_RULES, Cell, Cells, Sheet, Span
from companion.drafts.sheets.xlsx import said
from companion.knitting.value import Record
from companion.plan.colours import hex_of

CONTENT = "content.xml"
_MANIFEST = "META-INF/manifest.xml"
_DEEPEST = 20
"""Styles stand for others; so many in a row are followed."""


_LAST_COLUMNS = (256, 1024, MOST_COLUMNS)
_LAST_ROWS = (65_536, MOST_ROWS)
"""Where sheets of old programs and new ones end: what is repeated up to there was filled as a whole row or column."""


class _Style(Record):
    """``fill`` None where it is that of ``parent``."""

    parent: str
    fill: str | None = None


def sheets(archive: Archive) -> Iterator[Sheet]:
    """Those that are not hidden, in order.

    Raises:
        Problems: what is read is damaged, too much, or behind a password.
    """
    if _MANIFEST in archive and any(mark.name == "encryption-data" for mark in marks(archive, _MANIFEST)):
        raise archive.amiss("is behind a password.")
    reading = _Reading(archive)
    if "styles.xml" in archive:
        for mark in marks(archive, "styles.xml"):
            reading.take(mark)
    for mark in marks(archive, CONTENT):
        if (found := reading.take(mark)) is not None:
            yield found


class _Reading:
    """A document on its way, mark by mark."""

    def __init__(self, archive: Archive) -> None:
        self._archive = archive
        self._styles = dict[str, _Style]()
        self._style = ""
        self._hidden_tables = set[str]()
        self._cells = Cells(archive)
        self._table = self._name = ""
        self._is_hidden = self._has_rules = False
        self._row = self._column = 0
        self._row_times = 1
        self._row_style = ""
        self._row_cells = list[tuple[Span, Cell, bool]]()
        self._column_styles = list[tuple[Span, str]]()
        self._columns_hidden, self._rows_hidden = list[Span](), list[Span]()
        self._cell: Mark | None = None
        self._texts = list[str]()
        self._note = 0

    def take(self, mark: Mark) -> Sheet | None:
        """Goes on by one mark; a sheet when it has ended."""
        if mark.kind == "":
            if self._cell is not None and not self._note:
                self._texts.append(mark.name)
        elif mark.kind == "<":
            self._begin(mark)
        elif mark.name == "style":
            self._style = ""
        elif mark.name == "annotation":
            self._note -= 1
        elif mark.name in ("table-cell", "covered-table-cell") and self._cell is not None:
            self._end_cell(self._cell)
        elif mark.name == "p" and self._cell is not None:
            self._texts.append(" ")
        elif mark.name == "table-row":
            self._end_row()
        elif mark.name == "table" and self._table:
            self._table = ""
            return None if self._is_hidden else self._sheet()
        return None

    def _begin(self, mark: Mark) -> None:
        values = mark.values
        match mark.name:
            case "style":
                self._style = values.get("name", "")
                self._styles[self._style] = _Style(values.get("parent-style-name", ""))
            case "table-cell-properties" if self._style and "background-color" in values:
                fill = hex_of(values["background-color"]) or ""
                self._styles[self._style] = self._styles[self._style]._replace(fill=fill)
            case "table-properties" if self._style and values.get("display") == "false":
                self._hidden_tables.add(self._style)
            case "map" if self._style:
                self._has_rules = True
            case "conditional-format":
                self._has_rules = True
            case "table" if not self._table:
                self._table, self._name = "table", values.get("name", "")
                self._is_hidden = values.get("style-name", "") in self._hidden_tables
                self._cells = Cells(self._archive)
                self._row, self._column = 1, 1
                self._column_styles, self._columns_hidden, self._rows_hidden = [], [], []
            case "table-column" if self._table:
                span = self._column, self._column + _times(values, "number-columns-repeated", MOST_COLUMNS) - 1
                self._column = span[1] + 1
                self._column_styles.append((span, values.get("default-cell-style-name", "")))
                if values.get("visibility", "visible") != "visible":
                    self._columns_hidden.append(span)
            case "table-row" if self._table:
                self._row_times = _times(values, "number-rows-repeated", MOST_ROWS)
                self._row_style, self._column, self._row_cells = values.get("default-cell-style-name", ""), 1, []
                if values.get("visibility", "visible") != "visible":
                    self._rows_hidden.append((self._row, self._row + self._row_times - 1))
            case "table-cell" | "covered-table-cell" if self._table:
                self._cell, self._texts = mark, []
            case "annotation":
                self._note += 1
            case "s" if self._cell is not None and not self._note:
                self._texts.append(" ")

    def _end_cell(self, mark: Mark) -> None:
        self._cell = None
        values = mark.values
        columns = self._column, self._column + _times(values, "number-columns-repeated", MOST_COLUMNS) - 1
        self._column = columns[1] + 1
        if mark.name == "covered-table-cell":
            return
        text = said("".join(self._texts))
        if values.get("value-type") == "float" and text:
            text = said(values.get("value", text))
        style = values.get("style-name", "")
        self._row_cells.append((columns, Cell(text, self._fill(style)), bool(style)))
        wide, high = (
            _times(values, f"number-{which}-spanned", most)
            for which, most in (("columns", MOST_COLUMNS), ("rows", MOST_ROWS))
        )
        if (wide, high) != (1, 1):
            self._cells.merge((self._row, self._row + high - 1), (columns[0], columns[0] + wide - 1))

    def _end_row(self) -> None:
        rows = self._row, self._row + self._row_times - 1
        for columns, cell, is_styled in self._row_cells:
            if not cell.text and (columns[1] in _LAST_COLUMNS or rows[1] in _LAST_ROWS):
                if cell.fill:
                    self._cells.lend(cell.fill, rows, columns)
            elif cell != EMPTY:
                self._cells.put(rows, columns, cell)
            if is_styled and not cell.fill:
                self._cells.bare(rows, columns)
        if fill := self._fill(self._row_style):
            self._cells.lend(fill, rows=rows)
        self._row += self._row_times

    def _fill(self, style: str) -> str:
        for _ in range(_DEEPEST):
            found = self._styles.get(style)
            if found is None:
                return ""
            if found.fill is not None:
                return found.fill
            style = found.parent
        return ""

    def _sheet(self) -> Sheet:
        for span, style in self._column_styles:
            if fill := self._fill(style):
                self._cells.lend(fill, columns=span)
        hidden = tuple(self._rows_hidden), tuple(self._columns_hidden)
        return Sheet(self._name, self._cells.whole(), *hidden, (NO_RULES,) if self._has_rules else ())


def _times(values: dict[str, str], key: str, most: int) -> int:
    """How often something stands there, 1 if nobody says so."""
    text = values.get(key, "1")
    digits = text.lstrip("0")
    if not text.isascii() or not text.isdecimal() or not digits:
        return 1
    return min(int(digits[:9]), most + 1)
