"""The command that opens a plan at the needles."""

from __future__ import annotations

from functools import partial
from typing import Any

import click

from companion.commands import options
from companion.commands.given import need_terminal, path_of, plan_word


@click.command()
@plan_word
@click.option("--name", metavar="NAME", help="The piece of this name; begun where there is none.")
@options.limits
def knit(plan: str, name: str | None, **asked: Any) -> int:
    """Knit PLAN at the needles; go on where it was left.

    Limits that are named here are those of the rows still to come.
    """
    path = path_of(plan)
    need_terminal()
    from companion.screens import app

    return app.knit(path, name=name, limits=partial(options.limited, asked))
