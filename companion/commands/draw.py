"""The command that opens a plan on the drawing board."""

from __future__ import annotations

import click

from companion.commands import options
from companion.commands.common import is_by_lines, need_terminal, path_of
from companion.commands.given import plan_word
from companion.commands.group import example


@click.command(epilog=example("rowside draw my-plan.yaml", "rowside draw swatch"))
@plan_word
@options.size
def draw(plan: str, size: str) -> int:
    """Draw in PLAN on the screen, by keys or mouse; each stroke is saved, and told what it costs in strands.

    Only the stitches of the chart change in the file; its comments and all other lines stay. A demo plan is copied
    first.
    """
    from companion.dialogue.at_the_board import NEEDS_A_SCREEN

    path = path_of(plan, "Save it in a file and draw in that: rowside draw FILE")
    need_terminal(NEEDS_A_SCREEN)
    if is_by_lines():
        raise OSError(NEEDS_A_SCREEN)
    from companion.screens import app

    return app.draw(path, size)
