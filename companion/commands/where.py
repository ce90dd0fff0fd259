"""Which rows of a plan lie on the needle."""

from __future__ import annotations

from typing import Any

import click

from companion.commands import options
from companion.commands.given import answer, as_json, asked_for, plan_word
from companion.commands.group import example
from companion.problems import plain


@click.command(epilog=example('rowside where swatch "s 12, t 4, s 8"', 'rowside where swatch "s, t, s" --side RS'))
@plan_word
@click.argument("runs", metavar='"s 12, b 6, s 22"')
@click.option("--side", type=options.one_of("RS", "WS"), help="The side that faces you.")
@options.spoken
@as_json
def where(plan: str, runs: str, side: str | None, is_json: bool, **asked: Any) -> int:
    """Print which rows of PLAN have these runs, as they lie on the needle from left to right."""
    piece, _ = asked_for(plan, asked)
    from companion.knitting import words
    from companion.knitting.hands.whereabouts import rows_like
    from companion.pages import as_json
    from companion.plan.needle import runs_on_needle

    on_needle = runs_on_needle(runs, piece.yarns)
    found = rows_like(piece.rows, on_needle, is_right_side=None if side is None else side == "RS")
    return answer(is_json, as_json.row_numbers(piece, found), map(plain, words.rows_found(piece.rows, found)))
