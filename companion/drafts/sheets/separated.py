"""A sheet of text: values between commas, semicolons or tabs, a line a row.

A value is one letter, a stitch, or a count and a letter, as many stitches: ``3A`` or ``3*A``, and ``3*1`` where
letters are digits. Counts and letters may have values of their own, ``3,A,2,B``, where all lines are as wide.
"""

from __future__ import annotations

import csv
import re
from codecs import BOM_UTF16_BE, BOM_UTF16_LE
from collections.abc import Iterator, Sequence
from io import BytesIO, StringIO
from pathlib import Path

from companion.drafts.sheets.archive import SheetFile
from companion.drafts.sheets.sheet import MOST_COLUMNS, Cell, Cells, Sheet
from companion.drafts.sheets.xlsx import said
from companion.plan.files import file_bytes, text_from

_MOST_BYTES = 4_000_000
"""Ten for every cell there may be, and more."""

_RUN = re.compile(r"([1-9][0-9]{0,3}) ?(?:\* ?(\S)|([^\W\d_]))")
_SEPARATOR = re.compile(r"\ufeff?sep=(.)\r?\n", re.IGNORECASE)
_QUOTED = re.compile('"[^"]*"')

Line = Sequence[str]


def sheet(path: Path, shown: str) -> Sheet:
    """The sheet in a file of text: UTF-8, or UTF-16 with its mark.

    Raises:
        Problems: it is no text, or too much.
    """
    file = SheetFile(shown)
    text = _text(file_bytes(path, shown, _MOST_BYTES), file)
    separator = _SEPARATOR.match(text)
    text = text[separator.end():] if separator else text
    lines = list(_lines(text, separator[1] if separator else _likely(text), file))
    cells = Cells(file)
    for row, line in enumerate(_in_full(lines), 1):
        column = 1
        for value, times in line:
            if times + column > MOST_COLUMNS:
                raise file.amiss(f"has more than {MOST_COLUMNS:,} stitches in line {row:,}.")
            cells.put((row, row), (column, column + times - 1), Cell(value))
            column += times
    return Sheet("", cells.whole(), is_lines=True)


def _text(data: bytes, file: SheetFile) -> str:
    if data.startswith((BOM_UTF16_LE, BOM_UTF16_BE)):
        try:
            return data.decode("utf-16")
        except UnicodeDecodeError:
            raise file.amiss("is no text.", 'Save it again as CSV with the encoding "UTF-8".') from None
    return text_from(BytesIO(data), file.shown)


def _likely(text: str) -> str:
    """What separates values: of the three usual ones that which stands there most, quotes apart."""
    bare = _QUOTED.sub("", text)
    return max(",;\t", key=bare.count)


def _lines(text: str, separator: str, file: SheetFile) -> Iterator[Line]:
    try:
        for line in csv.reader(StringIO(text, newline=""), delimiter=separator):
            file.spend(1)
            if len(line) > MOST_COLUMNS:
                raise file.amiss(f"has more than {MOST_COLUMNS:,} values in a line.")
            yield [_unquoted(said(value)) for value in line]
    except (csv.Error, TypeError, ValueError) as error:
        raise file.amiss(f"is no list of values: {error}.", "Save it again as CSV.") from None


def _unquoted(value: str) -> str:
    """Without the mark that keeps spreadsheets from reckoning what a value says."""
    return value[1:] if value[:1] == "'" and value[1:2] in ("=", "+", "-", "@") else value


def _in_full(lines: Sequence[Line]) -> Iterator[Iterator[tuple[str, int]]]:
    """Every line as values, and how often each stands there."""
    charted = next((at for at, line in enumerate(lines) if not any(line)), len(lines))
    is_paired = _is_paired(lines[:charted])
    is_counted = any(_RUN.fullmatch(value) for line in lines for value in line)
    for at, line in enumerate(lines):
        if is_paired and at < charted:
            line = [f"{count}*{letter}" for count, letter in _pairs(line)]
        yield map(_run, line) if is_counted or is_paired else ((value, 1) for value in line)


def _run(value: str) -> tuple[str, int]:
    run = _RUN.fullmatch(value)
    return (run[2] or run[3], int(run[1])) if run else (value, 1)


def _pairs(line: Line) -> list[tuple[str, str]]:
    """Counts and letters in turn."""
    while line and not line[-1]:
        line = line[:-1]
    return list(zip(line[::2], line[1::2], strict=False)) if len(line) % 2 == 0 else []


def _is_paired(lines: Sequence[Line]) -> bool:
    """Whether lines are counts and letters in turn, of as many stitches each."""
    pairs = [_pairs(line) for line in lines]
    is_so = all(line and all(_RUN.fullmatch(f"{a}*{b}") and not b.isdecimal() for a, b in line) for line in pairs)
    many = {sum(int(count) for count, _ in line) for line in pairs} if is_so else set()
    return len(many) == 1 and max(map(len, pairs)) > 1
