"""A class: what each student knits and needs, what all need together, and a hand-out for each."""

from __future__ import annotations

import os
from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path
from typing import TYPE_CHECKING, Literal

import click

from companion.commands import new_files, options
from companion.commands import print as on_paper
from companion.commands.common import DONE, demo_classes, report
from companion.commands.given import answer, as_json
from companion.commands.group import example
from companion.knitting.howfar import HowFar
from companion.pages import printing
from companion.pages.waiting import waiting
from companion.problems import Problem, Problems, nearest, plain, quoted

if TYPE_CHECKING:
    from click.shell_completion import CompletionItem

    from companion.plan.classes import KnittingClass
    from companion.settings import Settings


def _complete(_ctx: click.Context, _param: click.Parameter, begun: str) -> list[CompletionItem]:
    from click.shell_completion import CompletionItem

    demos = [name for name in demo_classes() if name.startswith(begun)]
    return [CompletionItem(name) for name in demos] or [CompletionItem(begun, type="file")]


@click.command("class", epilog=example(
    "rowside class evening-class", "rowside class evening-class --hand-outs tuesday",
))  # fmt: skip
@click.argument("file", metavar="FILE", shell_complete=_complete)
@click.option("--hand-outs", "folder", metavar="FOLDER", help="Write a page for paper for each student there.")
@options.units
@new_files.is_forced
@as_json
def class_(
    file: str, folder: str | None, units: Literal["cm", "in"] | None, is_forced: bool, is_json: bool
) -> int:  # fmt: skip
    """Print what each student of the class in FILE knits and needs, and what to buy and wind for all together.

    FILE is a class file or the name of a demo class. Every student's piece is checked at her own gauge, in her own
    yarns; what is wrong with anybody's is told at once.
    """
    from companion.pages.class_table import class_table, needed
    from companion.plan.classes import load_class

    if folder is not None and os.path.lexists(folder) and not os.path.isdir(folder):
        raise Problems([Problem(f"{quoted(folder)} is no folder.", mend="Name one that is there, or a new one.")])
    with waiting(plain(f"Reading {file}")) as done:
        found = load_class(_path(file), done)
    report(found.warnings)
    own = options.settings()
    if folder is not None:
        with waiting("Setting the pages") as done:
            pages = dict(_hand_outs(found, Path(folder), own, done))
        Path(folder).mkdir(parents=True, exist_ok=True)
        new_files.write(pages, is_forced=is_forced)
    terms = own.terms_for(found.piece, None, units)
    each = needed(found.students, is_inches=terms.is_inches)
    from companion.pages.as_json import knitting_class

    answer(is_json, knitting_class(found, each), class_table(found, each, terms, printing.columns()))
    if folder is not None:
        many = len(found.students)
        printing.tell(plain(f"{folder} has {many} hand-out{'s' * (many > 1)}, to be printed from any browser."))
    return DONE


def _path(word: str) -> Path:
    """The class file that a word names: a file, or else a demo class.

    Raises:
        Problems: there is neither, and the word looks like a name rather than a path.
    """
    path, demos = Path(word), demo_classes()
    if os.path.isfile(path) or (word not in demos and (path.suffix or len(path.parts) != 1)) or os.path.exists(path):
        return path
    if word in demos:
        return demos[word]
    near = nearest(word, demos)
    mend = f'Did you mean "{near}"?' if near else f"Demo classes: {', '.join(demos)}."
    raise Problems([Problem(f"There is no file {quoted(word)} here, and no demo class of that name.", mend=mend)])


def _hand_outs(found: KnittingClass, folder: Path, own: Settings, done: HowFar) -> Iterator[tuple[Path, str]]:
    """Each student's page, and the file it is written to."""
    from companion.pages.hand_out.page import page
    from companion.pages.hand_out.request import HandOut
    from companion.progress.names import free_page_name

    taken = list[str]()
    for number, student in enumerate(found.students):
        done(number / len(found.students))
        piece = replace(student.piece, title=f"{student.piece.title}: {student.name}")
        session = on_paper.not_begun(piece, student.strands)
        hand_out = HandOut(session, own.terms_for(piece), on_paper.PARTS, shows_by=own.shows_by)
        taken.append(free_page_name(student.name, taken))
        yield folder / f"{taken[-1]}.html", "".join(page(hand_out))
