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
                              "rowside knit swatch --plain", "rowside knit swatch --page"))
@plan_word
@click.option("--name", metavar="NAME", shell_complete=complete_piece,
              help="The piece of this name; begun where there is none.")
@click.option("--plain", "is_plain", is_flag=True,
              help="One line out, one line in: for a screen reader, a braille display, a pipe.")
@click.option("--page", "is_page", is_flag=True,
              help="Serve it to a browser on this computer: a tablet's page, large, with buttons.")
@click.option("--lan", metavar="ADDRESS", type=options.address,
              help="With --page: this computer's address on a network, to serve it to the browsers on that.")
@click.option("--size", metavar="SIZE", default="", help="Of a plan in sizes this one; without it you are asked.")
@options.limits
def knit(
    plan: str, name: str | None, is_plain: bool, is_page: bool, lan: str | None, size: str, **asked: Any
) -> int:
    """Knit PLAN at the needles; go on where it was left.

    Limits that are named here are those of the rows still to come.
    """
    if lan and not is_page:
        raise click.UsageError("--lan says where a page is served; --page serves one.")
    if is_page and is_plain:
        raise click.UsageError("It is served as a page or told by lines, not both: --page or --plain.")
    limits = partial(options.limited, asked)
    return knit_plan(plan, name, limits, size, is_plain=is_plain, is_page=is_page, lan=lan or "")
