"""What each strand of a plan does."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

import click

from companion.commands import options
from companion.commands.given import answer, as_json, asked_for, plan_word, planned_for
from companion.commands.group import example
from companion.knitting.howfar import HowFar, part_of
from companion.pages import printing
from companion.pages.waiting import waiting

if TYPE_CHECKING:
    from companion.knitting.piece import Piece
    from companion.knitting.strands.plan import StrandPlan


@click.command(epilog=example("rowside strands swatch --prove"))
@plan_word
@options.limits
@options.spoken
@click.option("--prove", "is_proved", is_flag=True, help="Check that no other strands are fewer or carried less.")
@as_json
def strands(plan: str, is_proved: bool, is_json: bool, **asked: Any) -> int:
    """Print what each strand of PLAN does, and how many it takes."""
    with waiting("Planning the strands") as done:
        piece, terms = asked_for(plan, asked)
        from companion.pages import as_json, tables

        planned = planned_for(piece, part_of(done, 0, 0.5 if is_proved else 1))
        if is_proved:
            printing.tell(_proved(piece, planned, part_of(done, 0.5, 1)))
    table = tables.strand_table(piece, planned.strands, terms, printing.columns())
    return answer(is_json, as_json.strands(piece, planned), table)


def _proved(piece: Piece, planned: StrandPlan, done: HowFar) -> str:
    """That the strands are the best there are, looked for anew.

    Raises:
        AssertionError: they are not, or the proof does not show it.
    """
    from companion.knitting.strands.proof import fault_in

    fault = fault_in(planned.strands, piece.carry, planned.proof, done=done)
    assert not fault, fault
    return "Checked: under these limits no strands are fewer, and no as few are carried less."
