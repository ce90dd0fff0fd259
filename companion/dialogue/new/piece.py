"""The way from nothing to a plan in a file: what it is made of, all that is asked for that, and where it goes."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from functools import partial
from pathlib import Path

from companion.dialogue.knitter import Knitter
from companion.dialogue.new import answers, material
from companion.dialogue.new.made import Made, summary
from companion.dialogue.new.panel import blank
from companion.dialogue.new.steps import Step, Steps, in_turn
from companion.dialogue.opening import Start, open_plan
from companion.dialogue.questions import Asking, Choice, Reading, Words, YesNo
from companion.knitting.words.terms import Terms
from companion.plan.amount import AmissError
from companion.plan.files import write_new
from companion.problems import plain, quoted
from companion.progress.shelf import Shelf

_LEAVING = YesNo(("Leave it? Nothing of the new plan is written.",), "leave it", "go on")

_WAYS: tuple[tuple[str, Callable[[Path, Terms], Steps[Made]]], ...] = (
    ("A blank panel, to be painted stitch by stitch", lambda _, terms: blank(terms)),
    ("A demo plan", material.from_demo),
    ("A picture (PNG, JPEG, GIF, BMP, WEBP)", material.from_picture),
    ("A chart in a sheet (XLSX, ODS, CSV)", material.from_sheet),
    ("Written rows in a text file", material.from_rows),
)


_READY = ("Save it", "Read its text first")


def new_plan(knitter: Knitter, folder: Path, file: str = "") -> Asking[Path | None]:
    """Ask for a plan and write it into the folder; where it lies, or None where it was left and nothing is written.
    ``file``: the name that stands there for it."""
    settings = knitter.settings
    terms = Terms(settings.terms, is_inches=settings.units == "in")
    knitter.unwritten = "the new plan"
    path: Path | None = yield from in_turn(lambda: _asked(folder, terms, file), _LEAVING)
    knitter.unwritten = ""
    return path


def _asked(folder: Path, terms: Terms, file: str) -> Steps[Path]:
    at: int = yield Step(Choice(("A new plan. What is it made from?",), tuple(line for line, _ in _WAYS)))
    made = yield from _WAYS[at][1](folder, terms)
    is_read: int = yield Step(Choice(("The plan is ready.",), _READY), about=summary(made), is_seen=True)
    if is_read:
        yield Step(Reading("The plan as it will be written", made.text.splitlines(), is_file=True))
    usual = file or answers.free_file(folder, made.title)
    words = Words("The plan goes to the file:", usual)
    path: Path = yield Step(words, answers.stripped(partial(_written, folder, made)))
    return path


def _written(folder: Path, made: Made, typed: str) -> Path:
    """Where it is written, with the files that it draws in."""
    path = answers.new_file(folder)(typed)
    texts: Mapping[Path, str] = {path: made.text} | {path.parent / name: text for name, text in made.files.items()}
    try:
        write_new(texts)
    except OSError as error:
        where = plain(str(error.filename or path))
        raise AmissError(f"cannot be written: {where}: {error.strerror or error}.") from None
    return path


def _knit(knitter: Knitter, shelf: Shelf, plan: Path) -> Asking[None]:
    """Sit down to it."""
    return open_plan(knitter, shelf, plan, Start(is_mirrored=knitter.is_mirrored))


def _draw(knitter: Knitter, _: Shelf, plan: Path) -> Asking[None]:
    """Paint it stitch by stitch."""
    from companion.dialogue.at_the_board import draw

    return draw(knitter, plan, plan.parent)


AFTERWARDS: tuple[tuple[str, Callable[[Knitter, Shelf, Path], Asking[None]]], ...] = (
    ("Draw in it", _draw), ("Knit it", _knit),
)  # fmt: skip
"""What a plan that is written is offered for: the line, and what choosing it does."""


def what_next(knitter: Knitter, shelf: Shelf, plan: Path) -> Asking[None]:
    """Offer what can be done with a plan that is written; where nothing is seen it cannot be drawn in."""
    offered = [(line, do) for line, do in AFTERWARDS if do is not _draw or not knitter.is_heard]
    lines = (*(line for line, _ in offered), "Back to the work basket")
    at = yield Choice((f"{quoted(plan.name)} is written. What next?",), lines)
    if at is not None and at < len(offered):
        yield from offered[at][1](knitter, shelf, plan)
