"""What a list tells, as columns and cells: which of them give way where there is little room, and what sorts them.

Nothing is cut here. A front end that has not room for all of it gives up the columns of the highest ``yields`` first,
and tells the line that is meant in full.
"""

from __future__ import annotations

from collections.abc import Sequence

from companion.knitting.cloth.fabric import Yarn
from companion.knitting.value import Record


class Cell(Record):
    """What stands in one column of a line. ``short``: the same where there is little room; ``yarn``: its chip stands
    before the text; ``by`` is what the column is sorted by where that is not the text."""

    text: str
    short: str = ""
    yarn: Yarn | None = None
    by: float | None = None


class Column(Record):
    """``short``: its title where there is little room; ``is_number``: set to the right, and never cut; ``least``: cut
    to so many cells where it must be (0: never); ``yields``: given up where there is no room, the highest first
    (0: never); ``order``: sorted from the least ("up"), from the most ("down") or not at all ("")."""

    title: str
    short: str = ""
    is_number: bool = False
    least: int = 0
    yields: int = 0
    order: str = ""


Row = tuple[Cell, ...] | str
"""A line's cells, or a heading across all columns, which cannot be chosen. Where there are fewer cells than columns
the last one takes what room is left."""


class Table(Record):
    """A list's lines under its columns. ``sorted_by``: the column that orders them; None: as they are."""

    columns: tuple[Column, ...] = (Column(""),)
    rows: Sequence[Row] = ()
    sorted_by: int | None = None

    def is_heading(self, at: int) -> bool:
        """A line that cannot be chosen."""
        return isinstance(self.rows[at], str)

    def order(self, column: int | None) -> list[int]:
        """The lines as a column sorts them, those alike as they are."""
        places = list(range(len(self.rows)))
        if column is None:
            return places
        cells = {at: row[column] for at, row in enumerate(self.rows) if not isinstance(row, str)}
        sign = -1 if self.columns[column].order == "down" else 1
        return sorted(cells, key=lambda at: (sign * (cells[at].by or 0), cells[at].text))


def plain_table(lines: Sequence[str]) -> Table:
    """Lines of one column without a title, which may be broken where they must."""
    return Table(rows=tuple((Cell(line),) for line in lines))
