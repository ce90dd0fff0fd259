"""Problems in plans, all of them at once."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from pathlib import Path
from typing import TYPE_CHECKING, Any

import click

from companion import settings
from companion.commands import options
from companion.commands.given import (
    DONE,
    STANDARD_INPUT,
    WRONG,
    as_asked,
    as_json,
    complete_plan,
    path_of,
    planned_for,
    read_plan,
    report,
)
from companion.commands.group import example
from companion.pages import printing
from companion.problems import Problem, Problems, count_of, plain

if TYPE_CHECKING:
    from companion.knitting.piece import Piece


@click.command(epilog=example("rowside check my-plan.yaml", "rowside check swatch mooring-mat"))
@click.argument("plans", metavar="PLAN...", nargs=-1, required=True, shell_complete=complete_plan)
@options.limits
@options.spoken
@as_json
def check(plans: Sequence[str], is_json: bool, **asked: Any) -> int:
    """Check plans, or settings.yaml: a line for each, and every problem in them."""
    checked: list[tuple[str, Sequence[Problem]]] = []
    for plan in plans:
        line, problems = _checked(plan, asked)
        checked.append((plan, problems))
        if not is_json:
            report(problems)
            printing.say([line])
    if is_json:
        from companion.pages import as_json

        printing.write(as_json.checked(checked))
    return WRONG if any(not p.is_warning for _, problems in checked for p in problems) else DONE


def _checked(word: str, asked: Mapping[str, Any]) -> tuple[str, Sequence[Problem]]:
    """One plan's line, and everything that is to be said about it."""
    from companion.pages import tables

    try:
        if word != STANDARD_INPUT and (path := path_of(word)).name == settings.FILE:
            return _checked_settings(word, path)
        loaded = read_plan(word)
        piece = as_asked(loaded.piece, asked, options.settings())
    except Problems as found:
        return plain(f"{word}: {count_of(found.problems)}."), found.problems
    told = count_of(loaded.warnings) or "nothing to mend"
    told += _small_areas(piece)
    return plain(f"{word}: {tables.summary(piece, planned_for(piece).strands)}; {told}."), loaded.warnings


def _checked_settings(word: str, path: Path) -> tuple[str, Sequence[Problem]]:
    """The same of a file of settings, its keys too."""
    from companion.dialogue.deeds import USUAL
    from companion.plan.files import plan_text

    _, problems = settings.parse(plan_text(path), word, USUAL)
    return plain(f"{word}: settings; {count_of(problems) or 'nothing to mend'}."), problems


def _small_areas(piece: Piece) -> str:
    """What a plan that asks for small areas is told of them."""
    if not piece.small_areas:
        return ""
    from companion.knitting import words
    from companion.knitting.reckoning.savings import saved_together, savings, small_areas

    found = [saving for saving in savings(piece, small_areas(piece, piece.small_areas)) if saving]
    if not found:
        return "; no small area would save an end"
    _, ends = saved_together(piece, found)
    areas, fewer = words.how_many(len(found), "small area"), words.how_many(ends, "end")
    return f"; {areas} sewn on would save {fewer}: rowside areas"
