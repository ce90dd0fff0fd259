"""What commands are given: a plan by its name or file, rows, and a way to print; and what is made of it."""

from __future__ import annotations

import gc
import os
import sys
from collections.abc import Iterable, Mapping
from dataclasses import replace
from pathlib import Path
from typing import TYPE_CHECKING, Any

import click

from companion.commands import options
from companion.pages import printing
from companion.problems import Problem, Problems, in_order, nearest, plain, show

if TYPE_CHECKING:
    from click.shell_completion import CompletionItem

    from companion.knitting.piece import Piece
    from companion.knitting.strands.plan import StrandPlan
    from companion.knitting.words import Terms
    from companion.plan.read import Loaded
    from companion.settings import Settings

DONE, FAILED, WRONG, INTERRUPTED = 0, 1, 2, 130
"""Exit codes: done, warnings allowed; the machine failed, or a bug; what was given is wrong; interrupted."""

PLAN_SUFFIXES = (".yaml", ".yml")


def complete_plan(_ctx: click.Context, _param: click.Parameter, begun: str) -> list[CompletionItem]:
    """Demo plans and the plan files here; where none begins like this, whatever files the shell finds."""
    from click.shell_completion import CompletionItem

    here = [path.name for path in Path().iterdir() if path.suffix in PLAN_SUFFIXES]
    known = sorted(word for word in {*here, *_demo_plans()} if word.startswith(begun))
    return [CompletionItem(word) for word in known] or [CompletionItem(begun, type="file")]


def path_of(word: str) -> Path:
    """The file a word names: a file of that name, or else the demo plan.

    Raises:
        Problems: there is neither, and the word looks like a name rather than a path.
    """
    path = Path(word)
    if os.path.isfile(path):  # unlike Path.is_file, never raises for a name the system cannot hold
        return path
    demos = _demo_plans()
    if word in demos:
        return demos[word]
    if path.suffix or len(path.parts) != 1 or os.path.exists(path):
        return path
    near = nearest(word, demos)
    what = f'There is no plan file "{plain(word)}" here, and no demo plan of that name.'
    mend = f'Did you mean "{near}"? ' if near else ""
    raise Problems([Problem(what, mend=f"{mend}Demo plans: {', '.join(demos)}.")])


def _demo_plans() -> dict[str, Path]:
    """The demo plans by name."""
    from companion.plan.demo import demo_plans

    return {path.stem: path for path in demo_plans()}


def report(problems: Iterable[Problem]) -> None:
    """Print problems on standard error, by line."""
    for problem in in_order(problems):
        printing.tell(show(problem))


def need_terminal() -> None:
    """Say so where there is no terminal to show rows on, instead of filling a file with its control sequences. From
    here to the first paint no garbage is looked for, a tenth of a start: what is made meanwhile is there to stay.

    Raises:
        OSError: input, output or messages go elsewhere.
    """
    if not all(stream and stream.isatty() for stream in (sys.stdin, sys.stdout, sys.stderr)):
        raise OSError("The rows can only be shown in a terminal; rowside rows prints them as text.")
    gc.disable()


def answer(is_json: bool, json: Iterable[str], text: Iterable[str]) -> int:
    """Print the pieces of one JSON value, or else lines of text."""
    if is_json:
        printing.write(json)
    else:
        printing.say(text)
    return DONE


def loaded_plan(word: str) -> Loaded:
    """The plan a word names; its warnings go to standard error."""
    from companion.plan.read import load

    loaded = load(path_of(word))
    report(loaded.warnings)
    return loaded


def planned_for(piece: Piece) -> StrandPlan:
    """The fewest strands for a piece under its own limits."""
    from companion.knitting.strands.plan import plan_strands

    return plan_strands(piece.rows, piece.carry)


def as_asked(piece: Piece, asked: Mapping[str, Any], own: Settings) -> Piece:
    """A plan's piece in the hands and under the limits that were asked for.

    Raises:
        Problems: it cannot be worked mirrored.
    """
    from companion.plan.outline import for_hands

    piece = for_hands(piece, is_mirrored=(asked["hands"] or own.hands) == "left")
    return replace(piece, carry=options.limited(asked, piece.carry), is_trapping=own.tails == "trap")


def asked_for(word: str, asked: Mapping[str, Any]) -> tuple[Piece, Terms]:
    """The piece of the plan a word names, as it was asked for, and whose words it is told in."""
    own = options.settings()
    piece = as_asked(loaded_plan(word).piece, asked, own)
    return piece, own.terms_for(piece, asked["terms"], asked["units"])


plan_word = click.argument("plan", metavar="PLAN", shell_complete=complete_plan)
as_json = click.option("--json", "is_json", is_flag=True, help="Print one JSON value and nothing else.")
