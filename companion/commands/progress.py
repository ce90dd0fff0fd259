"""A piece with all its progress, from one machine to another."""

from __future__ import annotations

import sys
from pathlib import Path

import click

from companion.commands import new_files
from companion.commands.common import DONE
from companion.commands.given import answer, as_json, complete_piece
from companion.commands.group import Commands, example
from companion.pages import printing
from companion.problems import Problem, Problems, plain


@click.group(cls=Commands, epilog=example('rowside progress export "Pier sign" -o pier.json'))
def progress() -> None:
    """How far a piece is; take it with all its progress to another machine, or put a copy of it back."""


@progress.command("show", epilog=example('rowside progress show "Pier sign"'))
@click.argument("name", metavar="NAME", shell_complete=complete_piece)
@as_json
def show_(name: str, is_json: bool) -> int:
    """Print how far the piece NAME is, and how long the rest takes."""
    from companion.knitting import words
    from companion.knitting.words.pace import pace_told
    from companion.pages.as_json import piece_in_work
    from companion.progress.folders import pieces
    from companion.progress.shelf import Shelf

    found = Shelf(pieces()).resume(name, look_only=True)
    forecast = found.forecast
    session = found.session
    in_row = words.in_row(session.rows[session.at.row], session.runs_done)
    how_far = ", ".join(filter(None, (words.card_line(*found.card.told), in_row)))
    lines = [f"{how_far}.", *(pace_told(*forecast)[:1] if forecast else [])]
    return answer(is_json, piece_in_work(found.card, forecast), map(plain, lines))


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
