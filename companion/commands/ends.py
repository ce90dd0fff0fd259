"""Every end of a plan, or of a piece in work."""

from __future__ import annotations

from typing import Any

import click

from companion.commands import given, options
from companion.commands.group import example


@click.command(epilog=example("rowside ends swatch"))
@given.plan_word
@given.piece_name
@options.spoken
@given.as_json
def ends(plan: str, name: str | None, is_json: bool, **asked: Any) -> int:
    """Print every end of PLAN and how to weave it in; of a piece in work, its state."""
    from companion.knitting.hands.ends import ends_of
    from companion.pages import as_json, tables
    from companion.progress.ends import all_ends

    own = options.settings()
    session = given.piece_in_work(plan, name, asked["size"])
    if session is not None:
        piece, strands = session.piece, session.strands
        ledger = all_ends(session)
    else:
        piece = given.as_asked(given.loaded_plan(plan, asked["size"]).piece, asked, own)
        strands = given.planned_for(piece).strands
        ledger = tuple((end, "not yet") for end in ends_of(strands))
    terms = own.terms_for(piece, asked["terms"], asked["units"])
    text = tables.ledger(piece, strands, ledger, terms, own.shows_by)
    return given.answer(is_json, as_json.ends(piece, strands, ledger), text)
