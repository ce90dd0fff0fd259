"""The commands: parse the words, call one function, print the answer.

Exit codes: 0 done, warnings allowed; 2 the command line or what was given is wrong; 1 the machine failed, or a bug;
130 interrupted. Standard output holds the answer and nothing else. Libraries that only one command needs are
imported by that command.
"""

from __future__ import annotations

import os
import re
import sys
import tempfile
from collections.abc import Iterable, Iterator, Sequence
from contextlib import suppress
from pathlib import Path
from typing import TYPE_CHECKING

import click
from click.shell_completion import CompletionItem

from companion import __version__
from companion.pages import printing
from companion.problems import Problem, Problems, count_of, in_order, nearest, plain, show
from companion.progress.trouble import Trouble

if TYPE_CHECKING:
    from companion.knitting.piece import Piece
    from companion.knitting.strands import StrandPlan
    from companion.plan.read import Loaded

DONE, FAILED, WRONG, INTERRUPTED = 0, 1, 2, 130

PLAN_SUFFIXES = (".yaml", ".yml")


def _complete_plan(_ctx: click.Context, _param: click.Parameter, begun: str) -> list[CompletionItem]:
    """Demo plans and the plan files here; where none begins like this, whatever files the shell finds."""
    here = [path.name for path in Path().iterdir() if path.suffix in PLAN_SUFFIXES]
    known = sorted(word for word in {*here, *_demo_plans()} if word.startswith(begun))
    return [CompletionItem(word) for word in known] or [CompletionItem(begun, type="file")]


def _row_span(_ctx: click.Context, _param: click.Parameter, told: str | None) -> tuple[int, int] | None:
    """The first and the last row of "7" or "5-12"."""
    if told is None:
        return None
    found = re.fullmatch(r"([0-9]{1,9})(?:-([0-9]{1,9}))?", told)
    if not found:
        raise click.UsageError(f'Rows are told as 7 or 5-12, not as "{plain(told)}".')
    first, last = int(found[1]), int(found[2] or found[1])
    if first > last:
        raise click.UsageError(f"Rows are told upward: {last}-{first}.")
    return first, last


plan_word = click.argument("plan", metavar="PLAN", shell_complete=_complete_plan)
as_json = click.option("--json", "is_json", is_flag=True, help="Print one JSON value and nothing else.")


@click.group(invoke_without_command=True, context_settings={"help_option_names": ["-h", "--help"]})
@click.version_option(__version__, "--version", prog_name="rowside", message="%(prog)s %(version)s")
@click.pass_context
def rowside(ctx: click.Context) -> int:
    """Beside your needles, row by row: knit a picture in blocks of colour from a plan.

    PLAN is a plan file or the name of a demo plan. Without a command the work basket opens: what is on the
    needles, and where each piece was left.
    """
    if ctx.invoked_subcommand is not None:
        return DONE
    _need_terminal()
    from companion.screens import collecting

    collecting.pause()
    from companion.screens import app

    return app.basket()


@rowside.command()
@plan_word
@click.option("--name", metavar="NAME", help="The piece of this name; begun where there is none.")
def knit(plan: str, name: str | None) -> int:
    """Knit PLAN at the needles; go on where it was left."""
    path = _path(plan)
    _need_terminal()
    from companion.screens import collecting

    collecting.pause()
    from companion.progress.actions import Refused
    from companion.screens import app

    try:
        return app.knit(path, name=name)
    except Refused as refused:
        raise Problems([Problem(str(refused))]) from None


@rowside.command()
@click.argument("plans", metavar="PLAN...", nargs=-1, required=True, shell_complete=_complete_plan)
@as_json
def check(plans: Sequence[str], is_json: bool) -> int:
    """Check plans: a line for each, and every problem in them."""
    checked: list[tuple[str, Sequence[Problem]]] = []
    for plan in plans:
        line, problems = _checked(plan)
        checked.append((plan, problems))
        if not is_json:
            _report(problems)
            printing.say([line])
    if is_json:
        from companion.pages import as_json

        printing.write(as_json.checked(checked))
    return WRONG if any(not p.is_warning for _, problems in checked for p in problems) else DONE


@rowside.command()
@plan_word
@click.option("--rows", "span", callback=_row_span, metavar="7 | 5-12", help="Only these rows.")
@as_json
def rows(plan: str, span: tuple[int, int] | None, is_json: bool) -> int:
    """Print the written rows of PLAN."""
    piece = _loaded(plan).piece
    first, last = span or (1, len(piece.rows))
    if not 1 <= first <= last <= len(piece.rows):
        raise click.UsageError(f"This plan has rows 1 to {len(piece.rows)}.")
    from companion.pages import as_json, written

    strands = _planned(piece).strands
    if is_json:
        printing.write(as_json.rows(piece, strands, first, last))
    else:
        printing.say(written.part(piece, strands, first, last) if span else written.whole(piece, strands))
    return DONE


@rowside.command()
@plan_word
@as_json
def strands(plan: str, is_json: bool) -> int:
    """Print what each strand of PLAN does, and how many it takes."""
    piece = _loaded(plan).piece
    from companion.pages import as_json, tables

    planned = _planned(piece)
    if is_json:
        printing.write(as_json.strands(piece, planned))
    else:
        printing.say(tables.strand_table(piece, planned.strands))
    return DONE


def _loaded(word: str) -> Loaded:
    """The plan a word names; its warnings go to standard error."""
    from companion.plan.read import load

    loaded = load(_path(word))
    _report(loaded.warnings)
    return loaded


def _planned(piece: Piece) -> StrandPlan:
    from companion.knitting.strands import plan_strands

    return plan_strands(piece.rows, piece.carry)


def _checked(word: str) -> tuple[str, Sequence[Problem]]:
    """One plan's line, and everything that is to be said about it."""
    from companion.pages import tables
    from companion.plan.read import load

    try:
        loaded = load(_path(word))
    except Problems as found:
        return plain(f"{word}: {count_of(found.problems)}."), found.problems
    told = count_of(loaded.warnings) or "nothing to mend"
    return plain(f"{word}: {tables.summary(loaded.piece, _planned(loaded.piece).strands)}; {told}."), loaded.warnings


def _path(word: str) -> Path:
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
    from companion.plan.demo import demo_plans

    return {path.stem: path for path in demo_plans()}


def _report(problems: Iterable[Problem]) -> None:
    for problem in in_order(problems):
        printing.tell(show(problem))


def _need_terminal() -> None:
    """Say so where there is no terminal to show rows on, instead of filling a file with its control sequences.

    Raises:
        OSError: input, output or messages go elsewhere.
    """
    if not all(stream and stream.isatty() for stream in (sys.stdin, sys.stdout, sys.stderr)):
        raise OSError("The rows can only be shown in a terminal; rowside rows prints them as text.")


def main(words: Sequence[str] | None = None) -> int:
    """Run the command line and return its exit code. Nothing but a request to exit is raised."""
    words = sys.argv[1:] if words is None else words
    printing.make_safe()
    try:
        # A group without a command to run returns what its function does.
        code: int = rowside.main(list(words), prog_name="rowside", standalone_mode=False)
        return code
    except click.ClickException as error:
        error.show()
        return error.exit_code
    except Problems as found:
        _report(found.problems)
        return WRONG
    except (click.Abort, KeyboardInterrupt):
        printing.silence()
        return INTERRUPTED
    except Trouble as trouble:
        printing.tell(f"rowside: {trouble}")
        return FAILED
    except OSError as error:
        printing.silence()
        printing.tell(f"rowside: {plain(_reason(error))}")
        return FAILED
    except Exception as error:  # the outermost edge: whatever reaches it is a bug
        printing.silence()
        printing.tell(_told_bug(error, words))
        return FAILED


def _reason(error: OSError) -> str:
    """What the system says, and of which file."""
    if not error.strerror:
        return str(error)
    return f"{error.filename}: {error.strerror}" if error.filename else error.strerror


def _told_bug(error: Exception, words: Sequence[str]) -> str:
    """One sentence that names the report of a bug."""
    from companion import bug_report

    for folder in _report_folders():
        with suppress(OSError):
            path = bug_report.write(error, folder, words)
            return f"rowside: This is a bug in Rowside, not in your plan; {path} tells more."
    return f"rowside: This is a bug in Rowside, and no report could be written: {type(error).__name__}."


def _report_folders() -> Iterator[Path]:
    """Where a report may be written, best first."""
    with suppress(Exception):  # the bug may be in finding the data folder
        from companion.progress.folders import home

        yield home()
    yield Path(tempfile.gettempdir())
