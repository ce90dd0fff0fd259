"""The command that asks for a new plan."""

from __future__ import annotations

import os

import click

from companion.commands.common import is_by_lines, need_terminal
from companion.commands.group import example
from companion.commands.new_files import check_plan_name
from companion.problems import Problem, Problems, plain


@click.command(epilog=example("rowside new", "rowside new my-panel.yaml", "rowside new --plain"))
@click.argument("file", metavar="[FILE]", required=False, default="", type=click.Path())
@click.option("--plain", "is_plain", is_flag=True, help="By lines, in place of a screen.")
def new(file: str, is_plain: bool) -> int:
    """Ask for a plan of your own, and write it to FILE: no plan has to be typed.

    It is a blank panel, or made from a demo plan, a picture, a sheet or written rows. Every question has an answer
    that can be kept, and nothing is written before the last.
    """
    if file:
        check_plan_name(file)
        if os.path.lexists(file):
            raise Problems([Problem(f'There is a file "{plain(file)}" already.', mend="Name another one.")])
    if is_plain or is_by_lines():
        from companion.lines import start

        return start.new(file)
    need_terminal("The questions can only be shown in a terminal; with --plain they are asked line by line.")
    from companion.screens import app

    return app.new(file)
