"""The command that opens a plan at the needles."""

from __future__ import annotations

from typing import Any

import click

from companion.commands import options
from companion.commands.given import need_terminal, path_of, plan_word
from companion.problems import Problem, Problems


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
    from companion.screens import collecting

    collecting.pause()
    from companion.progress.actions import Refused
    from companion.screens import app

    try:
        return app.knit(path, name=name, limits=options.Limits.of(asked).over)
    except Refused as refused:
        raise Problems([Problem(str(refused))]) from None
