"""Few stitches in another yarn that spare strands; those that are chosen are drawn into the plan."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING

import click

from companion.commands import options
from companion.commands.common import DONE, file_to_change
from companion.commands.given import loaded_plan
from companion.commands.group import example
from companion.pages import printing
from companion.pages.waiting import waiting
from companion.problems import plain

if TYPE_CHECKING:
    from companion.knitting.cloth.areas import Cell
    from companion.plan.loaded import Loaded

@click.command(epilog=example(
    "rowside tidy my-plan.yaml", "rowside tidy my-plan.yaml --hold 40-44,20-26 --use 1,3",
))  # fmt: skip
@click.argument("plan", metavar="PLAN")
@click.option("--worth", type=options.whole_number(1, 1_000), metavar="STS", help="Stitches changed for a strand; 6.")
@click.option("--hold", multiple=True, metavar="ROW,ST | FILE", help="Stitches that stay, such as 40-44,20-26.")
@options.size
@click.option("--use", callback=options.numbers_or_all, metavar="1,3 | all", help="Draw these into the plan file.")
def tidy(plan: str, worth: int | None, hold: tuple[str, ...], size: str, use: tuple[int, ...] | None) -> int:
    """Offer stitches of PLAN that in another yarn would spare strands: specks, spurs, bridges, steep slopes.

    Nothing is changed unless it is asked for with --use; then the plan as it was is kept beside it. In shaped pieces,
    in rounds, and where strands may pass behind, rest or share, the 60 smallest changes are weighed.
    """
    file = None if use is None else file_to_change(plan)
    with waiting("Looking for what spares strands") as done:
        loaded = loaded_plan(plan, size)
        from companion.knitting.reckoning import tidying
        from companion.pages import tidied

        free = _free(loaded, hold)
        found = tidying.patches(loaded.piece, free, worth or tidying.USUAL_WORTH, done)
    chosen = range(1, len(found) + 1) if use == () else use or ()
    if any(number > len(found) for number in chosen):
        raise click.UsageError(f"There are {len(found)} changes to choose from.")
    stitches = loaded.piece.fabric.stitches
    printing.say(map(plain, tidied.table(loaded.piece, found, stitches - len(free), printing.columns())))
    if chosen and file:
        from companion.plan import edit

        kept = edit.paint(file, {cell: yarn for n in chosen for cell, yarn in found[n - 1].yarns.items()}, size)
        printing.tell(plain(f"{plan} is tidied; as it was it is kept as {kept}."))
    return DONE


def _free(loaded: Loaded, hold: Sequence[str]) -> set[Cell]:
    """The stitches that are drawn one by one and not held.

    Raises:
        Problems: what is held is not there.
    """
    from companion.drafts.held import check_inside, held

    fabric = loaded.piece.fabric
    holds = tuple(one for word in hold for one in held(word))
    check_inside(holds, len(fabric.rows), fabric.columns)
    return {
        cell for drawing in loaded.drawings for cell in drawing.cells
        if not any(
            one.first_row <= cell.row + 1 <= one.last_row and one.first <= cell.column <= one.last for one in holds
        )
    }
