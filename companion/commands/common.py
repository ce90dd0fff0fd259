"""What commands have in common that needs no library for command lines: exit codes, the plan that a word names, how
what is amiss is told, and the way to the needles."""

from __future__ import annotations

import os
import sys
from collections.abc import Callable, Iterable, Mapping
from pathlib import Path
from typing import TYPE_CHECKING

from companion.pages import printing
from companion.problems import Problem, Problems, in_order, nearest, plain, quoted, show

if TYPE_CHECKING:
    from companion.knitting.strands.limits import Carry

DONE, FAILED, WRONG, INTERRUPTED = 0, 1, 2, 130
"""Exit codes: done, warnings allowed; the machine failed, or a bug; what was given is wrong; interrupted."""

PLAN_SUFFIXES = (".yaml", ".yml")

STANDARD_INPUT = "-"
"""The word for a plan that is read from standard input."""


def is_plan_word(word: str) -> bool:
    """Whether a word names a plan that is there, or looks like the file of one."""
    return os.path.isfile(word) or word in demo_plans() or Path(word).suffix in PLAN_SUFFIXES


def demo(word: str) -> Path:
    """The demo plan of this name.

    Raises:
        Problems: there is none.
    """
    demos = demo_plans()
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
    demos = demo_plans()
    if word in demos:
        return demos[word]
    if path.suffix or len(path.parts) != 1 or os.path.exists(path):
        return path
    what = f'There is no plan file "{plain(word)}" here, and no demo plan of that name.'
    raise Problems([Problem(what, mend=_near_demos(word, demos))])


def file_to_change(word: str) -> Path:
    """The plan file that is meant, which --use writes into.

    Raises:
        Problems: there is none, or it is a demo plan.
    """
    from companion.plan.edit import check_own

    path = path_of(word, "Save it in a file: --use writes into that.")
    check_own(path)
    return path


def _near_demos(word: str, demos: Mapping[str, Path]) -> str:
    near = nearest(word, demos)
    mend = f'Did you mean "{near}"? ' if near else ""
    return f"{mend}Demo plans: {', '.join(demos)}."


def demo_plans() -> dict[str, Path]:
    """The demo plans by name."""
    from companion.plan import demo

    return {path.stem: path for path in demo.demo_plans()}


def demo_classes() -> dict[str, Path]:
    """The demo classes by name."""
    from companion.plan import demo

    return {path.stem: path for path in demo.demo_classes()}


def report(problems: Iterable[Problem]) -> None:
    """Print problems on standard error, by line."""
    room = printing.columns()
    for problem in in_order(problems):
        printing.tell(show(problem, room))


def need_terminal(why: str = "The rows can only be shown in a terminal; rowside rows prints them as text.") -> None:
    """Say so where there is no terminal to show rows on, instead of filling a file with its control sequences.

    Raises:
        OSError: input, output or messages go elsewhere.
    """
    if not all(stream and stream.isatty() for stream in (sys.stdin, sys.stdout, sys.stderr)):
        raise OSError(why)


def is_by_lines() -> bool:
    """Whether lines are wanted in place of a screen: by a terminal that cannot be painted on, or by ACCESSIBLE, as
    several command-line programs have it."""
    return os.environ.get("TERM") == "dumb" or bool(os.environ.get("ACCESSIBLE"))


def open_basket(*, is_plain: bool = False) -> int:
    """Open the work basket, by lines where that is asked for, and give the exit code.

    Raises:
        OSError: there is no terminal.
    """
    if is_plain or is_by_lines():
        from companion.lines import start

        return start.basket()
    need_terminal()
    from companion.screens import app

    return app.basket()


def knit_plan(
    word: str, name: str | None = None, limits: Callable[[Carry], Carry] = lambda own: own, size: str = "", *,
    is_plain: bool = False, is_page: bool = False, lan: str = "",
) -> int:
    """Open the plan a word names at the needles, and give the exit code. ``limits``: those of the rows to come, from
    the piece's own; ``size``: of a plan in sizes; ``is_plain``: by lines, not on a screen; ``is_page``: by a browser,
    at the address ``lan``.

    Raises:
        Problems: no file can be meant.
        OSError: there is no terminal.
    """
    path = path_of(word, "Save it in a file and knit that: rowside knit FILE")
    if is_page:
        from companion.page import start as page

        return page.knit(path, name=name, limits=limits, size=size, lan=lan)
    if is_plain or is_by_lines():
        from companion.lines import start

        return start.knit(path, name=name, limits=limits, size=size)
    need_terminal()
    from companion.dialogue import opening
    from companion.dialogue.knitter import own_settings
    from companion.pages.waiting import waiting
    from companion.progress import folders
    from companion.progress.shelf import Shelf

    settings, notice = own_settings()
    how = opening.Start(is_mirrored=settings.hands == "left", limits=limits, size=size)
    with waiting("Making the piece ready"):
        first = opening.first_of(Shelf(folders.pieces()), path, name, how, meanwhile=_load_screens)
    from companion.screens import app

    return app.run(first, settings, notice)


def _load_screens() -> None:
    from companion.screens import app as app


def watch_piece(name: str, *, is_plain: bool = False) -> int:
    """Follow a piece that another window writes, by lines where that is asked for, and give the exit code.

    Raises:
        Refused: no piece has this name.
        OSError: there is no terminal.
    """
    if is_plain or is_by_lines():
        from companion.lines import start

        return start.watch(name)
    need_terminal("A piece can only be watched in a terminal; with --plain its steps are told line by line.")
    from companion.screens import app

    return app.watch(name)
