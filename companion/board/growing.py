"""A plan's text with rows or columns more or fewer: whole lines of its charts, or signs of each, and the numbers that
count them. Whoever asks reads it anew, and sees whether it says just what was wanted. Pure."""

from __future__ import annotations

from companion.board.signs import NO_STITCH
from companion.board.strokes import lines_of
from companion.knitting.cloth.fabric import FabricRow, Run, cells, merged
from companion.knitting.value import Record
from companion.plan.chart import ChartReader
from companion.plan.drawing import Fixed
from companion.plan.edit import with_values
from companion.plan.loaded import Loaded
from companion.plan.misfits import KeyPath
from companion.plan.source import Found


class Grown(Record):
    """The ``text`` of a plan, and the ``rows`` that its fabric has then. ``why``: what keeps it from being so, and at
    which line; then the others say nothing."""

    text: str
    rows: tuple[FabricRow, ...]
    why: tuple[str, int] | None = None


def rows_inserted(loaded: Loaded, row: int, many: int) -> Grown:
    """So many rows like one (its index in working order) above it."""
    return _with_rows(loaded, {row: 1 + many})


def rows_deleted(loaded: Loaded, first: int, last: int) -> Grown:
    """The rows from one to another go."""
    return _with_rows(loaded, dict.fromkeys(range(min(first, last), max(first, last) + 1), 0))


def columns_inserted(loaded: Loaded, column: int, many: int) -> Grown:
    """So many columns like one, from 1 at the right edge, to the left of it."""
    return _with_columns(loaded, {column: 1 + many})


def columns_deleted(loaded: Loaded, first: int, last: int) -> Grown:
    """The columns from one to another go."""
    return _with_columns(loaded, dict.fromkeys(range(min(first, last), max(first, last) + 1), 0))


def _with_rows(loaded: Loaded, times: dict[int, int]) -> Grown:
    """Some rows as many times as is said of them."""
    rows = loaded.piece.fabric.rows
    plain: dict[int, int] = {}  # rows more, by section
    lines: dict[int, int] = {}  # how many times each line comes, by its number
    for row, many in times.items():
        number, fixed = _chart_line(loaded, row), _fixed_at(loaded, row)
        if number and _is_alone(loaded, number):
            lines[number] = many
        elif fixed and not number:
            plain[fixed.section] = plain.get(fixed.section, 0) + many - 1
        else:
            return Grown("", (), ("This row has no line of its own in the plan.", number))

    def counted(path: KeyPath, value: str) -> str:
        match path:
            case ("rows", int(section), "plain" | "field", "rows") if section in plain:
                return _more(value, plain[section])
            case ("sewn_on", int(), "row"):
                return _moved(value, times)
        return value

    text = with_values(loaded.text, counted)
    made = []
    for number, line in enumerate(lines_of(text), 1):
        many = lines.get(number, 1)
        ended = line if many < 2 or line.endswith(("\n", "\r")) else f"{line}\n"
        made.append(ended * many)
    new = [row for index, row in enumerate(rows) for _ in range(times.get(index, 1))]
    return Grown("".join(made), tuple(new))


def _chart_line(loaded: Loaded, row: int) -> int:
    """The number of the line in which a row of a chart stands; 0 for one that stands in none by itself."""
    drawn = (one for one in loaded.drawings if 0 <= row - one.first < len(one.lines.texts))
    return next((one.lines.numbers[one.first - row - 1] for one in drawn), 0)


def _is_alone(loaded: Loaded, number: int) -> bool:
    """Whether a line holds a row of a chart and nothing else."""
    return any(
        (number, one.lines.source.line(number).strip()) == (own, text.strip())
        for one in loaded.drawings for own, text in zip(one.lines.numbers, one.lines.texts, strict=True)
    )


def _fixed_at(loaded: Loaded, row: int) -> Fixed | None:
    """What is told of a row that stands in no line by itself, or of the edges of one that does."""
    fabric = loaded.piece.fabric
    level = fabric.level(row) if 0 <= row < len(fabric.rows) else -1
    return next((one for one in loaded.fixed if one.first <= level < one.past), None)


def _with_columns(loaded: Loaded, times: dict[int, int]) -> Grown:
    """Some columns as many times as is said of them."""
    rows = loaded.piece.fabric.rows
    if not 1 <= min(times) <= max(times) <= loaded.piece.fabric.columns:
        return Grown("", (), (NO_STITCH, 0))
    more = sum(many - 1 for many in times.values())

    def counted(path: KeyPath, value: str) -> str:
        match path:
            case ("rows", int(), "plain" | "field", "stitches"):
                return _more(value, more)
            case ("sewn_on", int(), "stitch"):
                return _moved(value, {column - 1: many for column, many in times.items()})
        return value

    text = with_values(loaded.text, counted)
    reader = ChartReader(loaded.symbols, 0, Found())
    lines = lines_of(text)
    for one in [*loaded.drawings, *(fixed.drawn for fixed in loaded.fixed if fixed.drawn)]:
        inside = {one.right + one.wide - column: many for column, many in times.items()}
        if not all(0 <= at < one.wide for at in inside):
            if _has(rows[one.first], min(times)):
                edges = _fixed_at(loaded, one.first)
                told_at = edges.line if edges else 0
                return Grown("", (), ("An edge lies here: its stitches are counted there.", told_at))
            continue
        for number, drawn_line in zip(one.lines.numbers, one.lines.texts, strict=True):
            line = lines[number - 1]
            before = line.rstrip("\r\n").removesuffix(drawn_line)
            end = line[len(before) + len(drawn_line):]
            lines[number - 1] = before + _widened(reader, drawn_line, inside) + end
    return Grown("".join(lines), tuple(_across(row, times) for row in rows))


def _widened(reader: ChartReader, text: str, times: dict[int, int]) -> str:
    """A line of a chart with some of its stitches, from 0 at the left, so many times."""
    for at in sorted(times, reverse=True):
        text = reader.respelled(text, at, at + 1, [reader.signs(text)[at]] * times[at])
    return text


def _across(row: FabricRow, times: dict[int, int]) -> FabricRow:
    made = (Run(times.get(column, 1), stitch) for column, stitch in enumerate(cells(row), 1))
    return row._replace(runs=merged(made))


def _has(row: FabricRow, column: int) -> bool:
    """Whether a row has a stitch in a column."""
    return any(first <= column <= last for first, last in row.stretches)


def _more(number: str, more: int) -> str:
    return str(int(number) + more) if number.isdecimal() else number


def _moved(number: str, times: dict[int, int]) -> str:
    """The number of a row or a stitch, from 1, where those before it, counted from 0, come so many times."""
    at = int(number) if number.isdecimal() else 0
    return _more(number, sum(many - 1 for before, many in times.items() if before + 1 < at))
