"""What each technique would cost for a plan; the one that is chosen is written into it."""

from __future__ import annotations

from typing import Any

import click

from companion.commands import options
from companion.commands.common import DONE, file_to_change
from companion.commands.given import answer, as_json, asked_for, plan_word
from companion.commands.group import example
from companion.pages import printing
from companion.pages.waiting import waiting
from companion.problems import plain


@click.command(epilog=example("rowside compare swatch", "rowside compare my-plan.yaml --grid --use 2"))
@plan_word
@click.option("--grid", "is_grid", is_flag=True, help="Try every combination of the usual limits.")
@click.option("--reach", callback=options.numbers, metavar="1,3,8", help="Try these in every combination ...")
@click.option("--behind", callback=options.numbers, metavar="0,3,5", help="... with these ...")
@click.option("--rest", callback=options.numbers, metavar="0,2,4", help="... and these.")
@click.option("--use", type=options.whole_number(1), metavar="N", help="Write choice N into the plan file.")
@click.option("--areas", type=options.whole_number(1), metavar="STS", help="With areas of up to so many sewn on.")
@options.spoken
@as_json
def compare(
    plan: str, is_grid: bool, reach: tuple[int, ...], behind: tuple[int, ...], rest: tuple[int, ...],
    use: int | None, areas: int | None, is_json: bool, **asked: Any,
) -> int:
    """Print what each technique would cost for PLAN: strands, ends, floats, yarn."""
    file = None if use is None else file_to_change(plan)
    piece, terms = asked_for(plan, asked)
    from companion.knitting import words
    from companion.knitting.reckoning import choices, savings
    from companion.pages import as_json, tables

    limits = choices.grid(piece, reach, behind, rest) if is_grid or reach or behind or rest else choices.named(piece)
    most = areas or piece.small_areas
    total = len(limits) * (2 if most else 1)
    with waiting("Comparing techniques") as done:
        found = []
        for number, choice in enumerate(choices.compared(piece, limits), 1):
            found.append(choice)
            done(number / total)
        for number, with_sewn in enumerate(choices.compared_sewn(piece, limits, most) if most else (), 1):
            found += [with_sewn] if with_sewn else []
            done((len(limits) + number) / total)
    if use is not None and use > len(found):
        raise click.UsageError(f"There are {len(found)} choices.")
    table = tables.comparison(piece, found, terms, is_coloured=printing.is_coloured(), room=printing.columns())
    answer(is_json, as_json.choices(piece, found), table)
    if use is not None and file:
        from companion.plan import edit

        chosen = found[use - 1]
        sewn = savings.pairs(chosen.sewn)
        edit.use(file, chosen.limits, sewn, asked["size"])
        also = f", and {words.how_many(len(sewn), 'area')} under sewn_on" if sewn else ""
        printing.tell(plain(f"{plan} now says {edit.as_written(chosen.limits)}{also}"))
    return DONE
