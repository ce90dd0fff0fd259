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
from collections.abc import Iterable, Iterator, Mapping, Sequence
from contextlib import suppress
from dataclasses import replace
from pathlib import Path
from typing import TYPE_CHECKING, Any

import click
from click.shell_completion import CompletionItem

from companion import __version__, options
from companion.pages import printing
from companion.problems import Problem, Problems, count_of, in_order, nearest, plain, show
from companion.progress.trouble import Trouble

if TYPE_CHECKING:
    from companion.knitting.ends import End, EndState
    from companion.knitting.piece import Piece
    from companion.knitting.strands import StrandPlan, Strands
    from companion.knitting.words import Terms
    from companion.plan.read import Loaded
    from companion.settings import Settings

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
@options.limits
def knit(plan: str, name: str | None, **asked: Any) -> int:
    """Knit PLAN at the needles; go on where it was left.

    Limits that are named here are those of the rows still to come.
    """
    path = _path(plan)
    _need_terminal()
    from companion.screens import collecting

    collecting.pause()
    from companion.progress.actions import Refused
    from companion.screens import app

    try:
        return app.knit(path, name=name, limits=options.Limits.of(asked).over)
    except Refused as refused:
        raise Problems([Problem(str(refused))]) from None


@rowside.command()
@click.argument("plans", metavar="PLAN...", nargs=-1, required=True, shell_complete=_complete_plan)
@options.limits
@as_json
def check(plans: Sequence[str], is_json: bool, **asked: Any) -> int:
    """Check plans: a line for each, and every problem in them."""
    limits = options.Limits.of(asked)
    checked: list[tuple[str, Sequence[Problem]]] = []
    for plan in plans:
        line, problems = _checked(plan, limits)
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
@options.limits
@options.spoken
@as_json
def rows(plan: str, span: tuple[int, int] | None, is_json: bool, **asked: Any) -> int:
    """Print the written rows of PLAN."""
    piece, terms = _asked_for(plan, asked)
    first, last = span or (1, len(piece.rows))
    if not 1 <= first <= last <= len(piece.rows):
        raise click.UsageError(f"This plan has rows 1 to {len(piece.rows)}.")
    from companion.pages import as_json, written

    strands = _planned(piece).strands
    if is_json:
        printing.write(as_json.rows(piece, strands, first, last))
    else:
        told = written.part(piece, strands, first, last, terms) if span else written.whole(piece, strands, terms)
        printing.say(told)
    return DONE


@rowside.command()
@plan_word
@options.limits
@options.spoken
@click.option("--prove", "is_proved", is_flag=True, help="Check that no other strands are fewer or carried less.")
@as_json
def strands(plan: str, is_proved: bool, is_json: bool, **asked: Any) -> int:
    """Print what each strand of PLAN does, and how many it takes."""
    piece, terms = _asked_for(plan, asked)
    from companion.pages import as_json, tables

    planned = _planned(piece)
    if is_proved:
        printing.tell(_proved(piece, planned))
    if is_json:
        printing.write(as_json.strands(piece, planned))
    else:
        printing.say(tables.strand_table(piece, planned.strands, terms))
    return DONE


@rowside.command()
@plan_word
@click.option("--grid", "is_grid", is_flag=True, help="Try every combination of the usual limits.")
@click.option("--reach", callback=options.numbers, metavar="1,3,8", help="Try these in every combination ...")
@click.option("--behind", callback=options.numbers, metavar="0,3,5", help="... with these ...")
@click.option("--rest", callback=options.numbers, metavar="0,2,4", help="... and these.")
@click.option("--use", type=click.IntRange(1), metavar="N", help="Write the limits of choice N into the plan file.")
@click.option("--areas", type=click.IntRange(1), metavar="STS", help="Also with areas of up to so many sewn on.")
@options.spoken
@as_json
def compare(
    plan: str, is_grid: bool, reach: tuple[int, ...], behind: tuple[int, ...], rest: tuple[int, ...],
    use: int | None, areas: int | None, is_json: bool, **asked: Any,
) -> int:
    """Print what each technique would cost for PLAN: strands, ends, floats, yarn."""
    piece, terms = _asked_for(plan, asked)
    from companion.knitting import choices, savings, words
    from companion.pages import as_json, compared

    limits = choices.grid(piece, reach, behind, rest) if is_grid or reach or behind or rest else choices.named(piece)
    most = areas or piece.small_areas
    with printing.waiting(len(limits) * (2 if most else 1), "comparing") as done:
        found = []
        for number, choice in enumerate(choices.compared(piece, limits), 1):
            found.append(choice)
            done(number)
        for number, with_sewn in enumerate(choices.compared_sewn(piece, limits, most) if most else (), 1):
            found += [with_sewn] if with_sewn else []
            done(len(limits) + number)
    if use is not None and use > len(found):
        raise click.UsageError(f"There are {len(found)} choices.")
    if is_json:
        printing.write(as_json.choices(piece, found))
    else:
        printing.say(compared.table(piece, found, terms, is_coloured=printing.is_coloured()))
    if use is not None:
        from companion.plan import edit

        chosen = found[use - 1]
        sewn = savings.pairs(chosen.sewn)
        edit.use(_path(plan), chosen.limits, sewn)
        also = f", and {words.how_many(len(sewn), 'area')} under sewn_on" if sewn else ""
        printing.tell(plain(f"{plan} now says {edit.told(chosen.limits)}{also}"))
    return DONE


@rowside.command()
@plan_word
@click.option("--most", type=click.IntRange(1), metavar="STS", help="Areas of up to so many stitches.")
@click.option("--use", callback=options.numbers_or_all, metavar="1,3 | all", help="Write these into the plan file.")
@options.limits
@options.spoken
@as_json
def areas(plan: str, most: int | None, use: tuple[int, ...] | None, is_json: bool, **asked: Any) -> int:
    """Print the small areas of PLAN that are worth sewing on, and what that saves."""
    piece, terms = _asked_for(plan, asked)
    from companion.knitting import savings
    from companion.pages import areas as page
    from companion.pages import as_json

    small = savings.small_areas(piece, most or piece.small_areas or savings.USUAL_MOST)
    with printing.waiting(len(small), "looking at small areas") as done:
        found = []
        for number, saving in enumerate(savings.savings(piece, small), 1):
            found += [saving] if saving else []
            done(number)
    chosen = range(1, len(found) + 1) if use == () else use or ()
    if any(number > len(found) for number in chosen):
        raise click.UsageError(f"There are {len(found)} areas to choose from.")
    together = savings.saved_together(piece, found)
    if is_json:
        printing.write(as_json.areas(piece, found, together))
    else:
        printing.say(page.table(piece, found, together, len(small) - len(found), terms))
    if chosen:
        from companion.plan import edit

        sewn = savings.pairs([found[number - 1] for number in chosen])
        edit.use(_path(plan), sewn=sewn)
        printing.tell(plain(f"{plan} now has under sewn_on: {'; '.join(edit.item(*each) for each in sewn)}"))
    return DONE


@rowside.command()
@plan_word
@click.option("--name", metavar="NAME", help="The piece of this name, where several follow the plan.")
@options.spoken
@as_json
def ends(plan: str, name: str | None, is_json: bool, **asked: Any) -> int:
    """Print every end of PLAN and how to weave it in; of a piece in work, its state."""
    own = options.settings()
    piece, strands, ledger = _ends(plan, name, own, asked)
    terms = own.terms_for(piece, asked["terms"], asked["units"])
    from companion.pages import as_json
    from companion.pages import ends as page

    if is_json:
        printing.write(as_json.ends(piece, strands, ledger))
    else:
        printing.say(page.ledger(piece, strands, ledger, terms, own.shows_by))
    return DONE


@rowside.command()
@plan_word
@click.argument("runs", metavar='"s 12, b 6, s 22"')
@click.option("--side", type=click.Choice(["RS", "WS"]), help="The side that faces you.")
@as_json
def where(plan: str, runs: str, side: str | None, is_json: bool) -> int:
    """Print which rows of PLAN have these runs, as they lie on the needle from left to right."""
    piece = _loaded(plan).piece
    from companion.knitting import words
    from companion.knitting.whereabouts import rows_like
    from companion.plan.needle import runs_on_needle

    on_needle = runs_on_needle(runs, piece.yarns)
    found = rows_like(piece.rows, on_needle, is_right_side=None if side is None else side == "RS")
    if is_json:
        from companion.pages import as_json

        printing.write(as_json.row_numbers(piece, found))
    else:
        printing.say(map(plain, words.rows_found(piece.rows, found)))
    return DONE


@rowside.group()
def progress() -> None:
    """Take a piece with all its progress to another machine."""


@progress.command()
@click.argument("name")
@click.option("-o", "--output", metavar="FILE", help="The file to write; without it standard output.")
def export(name: str, output: str | None) -> int:
    """Write the piece NAME, its plan and all its progress as one readable file."""
    from companion.progress import exported
    from companion.progress.actions import Refused
    from companion.progress.folders import pieces
    from companion.progress.shelf import Shelf

    try:
        contents = Shelf(pieces()).contents(name)
    except Refused as refused:
        raise Problems([Problem(str(refused))]) from None
    if output is None:
        printing.write(exported.written(contents))
        return DONE
    path = Path(output)
    if path.exists():
        raise Problems([Problem(f'There is a file "{plain(output)}" already.', mend="Name another one.")])
    from companion.plan.files import replace_text

    replace_text(path, "".join(exported.written(contents)))
    printing.tell(plain(f'{output} holds "{contents.card.name}", {words_of_steps(len(contents.entries) - 1)}.'))
    return DONE


@progress.command("import")
@click.argument("file", metavar="FILE", type=click.Path(exists=False))
@click.option("--yes", is_flag=True, help="Let it go on where the piece of its name here was left, without asking.")
def import_(file: str, yes: bool) -> int:
    """Take in a piece that was exported. A piece that is here is never overwritten."""
    from companion.plan.files import plan_text
    from companion.progress import exported
    from companion.progress.actions import Refused
    from companion.progress.folders import pieces
    from companion.progress.shelf import Shelf

    found = exported.read(plan_text(Path(file)), file)
    shelf = Shelf(pieces())
    steps = words_of_steps(len(found.entries) - 1)
    if shelf.stands_to(found) == "longer" and not yes:
        question = plain(f'"{found.name}" is here, with less done. Go on with the one that has {steps}?')
        if not sys.stdin.isatty():
            raise Problems([Problem(question, mend="Say so with --yes.")])
        if not click.confirm(question, err=True):
            return DONE
    try:
        name = shelf.take_in(found, Path.cwd())
    except Refused as refused:
        raise Problems([Problem(str(refused))]) from None
    printing.tell(plain(f'"{name}" is on your shelf, with {steps}.'))
    return DONE


def words_of_steps(number: int) -> str:
    """So many steps of a history."""
    from companion.knitting.words import how_many

    return how_many(number, "step")


def _ends(
    word: str, name: str | None, own: Settings, asked: Mapping[str, Any]
) -> tuple[Piece, Strands, Sequence[tuple[End, EndState]]]:
    """The ends of the piece in work that follows a plan, or of the plan where there is none.

    Raises:
        Problems: several pieces follow the plan and none is named, or there is none of that name.
    """
    from companion.knitting.ends import ends_of
    from companion.progress.actions import Refused
    from companion.progress.ends import all_ends
    from companion.progress.folders import pieces
    from companion.progress.shelf import Shelf

    shelf = Shelf(pieces())
    names = [card.name for card in shelf.find(_path(word))]
    if len(names) > 1 and name is None:
        raise Problems([Problem("Several pieces follow this plan.", mend=f"Name one: --name {_shown_names(names)}")])
    if names or name is not None:
        try:
            session = shelf.resume(name or names[0], look_only=True).session
        except Refused as refused:
            raise Problems([Problem(str(refused))]) from None
        return session.piece, session.strands, all_ends(session)
    piece = _loaded(word).piece.for_hands(is_mirrored=(asked["hands"] or own.hands) == "left")
    strands = _planned(piece).strands
    return piece, strands, [(end, "not yet") for end in ends_of(strands)]


def _shown_names(names: Sequence[str]) -> str:
    """Names as they are typed in a shell."""
    return ", --name ".join(f'"{plain(name)}"' for name in names)


def _asked_for(word: str, asked: Mapping[str, Any]) -> tuple[Piece, Terms]:
    """The piece of a plan under the limits and in the hands that were asked for, and whose words it is told in."""
    own = options.settings()
    piece = _loaded(word).piece.for_hands(is_mirrored=(asked["hands"] or own.hands) == "left")
    piece = replace(piece, is_trapping=own.tails == "trap")
    if "share" in asked:
        piece = replace(piece, carry=options.Limits.of(asked).over(piece.carry))
    return piece, own.terms_for(piece, asked["terms"], asked["units"])


def _proved(piece: Piece, planned: StrandPlan) -> str:
    """That the strands are the best there are, looked for anew.

    Raises:
        AssertionError: they are not, or the proof does not show it.
    """
    from companion.knitting.proof import fault_in

    fault = fault_in(planned.strands, piece.carry, planned.proof)
    assert not fault, fault
    return "Checked: under these limits no strands are fewer, and no as few are carried less."


def _loaded(word: str) -> Loaded:
    """The plan a word names; its warnings go to standard error."""
    from companion.plan.read import load

    loaded = load(_path(word))
    _report(loaded.warnings)
    return loaded


def _planned(piece: Piece) -> StrandPlan:
    from companion.knitting.strands import plan_strands

    return plan_strands(piece.rows, piece.carry)


def _checked(word: str, limits: options.Limits) -> tuple[str, Sequence[Problem]]:
    """One plan's line, and everything that is to be said about it."""
    from companion.pages import tables
    from companion.plan.read import load

    try:
        loaded = load(_path(word))
    except Problems as found:
        return plain(f"{word}: {count_of(found.problems)}."), found.problems
    told = count_of(loaded.warnings) or "nothing to mend"
    piece = replace(loaded.piece, carry=limits.over(loaded.piece.carry))
    told += _small_areas(piece)
    return plain(f"{word}: {tables.summary(piece, _planned(piece).strands)}; {told}."), loaded.warnings


def _small_areas(piece: Piece) -> str:
    """What a plan that asks for small areas is told of them."""
    if not piece.small_areas:
        return ""
    from companion.knitting import words
    from companion.knitting.savings import saved_together, savings, small_areas

    found = [saving for saving in savings(piece, small_areas(piece, piece.small_areas)) if saving]
    if not found:
        return "; no small area would save an end"
    _, ends = saved_together(piece, found)
    areas, fewer = words.how_many(len(found), "small area"), words.how_many(ends, "end")
    return f"; {areas} sewn on would save {fewer}: rowside areas"


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
