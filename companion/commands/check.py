"""Problems in plans, all of them at once."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from pathlib import Path
from typing import TYPE_CHECKING, Any

import click

from companion import settings
from companion.commands import options
from companion.commands.common import DONE, STANDARD_INPUT, WRONG, path_of, report
from companion.commands.given import as_asked, as_json, complete_plan, in_sizes, planned_for
from companion.commands.group import example
from companion.knitting.howfar import HowFar, TooMuchToWeigh, part_of
from companion.pages import printing
from companion.pages.waiting import waiting
from companion.problems import Problem, Problems, count_of, plain

if TYPE_CHECKING:
    from companion.knitting.piece import Piece
    from companion.plan.loaded import Loaded


@click.command(epilog=example("rowside check my-plan.yaml", "rowside check swatch mooring-mat"))
@click.argument("plans", metavar="PLAN...", nargs=-1, required=True, shell_complete=complete_plan)
@options.limits
@options.spoken
@as_json
def check(plans: Sequence[str], is_json: bool, **asked: Any) -> int:
    """Check plans, or settings.yaml: a line for each, and every problem in them.

    Of a plan in sizes every size is checked, or the one that is named.
    """
    checked: list[tuple[str, Sequence[Problem]]] = []
    for plan in plans:
        with waiting(plain(f"Checking {plan}")) as done:
            lines, problems = _checked(plan, asked, done)
        checked.append((plan, problems))
        if not is_json:
            report(problems)
            printing.say(map(plain, lines))
    if is_json:
        from companion.pages import as_json

        printing.write(as_json.checked(checked))
    return WRONG if any(not p.is_warning for _, problems in checked for p in problems) else DONE


def _checked(word: str, asked: Mapping[str, Any], done: HowFar) -> tuple[Sequence[str], Sequence[Problem]]:
    """A line for a plan in each of its sizes, below it those that shape it; and everything that is to be said."""
    try:
        if word != STANDARD_INPUT and (path := path_of(word)).name == settings.FILE:
            line, problems = _checked_settings(word, path)
            return [line], problems
        sizes, plan_in = in_sizes(word)
    except Problems as found:
        return [f"{word}: {count_of(found.problems)}."], found.problems
    from companion.plan.sizes import told_together

    sizes = [asked["size"]] if asked["size"] else sizes
    lines, of_sizes = list[str](), dict[str, Sequence[Problem]]()
    for number, size in enumerate(sizes):
        part = part_of(done, number / len(sizes), (number + 1) / len(sizes))
        told, of_sizes[size] = _checked_in_size(word, size, plan_in, asked, part)
        lines += told
    return lines, told_together(of_sizes)


def _checked_in_size(
    word: str, size: str, plan_in: Callable[[str], Loaded], asked: Mapping[str, Any], done: HowFar
) -> tuple[Sequence[str], Sequence[Problem]]:
    """The same of one size: its line, and below it those that shape it."""
    from companion.knitting.words.shape import line_shaped
    from companion.knitting.words.sizes import sized_title
    from companion.pages import tables

    called = sized_title(word, size)
    try:
        loaded = plan_in(size)
        piece = as_asked(loaded.piece, asked, options.settings())
        strands = planned_for(piece, part_of(done, 0, 0.5 if piece.small_areas else 1)).strands
    except Problems as found:
        return [f"{called}: {count_of(found.problems)}."], found.problems
    except TooMuchToWeigh as much:
        problem = Problem(str(much), word)
        return [f"{called}: {count_of([problem])}."], [*loaded.warnings, problem]
    verdict = count_of(loaded.warnings) or "nothing to mend"
    verdict += _small_areas(piece, part_of(done, 0.5, 1))
    shapes = [f"{word}:{one.line}  {line_shaped(one.text, one.after)}" for one in loaded.shapes]
    return [f"{called}: {tables.summary(piece, strands)}; {verdict}.", *shapes], loaded.warnings


def _checked_settings(word: str, path: Path) -> tuple[str, Sequence[Problem]]:
    """The same of a file of settings, its keys too."""
    from companion.dialogue.deeds import USUAL
    from companion.plan.files import plan_text

    _, problems = settings.parse(plan_text(path), word, USUAL)
    return f"{word}: settings; {count_of(problems) or 'nothing to mend'}.", problems


def _small_areas(piece: Piece, done: HowFar) -> str:
    """What a plan that asks for small areas is told of them."""
    if not piece.small_areas:
        return ""
    from companion.knitting import words
    from companion.knitting.reckoning.savings import saved_together, small_areas, worth_sewing

    small = small_areas(piece, piece.small_areas)
    try:
        found = worth_sewing(piece, small, done)
    except TooMuchToWeigh:
        return f"; {len(small):,} small areas are too many to be weighed"
    if not found:
        return "; no small area would save an end"
    _, ends = saved_together(piece, found)
    areas, fewer = words.how_many(len(found), "small area"), words.how_many(ends, "end")
    return f"; {areas} sewn on would save {fewer}: rowside areas"
