"""Commands that print a plan: its problems, rows, strands and ends, and where its runs lie."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import replace
from typing import TYPE_CHECKING, Any

import click

from companion.commands import options
from companion.commands.given import (
    DONE,
    WRONG,
    RowSpan,
    as_json,
    asked_for,
    complete_plan,
    in_hands,
    loaded_plan,
    path_of,
    plan_word,
    planned_for,
    report,
    row_span,
)
from companion.pages import printing
from companion.problems import Problem, Problems, count_of, plain

if TYPE_CHECKING:
    from companion.knitting.hands.ends import End, EndState
    from companion.knitting.piece import Piece
    from companion.knitting.strands.plan import StrandPlan
    from companion.knitting.strands.strands import Strands
    from companion.settings import Settings


@click.command()
@click.argument("plans", metavar="PLAN...", nargs=-1, required=True, shell_complete=complete_plan)
@options.limits
@as_json
def check(plans: Sequence[str], is_json: bool, **asked: Any) -> int:
    """Check plans: a line for each, and every problem in them."""
    limits = options.Limits.of(asked)
    checked: list[tuple[str, Sequence[Problem]]] = []
    for plan in plans:
        line, problems = _checked(plan, limits)
        checked.append((plan, problems))
        if not is_json:
            report(problems)
            printing.say([line])
    if is_json:
        from companion.pages import as_json

        printing.write(as_json.checked(checked))
    return WRONG if any(not p.is_warning for _, problems in checked for p in problems) else DONE


@click.command()
@plan_word
@click.option("--rows", "span", callback=row_span, metavar="7 | 5-12", help='Only these rows; of a part "left 3-7".')
@options.limits
@options.spoken
@as_json
def rows(plan: str, span: RowSpan | None, is_json: bool, **asked: Any) -> int:
    """Print the written rows of PLAN."""
    piece, terms = asked_for(plan, asked)
    first, last = _in_working_order(piece, span) if span else (1, len(piece.rows))
    from companion.pages import as_json, written

    strands = planned_for(piece).strands
    if is_json:
        printing.write(as_json.rows(piece, strands, first, last))
    else:
        told = written.part(piece, strands, first, last, terms) if span else written.whole(piece, strands, terms)
        printing.say(told)
    return DONE


def _in_working_order(piece: Piece, span: RowSpan) -> tuple[int, int]:
    """Rows of a part by their places in working order, from 1."""
    told, first, last = span
    starts: Mapping[str, int] = piece.fabric.starts  # type: ignore[assignment]
    if told not in starts:
        raise click.UsageError(f"This plan has no {told} part.")
    start = starts[told]
    rows = piece.rows.in_part(start)
    if not 1 <= first <= last <= rows:
        where = f"The {told} part" if told else "This plan"
        parts = ", and those of its parts" if len(starts) > 1 and not told else ""
        raise click.UsageError(f"{where} has rows 1 to {rows}{parts}.")
    return start + first, start + last


@click.command()
@plan_word
@options.limits
@options.spoken
@click.option("--prove", "is_proved", is_flag=True, help="Check that no other strands are fewer or carried less.")
@as_json
def strands(plan: str, is_proved: bool, is_json: bool, **asked: Any) -> int:
    """Print what each strand of PLAN does, and how many it takes."""
    piece, terms = asked_for(plan, asked)
    from companion.pages import as_json, tables

    planned = planned_for(piece)
    if is_proved:
        printing.tell(_proved(piece, planned))
    if is_json:
        printing.write(as_json.strands(piece, planned))
    else:
        printing.say(tables.strand_table(piece, planned.strands, terms))
    return DONE


@click.command()
@plan_word
@click.option("--name", metavar="NAME", help="The piece of this name, where several follow the plan.")
@options.spoken
@as_json
def ends(plan: str, name: str | None, is_json: bool, **asked: Any) -> int:
    """Print every end of PLAN and how to weave it in; of a piece in work, its state."""
    own = options.settings()
    piece, strands, ledger = _ends(plan, name, own, asked)
    terms = own.terms_for(piece, asked["terms"], asked["units"])
    from companion.pages import as_json
    from companion.pages import ends as page

    if is_json:
        printing.write(as_json.ends(piece, strands, ledger))
    else:
        printing.say(page.ledger(piece, strands, ledger, terms, own.shows_by))
    return DONE


@click.command()
@plan_word
@click.argument("runs", metavar='"s 12, b 6, s 22"')
@click.option("--side", type=click.Choice(["RS", "WS"]), help="The side that faces you.")
@as_json
def where(plan: str, runs: str, side: str | None, is_json: bool) -> int:
    """Print which rows of PLAN have these runs, as they lie on the needle from left to right."""
    piece = loaded_plan(plan).piece
    from companion.knitting import words
    from companion.knitting.hands.whereabouts import rows_like
    from companion.plan.needle import runs_on_needle

    on_needle = runs_on_needle(runs, piece.yarns)
    found = rows_like(piece.rows, on_needle, is_right_side=None if side is None else side == "RS")
    if is_json:
        from companion.pages import as_json

        printing.write(as_json.row_numbers(piece, found))
    else:
        printing.say(map(plain, words.rows_found(piece.rows, found)))
    return DONE


def _ends(
    word: str, name: str | None, own: Settings, asked: Mapping[str, Any]
) -> tuple[Piece, Strands, Sequence[tuple[End, EndState]]]:
    """The ends of the piece in work that follows a plan, or of the plan where there is none.

    Raises:
        Problems: several pieces follow the plan and none is named, or there is none of that name.
    """
    from companion.knitting.hands.ends import ends_of
    from companion.progress.actions import Refused
    from companion.progress.ends import all_ends
    from companion.progress.folders import pieces
    from companion.progress.shelf import Shelf

    shelf = Shelf(pieces())
    names = [card.name for card in shelf.find(path_of(word))]
    if len(names) > 1 and name is None:
        raise Problems([Problem("Several pieces follow this plan.", mend=f"Name one: --name {_shown_names(names)}")])
    if names or name is not None:
        try:
            session = shelf.resume(name or names[0], look_only=True).session
        except Refused as refused:
            raise Problems([Problem(str(refused))]) from None
        return session.piece, session.strands, all_ends(session)
    piece = in_hands(loaded_plan(word).piece, (asked["hands"] or own.hands) == "left")
    strands = planned_for(piece).strands
    return piece, strands, [(end, "not yet") for end in ends_of(strands)]


def _shown_names(names: Sequence[str]) -> str:
    """Names as they are typed in a shell."""
    return ", --name ".join(f'"{plain(name)}"' for name in names)


def _proved(piece: Piece, planned: StrandPlan) -> str:
    """That the strands are the best there are, looked for anew.

    Raises:
        AssertionError: they are not, or the proof does not show it.
    """
    from companion.knitting.strands.proof import fault_in

    fault = fault_in(planned.strands, piece.carry, planned.proof)
    assert not fault, fault
    return "Checked: under these limits no strands are fewer, and no as few are carried less."


def _checked(word: str, limits: options.Limits) -> tuple[str, Sequence[Problem]]:
    """One plan's line, and everything that is to be said about it."""
    from companion.pages import tables
    from companion.plan.read import load

    try:
        loaded = load(path_of(word))
    except Problems as found:
        return plain(f"{word}: {count_of(found.problems)}."), found.problems
    told = count_of(loaded.warnings) or "nothing to mend"
    piece = replace(loaded.piece, carry=limits.over(loaded.piece.carry))
    told += _small_areas(piece)
    return plain(f"{word}: {tables.summary(piece, planned_for(piece).strands)}; {told}."), loaded.warnings


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
