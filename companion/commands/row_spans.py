"""Rows that the command line names: of the whole piece, or of one of its parts."""

from __future__ import annotations

import re
from typing import TYPE_CHECKING

import click

from companion.problems import plain

if TYPE_CHECKING:
    from companion.knitting.piece import Piece

RowSpan = tuple[str, int, int]
"""The part that rows belong to, "" where the piece is whole, and the first and the last of them."""


def _row_span(_ctx: click.Context, _param: click.Parameter, typed: str | None) -> RowSpan | None:
    """The rows of "7", "5-12" or "left 3-7"."""
    if typed is None:
        return None
    found = re.fullmatch(r"(?:(left|right) +)?([0-9]{1,9})(?:-([0-9]{1,9}))?", typed.strip().lower())
    if not found:
        raise click.UsageError(f'Rows are told as 7, 5-12 or "left 3-7", not as "{plain(typed)}".')
    first, last = int(found[2]), int(found[3] or found[2])
    if first > last:
        raise click.UsageError(f"Rows are told upward: {last}-{first}.")
    return found[1] or "", first, last


some_rows = click.option(
    "--rows", "span", callback=_row_span, metavar="7 | 5-12", help='Only these rows; of a part "left 3-7".'
)


def in_working_order(piece: Piece, span: RowSpan) -> tuple[int, int]:
    """Rows of a part by their places in working order, from 1."""
    named, first, last = span
    starts = piece.fabric.starts
    start = next((at for part, at in starts.items() if part == named), None)
    if start is None:
        raise click.UsageError(f"This plan has no {named} part.")
    rows = piece.rows.in_part(start)
    if not 1 <= first <= last <= rows:
        where = f"The {named} part" if named else "This plan"
        parts = ", and those of its parts" if len(starts) > 1 and not named else ""
        raise click.UsageError(f"{where} has rows 1 to {rows}{parts}.")
    return start + first, start + last
