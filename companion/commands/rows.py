"""The written rows of a plan."""

from __future__ import annotations

from typing import Any

import click

from companion.commands import options
from companion.commands.given import answer, as_json, asked_for, plan_word, planned_for
from companion.commands.group import example
from companion.commands.row_spans import RowSpan, in_working_order, some_rows


@click.command(epilog=example(
    'rowside rows swatch --rows 5-12', 'rowside rows ferry-jumper-front --rows "left 3-7"',
    "rowside rows ferry-jumper-front --shape",
))  # fmt: skip
@plan_word
@some_rows
@click.option("--shape", "is_shape", is_flag=True, help="Only its shape: what is bound off, decreased, increased.")
@options.limits
@options.spoken
@as_json
def rows(plan: str, span: RowSpan | None, is_shape: bool, is_json: bool, **asked: Any) -> int:
    """Print the written rows of PLAN."""
    if is_shape and (span or is_json):
        raise click.UsageError("--shape tells the whole piece in words: leave --rows and --json out.")
    piece, terms = asked_for(plan, asked)
    first, last = in_working_order(piece, span) if span else (1, len(piece.rows))
    from companion.pages import as_json, written

    if is_shape:
        return answer(False, (), written.shape(piece, terms))
    strands = planned_for(piece).strands
    text = written.part(piece, strands, first, last, terms) if span else written.whole(piece, strands, terms)
    return answer(is_json, as_json.rows(piece, strands, first, last), text)
