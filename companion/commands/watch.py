"""The command that follows a piece while another window writes it."""

from __future__ import annotations

import click

from companion.commands.common import watch_piece
from companion.commands.given import complete_piece
from companion.commands.group import example


@click.command(epilog=example('rowside watch "Pier sign"', 'rowside watch "Pier sign" --plain'))
@click.argument("name", metavar="NAME", shell_complete=complete_piece)
@click.option("--plain", "is_plain", is_flag=True, help="Each new step as a line: for a screen reader, a pipe.")
def watch(name: str, is_plain: bool) -> int:
    """Watch the piece NAME while it is knitted in another window: for a projector, or beside a student.

    Nothing can be done to it here.
    """
    return watch_piece(name, is_plain=is_plain)
