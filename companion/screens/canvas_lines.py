"""One line of the chart on the drawing board: a row in letters, or two rows in half lines; its number; and the foot
below them all. What is not set down yet is underlined, marked stitches bear a "!", so that nothing hangs on colour.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from functools import lru_cache
from itertools import groupby

from rich.style import Style

from companion.knitting.cloth.colour import ink_on
from companion.knitting.cloth.fabric import FabricRow, Stitch, Yarn
from companion.knitting.value import Record
from companion.screens.chart_lines import EMPTY, NONE, SEWN, TEN, faded
from companion.screens.flowing import Bit, Line
from companion.screens.lines import inked

MARK = "!"
"""On a stitch that is marked."""

_NO_CELLS: frozenset[int] = frozenset()
_BESIDE = "#808080"
"""The cursor in half a cell where no stitch is; where one is, the ink that reads best on it."""


class Frame(Record):
    """Which part of the chart is seen, and how: the lowest row ``low`` from 0 and the rightmost column ``right``
    from 1, stitches ``across``, rows ``up``, ``columns`` a stitch (0: half a line high, one wide); ``side``: columns
    beside the chart that bear row numbers, on either side; ``has_foot``: stitch numbers stand below."""

    low: int
    right: int
    across: int
    up: int
    columns: int
    side: int
    has_foot: bool

    @property
    def is_halved(self) -> bool:
        """Two rows share a line."""
        return not self.columns

    @property
    def wide(self) -> int:
        """Columns of a stitch."""
        return max(1, self.columns)

    @property
    def levels(self) -> list[tuple[int, ...]]:
        """The rows of each line from the top down; above the topmost row of an odd number there is none."""
        top = self.low + self.up
        if not self.is_halved:
            return [(level,) for level in range(top - 1, self.low - 1, -1)]
        pairs: list[tuple[int, ...]] = [(low + 1 if low + 1 < top else NONE, low) for low in range(self.low, top, 2)]
        return pairs[::-1]

    def cells_at(self, x: int, y: int) -> list[tuple[int, int]]:
        """The stitches that are drawn in a cell of the terminal, the upper one first: each its row and its column.
        Beside the chart there are none."""
        across = (x - self.side) // self.wide
        if x < self.side or across >= self.across or not 0 <= y < len(self.levels):
            return []
        column = self.right + self.across - 1 - across
        return [(level, column) for level in self.levels[y] if level != NONE]


Corner = tuple[int, int]
"""The lowest row that is seen, from 0, and the rightmost column, from 1."""


def following(frame: Frame, corner: Corner, at: tuple[int, int]) -> Corner:
    """The corner as it was, or moved so that the stitch that is meant, which lies outside, is in the middle."""
    (low, right), (row, column) = corner, at
    if not low <= row < low + frame.up:
        low = row - frame.up // 2
    if not right <= column < right + frame.across:
        right = column - frame.across // 2
    return low, right


def showing(frame: Frame, corner: Corner, low: int, high: int, right: int, left: int) -> Corner:
    """The corner as it was, or moved so that as much as there is room for of these rows and columns is seen, from the
    lowest one and from the right."""
    return (
        min(low, max(corner[0], high + 1 - frame.up)), min(right, max(corner[1], left + 1 - frame.across)),
    )  # fmt: skip


def within(frame: Frame, corner: Corner, levels: int, stitches: int) -> Corner:
    """The corner, moved so that all of what is seen is chart; with two rows to a line an even number of rows lies
    below, so that the same two stay together."""
    low, right = max(0, min(corner[0], levels - frame.up)), max(1, min(corner[1], stitches - frame.across + 1))
    return low - low % 2 if frame.is_halved else low, right


class RowLooks(Record):
    """How a row is shown beside its stitches: the yarns of those ``over`` it that are not set down yet, by column;
    columns that are ``marked``; the first and the last one that are ``selected`` (0: none are); the column under the
    cursor (0: it is on another row)."""

    over: Mapping[int, str] = {}
    marked: frozenset[int] = _NO_CELLS
    selected: tuple[int, int] = (0, 0)
    cursor: int = 0


PLAIN = RowLooks()


_Look = tuple[Stitch | None, str, bool, bool, bool]
"""One stitch as it is shown: the yarn that lies over it, whether it is marked, selected, under the cursor. A bare
tuple, as there is one for every stitch of a line."""


def lettered(yarns: Mapping[str, Yarn], row: FabricRow, looks: RowLooks, frame: Frame) -> Line:
    """One row, each stitch ``frame.columns`` wide."""
    alike = groupby(_looks(row, looks, frame))
    return [_cells(yarns, look, frame.columns, len(list(many))) for look, many in alike][::-1]


def _looks(row: FabricRow, looks: RowLooks, frame: Frame) -> list[_Look]:
    """The stitches that are seen, from the right."""
    over, marked, (first, last), cursor = looks
    if not over and not marked and not last and not cursor:
        return [(stitch, "", False, False, False) for stitch in _part(row, frame)]
    return [
        (stitch, over.get(at, ""), at in marked, first <= at <= last, at == cursor)
        for at, stitch in enumerate(_part(row, frame), frame.right)
    ]


def _part(row: FabricRow, frame: Frame) -> list[Stitch | None]:
    """The cells of a row that are seen; None past its last one."""
    found: list[Stitch | None] = []
    at, right, across = 1, frame.right, frame.across
    for run in row.runs:
        found += [run.stitch] * (min(at + run.columns, right + across) - max(at, right))
        at += run.columns
        if at >= right + across:
            break
    return found + [None] * (across - len(found))


def _cells(yarns: Mapping[str, Yarn], look: _Look, columns: int, stitches: int) -> Bit:
    """So many stitches alike."""
    stitch, over, is_marked, is_selected, is_cursor = look
    if stitch is None:
        return _sign(EMPTY, columns, is_cursor) * stitches, "now" if is_cursor else "quiet"
    yarn = yarns[over or stitch.yarn]
    sign = yarn.symbol if over else MARK if is_marked else SEWN if stitch.sewn else yarn.symbol
    style = inked(
        yarn.colour, bold=is_cursor or is_marked, underline=bool(over), reverse=is_cursor != is_selected
    )
    return _sign(sign, columns, is_cursor) * stitches, style


def _sign(sign: str, columns: int, is_cursor: bool) -> str:
    if not is_cursor or columns == 1:
        return sign.center(columns)
    return f"[{sign}]" if columns == 3 else f">{sign}"


def halved(
    yarns: Mapping[str, Yarn], rows: Sequence[FabricRow | None], looks: Sequence[RowLooks], frame: Frame
) -> Line:
    """Two rows, one above the other, a column a stitch."""
    upper, lower = (
        [None] * frame.across if row is None else [_colours(yarns, look) for look in _looks(row, its, frame)]
        for row, its in zip(rows, looks, strict=True)
    )
    alike = groupby(zip(upper, lower, strict=True))
    return [_half(one, other, len(list(many))) for (one, other), many in alike][::-1]


class _Half(Record):
    """The colour of half a cell, and the sign that stands on it."""

    colour: str
    sign: str = ""


def _colours(yarns: Mapping[str, Yarn], look: _Look) -> _Half | None:
    stitch, over, is_marked, is_selected, is_cursor = look
    if stitch is None:
        return _Half(_BESIDE) if is_cursor else None
    colour = yarns[over or stitch.yarn].colour
    if is_cursor:
        return _Half(ink_on(colour))
    return _Half(faded(colour) if is_selected else colour, MARK if is_marked else "")


def _half(upper: _Half | None, lower: _Half | None, stitches: int) -> Bit:
    """So many pairs of stitches alike; None = none. A sign takes the whole cell: one of two rows alone cannot bear
    it."""
    for one in (upper, lower):
        if one and one.sign:
            return one.sign * stitches, inked(one.colour, bold=True)
    if upper:
        return "▀" * stitches, Style(color=upper.colour, bgcolor=lower.colour if lower else None)
    return ("▄" * stitches, Style(color=lower.colour)) if lower else (" " * stitches, "")


def numbered(line: Line, number: int, starts_right: bool, is_here: bool, side: int) -> Line:
    """The line with its row's number at the edge where the row starts, and an arrow on the row under the cursor."""
    if not side:
        return line
    manner, room = "now" if is_here else "quiet", side - 1
    if starts_right:
        return [(" " * side, ""), *line, (f"{'◀' if is_here else ' '}{number:<{room}}", manner)]
    return [(f"{number:>{room}}{'▶' if is_here else ' '}", manner), *line, (" " * side, "")]


@lru_cache(maxsize=8)
def foot(frame: Frame, stitches: int, cursor: int, *, is_mirrored: bool) -> Line:
    """Stitch numbers by tens, each ending below its stitch where it has room; that of the cursor's stitch always."""
    wide = frame.wide
    numbers = [" "] * (frame.side + frame.across * wide)

    def put(column: int) -> range:
        start = frame.side + (frame.right + frame.across - 1 - column) * wide
        text = str(stitches + 1 - column if is_mirrored else column)
        stop = max(len(text), start + (wide + 1) // 2)
        numbers[stop - len(text):stop] = text
        return range(stop - len(text), stop)

    seen = range(frame.right, frame.right + frame.across)
    for column in seen:
        number = stitches + 1 - column if is_mirrored else column
        if number % TEN == 0 and not abs(column - cursor) * wide <= _NUMBER:
            put(column)
    here = put(cursor) if cursor in seen else range(0)
    alike = groupby(enumerate(numbers), lambda cell: cell[0] in here)
    return [("".join(text for _, text in cells), "now" if is_here else "quiet") for is_here, cells in alike]


_NUMBER = 4
"""Columns in which a number by tens would run into that of the cursor."""
