"""Small areas that could be sewn on afterwards; those that are chosen are written into the plan."""

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


@click.command(epilog=example("rowside areas swatch", "rowside areas my-plan.yaml --most 8 --use all"))
@plan_word
@click.option("--most", type=options.whole_number(1), metavar="STS", help="Areas of up to so many stitches.")
@click.option("--use", callback=options.numbers_or_all, metavar="1,3 | all", help="Write these into the plan file.")
@options.limits
@options.spoken
@as_json
def areas(plan: str, most: int | None, use: tuple[int, ...] | None, is_json: bool, **asked: Any) -> int:
    """Print the small areas of PLAN that are worth sewing on, and what that saves."""
    file = None if use is None else file_to_change(plan)
    with waiting("Looking at small areas") as done:
        piece, terms = asked_for(plan, asked)
        from companion.knitting.reckoning import savings
        from companion.pages import as_json, tables

        small = savings.small_areas(piece, most or piece.small_areas or savings.USUAL_MOST)
        found = savings.worth_sewing(piece, small, done)
        together = savings.saved_together(piece, found)
    chosen = range(1, len(found) + 1) if use == () else use or ()
    if any(number > len(found) for number in chosen):
        raise click.UsageError(f"There are {len(found)} areas to choose from.")
    table = tables.areas_table(piece, found, together, len(small) - len(found), terms, printing.columns())
    answer(is_json, as_json.areas(piece, found, together), table)
    if chosen and file:
        from companion.plan import edit

        sewn = savings.pairs([found[number - 1] for number in chosen])
        edit.use(file, sewn=sewn, size=asked["size"])
        items = "; ".join(edit.item(piece.fabric, *each) for each in sewn)
        printing.tell(plain(f"{plan} now has under sewn_on: {items}"))
    return DONE
