"""What is asked on a terminal before a picture is drafted, each with the answer that is taken if none is typed."""

from __future__ import annotations

import os
import sys
from collections.abc import Callable
from pathlib import Path
from typing import Any

import click

from companion.commands import new_files
from companion.dialogue.new.picture_questions import PRICE, WIDE, YARNS, Question
from companion.plan.amount import AmissError
from companion.problems import plain

GAUGE = ("Gauge, stitches x rows over a length", "20x28/10cm", "--gauge, such as 20x28/10cm")


def all_of(picture: Path, asked: dict[str, Any]) -> str | None:
    """Ask for all that matters most, in the order in which a knitter decides: how large, in what gauge, in which
    yarns, at what price, and where the plan goes, which is what is returned; nothing where there is nobody to ask."""
    if not _is_somebody_there():
        return None
    wide = _asked(WIDE)
    asked["stitches" if isinstance(wide, int) else "width"] = wide
    asked["gauge"] = _answered(*GAUGE[:2])
    yarns = _asked(YARNS)
    asked["colours" if isinstance(yarns, int) else "yarns"] = yarns
    asked["price"] = _asked(PRICE)
    return str(_answered("The plan goes to the file", f"{picture.stem}.yaml", _new_file))


def ask_for_what_is_missing(asked: dict[str, Any]) -> None:
    """Ask for gauge and width where other options were given.

    Raises:
        click.UsageError: they are missing and there is nobody to ask, or two are given where one is meant.
    """
    for one, other in (("stitches", "width"), ("price", "strands")):
        if asked[one] is not None and asked[other] is not None:
            raise click.UsageError(f"--{one} and --{other} say the same thing: give one of them.")
    if asked["gauge"] is None:
        asked["gauge"] = answer(*GAUGE)
    if asked["stitches"] is None and asked["width"] is None:
        asked["width"] = answer("How wide", "40cm", "--stitches or --width")


def answer(what: str, usual: str, option: str) -> str:
    """What is typed on a terminal; the usual if nothing is.

    Raises:
        click.UsageError: nobody is there.
    """
    if not _is_somebody_there():
        raise click.UsageError(f"How large is it to be? Give {option}.")
    return str(_answered(what, usual))


def _answered(what: str, usual: str, meant: Callable[[str], Any] = str.strip) -> Any:
    """What is typed, or the usual, as it is meant; asked again until that can be told."""
    return click.prompt(what, default=usual, err=True, value_proc=meant)


def _asked(question: Question) -> Any:
    """The answer to one of the questions that are asked of pictures wherever they are drafted."""

    def meant(typed: str) -> Any:
        try:
            return question.meant(typed)
        except AmissError as amiss:
            raise click.UsageError(f"It {amiss.what}") from None

    return _answered(question.text, question.usual, meant)


def _new_file(typed: str) -> str:
    """A file that is not there yet: nothing that was answered may be in vain."""
    name = typed.strip()
    new_files.check_plan_name(name)
    if os.path.exists(name):
        raise click.UsageError(f"{plain(name)} is there already; the plan wants a name of its own.")
    return name


def _is_somebody_there() -> bool:
    return sys.stdin.isatty() and sys.stderr.isatty()
