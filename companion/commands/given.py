"""What commands are given: a plan by its name or file, rows, and a way to print; and what is made of it."""

from __future__ import annotations

import os
import re
import sys
from collections.abc import Iterable, Mapping
from dataclasses import replace
from pathlib import Path
from typing import TYPE_CHECKING, Any

import click

from companion.commands import options
from companion.knitting.howfar import HowFar, untold
from companion.pages import printing
from companion.problems import Problem, Problems, in_order, nearest, plain, quoted, show

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

STANDARD_INPUT = "-"
"""The word for a plan that is read from standard input."""

_ON_INPUT = "standard input"
"""What it is called in problems."""


def complete_piece(_ctx: click.Context, _param: click.Parameter, begun: str) -> list[CompletionItem]:
    """The pieces on the shelf."""
    from click.shell_completion import CompletionItem

    from companion.progress.folders import pieces
    from companion.progress.shelf import Shelf

    names = [card.name for card in Shelf(pieces()).cards() if card.name.casefold().startswith(begun.casefold())]
    return [CompletionItem(_as_the_shell_types(name)) for name in names]


def _as_the_shell_types(name: str) -> str:
    """A name with its spaces kept together. bash puts in what it is given; others quote by themselves."""
    is_bash = os.environ.get("_ROWSIDE_COMPLETE", "").startswith("bash")
    if not is_bash or re.search(r"""(?:^|\s)["'][^"']*$""", os.environ.get("COMP_WORDS", "")):
        return name
    return re.sub(r"([^\w@%+=:,./-])", r"\\\1", name)


def complete_demo(_ctx: click.Context, _param: click.Parameter, begun: str) -> list[CompletionItem]:
    """The demo plans."""
    from click.shell_completion import CompletionItem

    return [CompletionItem(name) for name in _demo_plans() if name.startswith(begun)]


def complete_plan(_ctx: click.Context, _param: click.Parameter, begun: str) -> list[CompletionItem]:
    """Demo plans and the plan files here; where none begins like this, whatever files the shell finds."""
    from click.shell_completion import CompletionItem

    here = [path.name for path in Path().iterdir() if path.suffix in PLAN_SUFFIXES]
    known = sorted(word for word in {*here, *_demo_plans()} if word.startswith(begun))
    return [CompletionItem(word) for word in known] or [CompletionItem(begun, type="file")]


def is_plan_word(word: str) -> bool:
    """Whether a word names a plan that is there, or looks like the file of one."""
    return os.path.isfile(word) or word in _demo_plans() or Path(word).suffix in PLAN_SUFFIXES


def demo(word: str) -> Path:
    """The demo plan of this name.

    Raises:
        Problems: there is none.
    """
    demos = _demo_plans()
    if word in demos:
        return demos[word]
    raise Problems([Problem(f"No demo plan is called {quoted(word)}.", mend=_near_demos(word, demos))])


def path_of(word: str, instead: str = "") -> Path:
    """The file a word names: a file of that name, or else the demo plan. ``instead``: how it is done with a plan from
    standard input, which has no file.

    Raises:
        Problems: there is neither, and the word looks like a name rather than a path; or it is standard input.
    """
    if word == STANDARD_INPUT:
        raise Problems([Problem("This needs a plan in a file, and none lies on standard input.", mend=instead)])
    path = Path(word)
    if os.path.isfile(path):  # unlike Path.is_file, never raises for a name the system cannot hold
        return path
    demos = _demo_plans()
    if word in demos:
        return demos[word]
    if path.suffix or len(path.parts) != 1 or os.path.exists(path):
        return path
    what = f'There is no plan file "{plain(word)}" here, and no demo plan of that name.'
    raise Problems([Problem(what, mend=_near_demos(word, demos))])


def _near_demos(word: str, demos: Mapping[str, Path]) -> str:
    near = nearest(word, demos)
    mend = f'Did you mean "{near}"? ' if near else ""
    return f"{mend}Demo plans: {', '.join(demos)}."


def _demo_plans() -> dict[str, Path]:
    """The demo plans by name."""
    from companion.plan.demo import demo_plans

    return {path.stem: path for path in demo_plans()}


def report(problems: Iterable[Problem]) -> None:
    """Print problems on standard error, by line."""
    room = printing.columns()
    for problem in in_order(problems):
        printing.tell(show(problem, room))


def need_terminal() -> None:
    """Say so where there is no terminal to show rows on, instead of filling a file with its control sequences.

    Raises:
        OSError: input, output or messages go elsewhere.
    """
    if not all(stream and stream.isatty() for stream in (sys.stdin, sys.stdout, sys.stderr)):
        raise OSError("The rows can only be shown in a terminal; rowside rows prints them as text.")


def answer(is_json: bool, json: Iterable[str], text: Iterable[str]) -> int:
    """Print the pieces of one JSON value, or else lines of text."""
    if is_json:
        printing.write(json)
    else:
        printing.say(text)
    return DONE


def loaded_plan(word: str) -> Loaded:
    """The plan a word names; its warnings go to standard error."""
    loaded = read_plan(word)
    report(loaded.warnings)
    return loaded


def read_plan(word: str) -> Loaded:
    """The plan a word names; one on standard input draws in files of the folder one is in.

    Raises:
        Problems: everything that is wrong with it.
    """
    from companion.plan.files import text_beside, text_from
    from companion.plan.read import load, load_text

    if word != STANDARD_INPUT:
        return load(path_of(word))
    text = text_from(sys.stdin.buffer, _ON_INPUT)
    return load_text(text, _ON_INPUT, lambda file: text_beside(Path(), file, file))


def planned_for(piece: Piece, done: HowFar = untold) -> StrandPlan:
    """The fewest strands for a piece under its own limits.

    Raises:
        TooMuchToWeigh: the limits allow more than can be weighed.
    """
    from companion.knitting.strands.plan import plan_strands

    return plan_strands(piece.rows, piece.carry, done=done)


def as_asked(piece: Piece, asked: Mapping[str, Any], own: Settings) -> Piece:
    """A plan's piece in the hands and under the limits that were asked for.

    Raises:
        Problems: it cannot be worked mirrored.
    """
    from companion.plan.outline import for_hands

    piece = for_hands(piece, is_mirrored=(asked["hands"] or own.hands) == "left")
    limits, is_trapping = options.limited(asked, piece.carry), own.tails == "trap"
    if (limits, is_trapping) == (piece.carry, piece.is_trapping):
        return piece  # with the rows that it has made
    return replace(piece, carry=limits, is_trapping=is_trapping)


def asked_for(word: str, asked: Mapping[str, Any]) -> tuple[Piece, Terms]:
    """The piece of the plan a word names, as it was asked for, and whose words it is told in."""
    own = options.settings()
    piece = as_asked(loaded_plan(word).piece, asked, own)
    return piece, own.terms_for(piece, asked["terms"], asked["units"])


plan_word = click.argument("plan", metavar="PLAN", shell_complete=complete_plan)
as_json = click.option("--json", "is_json", is_flag=True, help="Print one JSON value and nothing else.")
