"""The JSON Schema of plans, for editors."""

from __future__ import annotations

from pathlib import Path

import click

from companion.commands import new_files
from companion.commands.common import DONE
from companion.commands.group import example
from companion.pages import printing
from companion.problems import plain


@click.command(epilog=example("rowside schema -o plan.schema.json"))
@click.option("-o", "--output", metavar="FILE", help="The file to write; without it standard output.")
@new_files.is_forced
def schema(output: str | None, is_forced: bool) -> int:
    """Print the JSON Schema of plans, with which an editor completes and checks them.

    Many editors find it by the first line of a plan: # yaml-language-server: $schema=plan.schema.json
    """
    from companion.plan.editor_schema import json_schema

    text = json_schema()
    if output is None:
        printing.write([text])
        return DONE
    new_files.write({Path(output): text}, is_forced=is_forced)
    printing.tell(plain(f"{output} describes plans to your editor."))
    return DONE
