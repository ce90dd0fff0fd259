"""What commands are given: a plan by its name or file, rows, and a way to print; and what is made of it."""

from __future__ import annotations

import os
import re
import sys
from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import replace
from pathlib import Path
from typing import TYPE_CHECKING, Any

import click

from companion.commands import options
from companion.commands.common import DONE, PLAN_SUFFIXES, STANDARD_INPUT, demo_classes, demo_plans, path_of, report
from companion.knitting.howfar import HowFar, untold
from companion.pages import printing
from companion.problems import Problem, Problems, plain

if TYPE_CHECKING:
    from click.shell_completion import CompletionItem

    from companion.knitting.piece import Piece
    from companion.knitting.strands.plan import StrandPlan
    from companion.knitting.words import Terms
    from companion.plan.loaded import Loaded
    from companion.progress.session import Session
    from companion.settings import Settings

_ON_INPUT = "standard input"
"""What it is called in problems."""


def complete_piece(_ctx: click.Context, _param: click.Parameter, begun: str) -> list[CompletionItem]:
    """The pieces on the shelf."""
    from click.shell_completion import CompletionItem

    from companion.progress.folders import pieces
    from companion.progress.shelf import Shelf

    names = [card.name for card in Shelf(pieces()).cards() if card.name.casefold().startswith(begun.casefold())]
    return [CompletionItem(_as_the_shell_types(name)) for name in names]


def complete_piece_or_file(ctx: click.Context, param: click.Parameter, begun: str) -> list[CompletionItem]:
    """The pieces on the shelf; where none begins like this, whatever files the shell finds."""
    from click.shell_completion import CompletionItem

    return complete_piece(ctx, param, begun) or [CompletionItem(begun, type="file")]


def _as_the_shell_types(name: str) -> str:
    """A name with its spaces kept together. bash puts in what it is given; others quote by themselves."""
    is_bash = os.environ.get("_ROWSIDE_COMPLETE", "").startswith("bash")
    if not is_bash or re.search(r"""(?:^|\s)["'][^"']*$""", os.environ.get("COMP_WORDS", "")):
        return name
    return re.sub(r"([^\w@%+=:,./-])", r"\\\1", name)


def complete_demo(_ctx: click.Context, _param: click.Parameter, begun: str) -> list[CompletionItem]:
    """The demo plans and classes."""
    from click.shell_completion import CompletionItem

    return [CompletionItem(name) for name in (*demo_plans(), *demo_classes()) if name.startswith(begun)]


def complete_plan(_ctx: click.Context, _param: click.Parameter, begun: str) -> list[CompletionItem]:
    """Demo plans and the plan files here; where none begins like this, whatever files the shell finds."""
    from click.shell_completion import CompletionItem

    here = [path.name for path in Path().iterdir() if path.suffix in PLAN_SUFFIXES]
    known = sorted(word for word in {*here, *demo_plans()} if word.startswith(begun))
    return [CompletionItem(word) for word in known] or [CompletionItem(begun, type="file")]


def answer(is_json: bool, json: Iterable[str], text: Iterable[str]) -> int:
    """Print the pieces of one JSON value, or else lines of text."""
    if is_json:
        printing.write(json)
    else:
        printing.say(text)
    return DONE


def loaded_plan(word: str, size: str = "") -> Loaded:
    """The plan a word names, in this size; its warnings go to standard error."""
    loaded = read_plan(word, size)
    report(loaded.warnings)
    return loaded


def read_plan(word: str, size: str = "") -> Loaded:
    """The plan a word names, in this size; one on standard input draws in files of the folder one is in.

    Raises:
        Problems: everything that is wrong with it.
    """
    return in_sizes(word)[1](size)


def in_sizes(word: str) -> tuple[Sequence[str], Callable[[str], Loaded]]:
    """The sizes of the plan that a word names, "" alone where it is of one, and what reads it in one of them.

    Raises:
        Problems: there is no such plan. What reads it raises everything that is wrong with it.
    """
    from companion.plan.files import plan_text, text_beside, text_from
    from companion.plan.read import load, load_text
    from companion.plan.sizes import sizes_of

    if word != STANDARD_INPUT:
        path = path_of(word)
        return sizes_of(plan_text(path)) or ("",), lambda size: load(path, size)
    text = text_from(sys.stdin.buffer, _ON_INPUT)
    return sizes_of(text) or ("",), lambda size: load_text(
        text, _ON_INPUT, lambda file: text_beside(Path(), file, file), size=size
    )


def piece_in_work(word: str, name: str | None, size: str = "") -> Session | None:
    """The piece in work that follows a plan, in this size where one is named, or has this name; None where none does
    and none is named.

    Raises:
        Problems: several pieces follow the plan and none is named, or there is none of that name.
    """
    from companion.knitting.words.sizes import is_of_size
    from companion.progress.folders import pieces
    from companion.progress.shelf import Shelf

    shelf = Shelf(pieces())
    followed = () if word == STANDARD_INPUT else shelf.find(path_of(word))
    names = [card.name for card in followed if is_of_size(card.title, size)]
    if len(names) > 1 and name is None:
        shown = ", --name ".join(f'"{plain(name)}"' for name in names)
        raise Problems([Problem("Several pieces follow this plan.", mend=f"Name one: --name {shown}")])
    return shelf.resume(name or names[0], look_only=True).session if names or name is not None else None


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
    piece = as_asked(loaded_plan(word, asked["size"]).piece, asked, own)
    return piece, own.terms_for(piece, asked["terms"], asked["units"])


plan_word = click.argument("plan", metavar="PLAN", shell_complete=complete_plan)
piece_name = click.option(
    "--name", metavar="NAME", shell_complete=complete_piece,
    help="The piece of this name, where several follow the plan.",
)
as_json = click.option("--json", "is_json", is_flag=True, help="Print one JSON value and nothing else.")
