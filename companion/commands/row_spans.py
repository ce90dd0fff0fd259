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
    from companion.knitting.words.terms import listed

    own = [block for block in piece.fabric.blocks if block.part == named]
    if not own:
        raise click.UsageError(f"This plan has no {named} part.")
    spans = [(block.number, block.number + block.stop - block.start - 1) for block in own]
    found = [
        block.start + number - block.number + 1 for number in (first, last) for block in own
        if 0 <= number - block.number < block.stop - block.start
    ]
    if len(found) < 2:
        where = f"The {named} part" if named else "This plan"
        parts = ", and those of its parts" if len(piece.fabric.blocks) > 1 and not named else ""
        rows = listed([f"{one} to {other}" for one, other in spans])
        raise click.UsageError(f"{where} has rows {rows}{parts}.")
    return found[0], found[1]
