"""A piece as lines of values: a letter a stitch, numbers at the right and below, and the legend under them."""

from __future__ import annotations

import csv
from collections.abc import Iterator, Sequence
from io import StringIO

from companion.drafts.sheets.laid_out import laid_out
from companion.knitting.piece import Piece


def csv_text(piece: Piece) -> str:
    """The text of a file; with a byte order mark, which spreadsheets look for, where it is not plain ASCII.

    Raises:
        Problems: the piece is more than a sheet is read with.
    """
    file = StringIO()
    csv.writer(file, lineterminator="\n").writerows([_kept(value) for value in line] for line in _lines(piece))
    text = file.getvalue()
    return text if text.isascii() else f"\ufeff{text}"


def _lines(piece: Piece) -> Iterator[Sequence[str]]:
    laid = laid_out(piece)
    for number, row in zip(range(len(laid.rows), 0, -1), laid.rows, strict=True):
        yield [*(cell.text for cell in row), str(number)]
    yield [str(number) for number in range(len(laid.rows[0]), 0, -1)]
    yield []
    for cell, words in laid.legend:
        yield [cell.text, *words]


def _kept(value: str) -> str:
    """Marked where a spreadsheet would reckon what it says."""
    return f"'{value}" if value[:1] in ("=", "+", "-", "@") else value
