"""The command that opens a plan at the needles."""

from __future__ import annotations

from functools import partial
from typing import Any

import click

from companion.commands import options
from companion.commands.common import knit_plan
from companion.commands.given import complete_piece, plan_word
from companion.commands.group import example


@click.command(epilog=example('rowside knit swatch', 'rowside knit swatch --name "For Ada"',
                              "rowside knit swatch --plain"))
@plan_word
@click.option("--name", metavar="NAME", shell_complete=complete_piece,
              help="The piece of this name; begun where there is none.")
@click.option("--plain", "is_plain", is_flag=True,
              help="One line out, one line in: for a screen reader, a braille display, a pipe.")
@options.size
@options.limits
def knit(plan: str, name: str | None, is_plain: bool, size: str, **asked: Any) -> int:
    """Knit PLAN at the needles; go on where it was left.

    Limits that are named here are those of the rows still to come.
    """
    return knit_plan(plan, name, partial(options.limited, asked), size, is_plain=is_plain)
