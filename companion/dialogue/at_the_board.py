"""From a plan to the drawing board: a plan of one's own is opened there, of a demo plan a copy."""

from __future__ import annotations

import os
from collections.abc import Mapping
from dataclasses import replace
from itertools import count
from pathlib import Path

from companion.board.board import Board
from companion.dialogue.knitter import Knitter
from companion.dialogue.new.answers import path_in
from companion.dialogue.opening import cannot_be_opened
from companion.dialogue.painting import Painting
from companion.dialogue.questions import Asking, Reading, Words
from companion.knitting.howfar import TooMuchToWeigh
from companion.knitting.piece import Piece
from companion.plan.edit import is_demo
from companion.plan.files import replace_text
from companion.plan.outline import for_hands
from companion.plan.read import load
from companion.problems import Problem, Problems, plain, quoted

NEEDS_A_SCREEN = "The drawing board needs a terminal that can be painted on."
"""What a front end without one says of it."""


def check(plan: Path, size: str = "") -> None:
    """Whether a plan can be put on the board.

    Raises:
        Problems: it has something to mend.
    """
    load(plan, size)


def draw(knitter: Knitter, plan: Path, folder: Path, size: str = "") -> Asking[None]:
    """Draw in a plan file, in this of its sizes. Of a demo plan a copy is made in the folder. Whatever ends it, the
    app's end and a bug included, the last stroke is saved.

    Raises:
        Problems, OSError: that cannot be.
    """
    try:
        own = (yield from _copied(plan, folder)) if is_demo(plan) else plan
        board = Board(own, lambda piece: in_hand(knitter, piece), size) if own is not None else None
    except Problems as error:
        yield cannot_be_opened(error)
        return
    except TooMuchToWeigh as error:
        yield Reading("This cannot be opened", [str(error)])
        return
    except OSError as error:
        where = f"{plain(str(error.filename))}: " if error.filename else ""
        yield Reading("This cannot be opened", [f"{where}{error.strerror or error}"])
        return
    if board is not None:
        try:
            yield Painting(knitter, board)
        finally:
            board.save()


def in_hand(knitter: Knitter, piece: Piece) -> Piece:
    """A plan's piece as its knitter works it.

    Raises:
        Problems: it cannot be worked mirrored.
    """
    piece = for_hands(piece, is_mirrored=knitter.is_mirrored)
    is_trapping = knitter.settings.tails == "trap"
    return piece if piece.is_trapping == is_trapping else replace(piece, is_trapping=is_trapping)


def _copied(demo: Path, folder: Path) -> Asking[Path | None]:
    """A copy of a demo plan, with the files it draws in beside it; None where none is wanted."""
    asked = "A demo plan stays as it is: draw in a copy. What is the copy's file called?"
    name = yield Words(asked, _free(demo.name, folder))
    if not name:
        return None
    loaded, path = load(demo), _plan_named(name.strip(), folder)
    beside = {path.parent / file: text for file, text in loaded.files.items()}
    texts: Mapping[Path, str] = {path: loaded.text} | beside
    there = [file for file, text in texts.items() if os.path.lexists(file) and not _holds(file, text)]
    if path in there or os.path.lexists(path):
        there = [path]
    if there:
        raise Problems([Problem(f"There is a file {quoted(one.name)} already.", str(one)) for one in there])
    for file, text in texts.items():
        replace_text(file, text)
    return path


def _plan_named(name: str, folder: Path) -> Path:
    """The file of a copy; where its name has no ending, that of plans.

    Raises:
        Problems: it is not the name of a plan.
    """
    last = os.path.basename(name)
    if last.strip(".") and not Path(last).suffix:
        name += ".yaml"
    if not Path(last).stem.strip(".") or not name.lower().endswith((".yaml", ".yml")):
        what = f"The name of a plan ends in .yaml or .yml, and this is {quoted(name)}."
        raise Problems([Problem(what, mend="Such as my-plan.yaml.")])
    return path_in(folder, name)


def _holds(file: Path, text: str) -> bool:
    return file.is_file() and file.read_bytes() == text.encode()


def _free(name: str, folder: Path) -> str:
    """A name for a copy that no file has."""
    path = Path(name)
    names = (f"{path.stem}{'' if number == 1 else f'-{number}'}{path.suffix}" for number in count(1))
    return next(name for name in names if not os.path.lexists(folder / name))
