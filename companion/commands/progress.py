"""A piece with all its progress, from one machine to another."""

from __future__ import annotations

import os
import sys
from collections.abc import Sequence
from pathlib import Path
from typing import TYPE_CHECKING

import click

from companion.commands import new_files
from companion.commands.common import DONE, WRONG, report
from companion.commands.given import answer, as_json, complete_piece, complete_piece_or_file
from companion.commands.group import Commands, example
from companion.pages import printing
from companion.problems import Problem, Problems, plain

if TYPE_CHECKING:
    from companion.progress.recount import Recount
    from companion.progress.shelf import Shelf


@click.group(cls=Commands, epilog=example('rowside progress export "Pier sign" -o pier.json'))
def progress() -> None:
    """How far a piece is; take it with all its progress to another machine, or put a copy of it back."""


@progress.command(
    "show", epilog=example('rowside progress show "Pier sign"', "rowside progress show alma.json bero.json")
)
@click.argument("names", metavar="NAME|FILE...", nargs=-1, required=True, shell_complete=complete_piece_or_file)
@as_json
def show_(names: Sequence[str], is_json: bool) -> int:
    """Print how far the piece NAME is, and how long the rest takes.

    Of several, and of pieces that were exported to files, a table is printed: how far each is, what was undone on the
    needles, minutes at work, ends left, notes. Nothing is taken in.
    """
    from companion.progress.folders import pieces
    from companion.progress.shelf import Shelf

    shelf = Shelf(pieces())
    here = {card.name.casefold() for card in shelf.cards()}
    sent = [name for name in names if name.casefold() not in here and _is_path(name)]
    if len(names) == 1 and not sent:
        return _show_one(shelf, names[0], is_json)
    from companion.pages.as_json import recounted
    from companion.pages.recounts import recounts

    found: dict[str, Recount] = {}
    problems: list[Problem] = []
    for name in names:
        try:
            found[name] = _sent(name) if name in sent else _here(name, shelf)
        except Problems as wrong:
            problems += wrong.problems
    for problem in problems:  # in the order of the names
        report([problem])
    answer(is_json, recounted(found), recounts(found, printing.columns()) if found else ())
    return WRONG if problems else DONE


def _show_one(shelf: Shelf, name: str, is_json: bool) -> int:
    from companion.knitting import words
    from companion.knitting.words.pace import pace_told
    from companion.pages.as_json import piece_in_work

    found = shelf.resume(name, look_only=True)
    forecast = found.forecast
    session = found.session
    in_row = words.in_row(session.rows[session.at.row], session.runs_done)
    how_far = ", ".join(filter(None, (words.card_line(*found.card.told), in_row)))
    lines = [f"{how_far}.", *(pace_told(*forecast)[:1] if forecast else [])]
    return answer(is_json, piece_in_work(found.card, forecast), map(plain, lines))


def _is_path(word: str) -> bool:
    """Whether it names a file, or looks like the path of one."""
    return os.path.isfile(word) or bool(Path(word).suffix) or len(Path(word).parts) > 1


def _sent(file: str) -> Recount:
    """What was done of a piece that was exported to a file.

    Raises:
        Problems: it cannot be read.
    """
    from companion.plan.files import plan_text
    from companion.progress import exported
    from companion.progress.recount import recount

    found = exported.read(plan_text(Path(file), exported.MOST_BYTES), file)
    return recount(found.name, found.session, found.entries, found.times)


def _here(name: str, shelf: Shelf) -> Recount:
    """What was done of a piece on the shelf.

    Raises:
        Problems: there is none of that name, or it cannot be read.
    """
    from companion.progress.recount import recount
    from companion.progress.trouble import Refused, Trouble

    try:
        piece = shelf.resume(name, look_only=True)
        stored = shelf.contents(piece.card.name)
    except (Refused, Trouble) as trouble:
        raise Problems([Problem(str(trouble))]) from None
    return recount(piece.card.name, piece.session, stored.entries, stored.times)


@progress.command(epilog=example('rowside progress export "Pier sign" -o pier.json'))
@click.argument("name", metavar="NAME", shell_complete=complete_piece)
@click.option("-o", "--output", metavar="FILE", help="The file to write; without it standard output.")
@new_files.is_forced
def export(name: str, output: str | None, is_forced: bool) -> int:
    """Write the piece NAME, its plan and all its progress as one readable file."""
    from companion.progress import exported
    from companion.progress.folders import pieces
    from companion.progress.shelf import Shelf

    contents = Shelf(pieces()).contents(name)
    if output is None:
        printing.write(exported.written(contents))
        return DONE
    new_files.write({Path(output): "".join(exported.written(contents))}, is_forced=is_forced)
    printing.tell(plain(f'{output} holds "{contents.card.name}", {_steps(len(contents.entries) - 1)}.'))
    return DONE


@progress.command("import", epilog=example("rowside progress import pier.json"))
@click.argument("file", metavar="FILE", type=click.Path(exists=False))
@click.option("--yes", is_flag=True, help="Let it go on where the piece of its name here was left, without asking.")
def import_(file: str, yes: bool) -> int:
    """Take in a piece that was exported. A piece that is here is never overwritten."""
    from companion.plan.files import plan_text
    from companion.progress import exported
    from companion.progress.folders import pieces
    from companion.progress.shelf import Shelf

    found = exported.read(plan_text(Path(file), exported.MOST_BYTES), file)
    shelf = Shelf(pieces())
    steps = _steps(len(found.entries) - 1)
    if shelf.stands_to(found) == "longer" and not yes:
        question = plain(f'"{found.name}" is here, with less done. Go on with the one that has {steps}?')
        if not sys.stdin.isatty():
            raise Problems([Problem(question, mend="Say so with --yes.")])
        if not click.confirm(question, err=True):
            return DONE
    name = shelf.take_in(found, Path.cwd())
    printing.tell(plain(f'"{name}" is on your shelf, with {steps}.'))
    return DONE


@progress.command(epilog=example("rowside progress restore backup/pier-sign.rowside"))
@click.argument("file", metavar="FILE", type=click.Path(exists=False))
@click.option("--before-damage", is_flag=True, help="FILE is damaged: put what is sound of it there.")
def restore(file: str, before_damage: bool) -> int:
    """Put a copy of a piece's file in its place. What is there is kept under another name."""
    from companion.progress.folders import pieces
    from companion.progress.shelf import Shelf

    name, steps, aside = Shelf(pieces()).restore(Path(file), before_damage=before_damage)
    kept = f'; what was there is kept as "{aside}"' if aside else ""
    printing.tell(plain(f'"{name}" is on your shelf, with {_steps(steps)}{kept}.'))
    return DONE


def _steps(number: int) -> str:
    """So many steps of a history."""
    from companion.knitting.words import how_many

    return how_many(number, "step")
