"""Every end of a plan, or of a piece in work."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import TYPE_CHECKING, Any

import click

from companion.commands import given, options
from companion.commands.common import STANDARD_INPUT, path_of
from companion.commands.group import example
from companion.problems import Problem, Problems, plain

if TYPE_CHECKING:
    from companion.knitting.hands.ends import EndState
    from companion.knitting.hands.steps import End
    from companion.knitting.piece import Piece
    from companion.knitting.strands.strands import Strands
    from companion.settings import Settings


@click.command(epilog=example("rowside ends swatch"))
@given.plan_word
@click.option("--name", metavar="NAME", shell_complete=given.complete_piece,
              help="The piece of this name, where several follow the plan.")
@options.spoken
@given.as_json
def ends(plan: str, name: str | None, is_json: bool, **asked: Any) -> int:
    """Print every end of PLAN and how to weave it in; of a piece in work, its state."""
    own = options.settings()
    piece, strands, ledger = _ends(plan, name, own, asked)
    terms = own.terms_for(piece, asked["terms"], asked["units"])
    from companion.pages import as_json, tables

    text = tables.ledger(piece, strands, ledger, terms, own.shows_by)
    return given.answer(is_json, as_json.ends(piece, strands, ledger), text)


def _ends(
    word: str, name: str | None, own: Settings, asked: Mapping[str, Any]
) -> tuple[Piece, Strands, Sequence[tuple[End, EndState]]]:
    """The ends of the piece in work that follows a plan, or of the plan where there is none.

    Raises:
        Problems: several pieces follow the plan and none is named, or there is none of that name.
    """
    from companion.knitting.hands.ends import ends_of
    from companion.progress.ends import all_ends
    from companion.progress.folders import pieces
    from companion.progress.shelf import Shelf

    shelf = Shelf(pieces())
    followed = () if word == STANDARD_INPUT else shelf.find(path_of(word))
    names = [card.name for card in followed]
    if len(names) > 1 and name is None:
        shown = ", --name ".join(f'"{plain(name)}"' for name in names)
        raise Problems([Problem("Several pieces follow this plan.", mend=f"Name one: --name {shown}")])
    if names or name is not None:
        session = shelf.resume(name or names[0], look_only=True).session
        return session.piece, session.strands, all_ends(session)
    piece = given.as_asked(given.loaded_plan(word).piece, asked, own)
    strands = given.planned_for(piece).strands
    return piece, strands, [(end, "not yet") for end in ends_of(strands)]
