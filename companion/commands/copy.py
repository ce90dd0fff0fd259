"""A demo plan as a file of one's own, to be changed."""

from __future__ import annotations

import shlex
from pathlib import Path

import click

from companion.commands import new_files
from companion.commands.common import DONE, STANDARD_INPUT, demo
from companion.commands.given import complete_demo
from companion.commands.group import example
from companion.pages import printing
from companion.problems import plain


@click.command(epilog=example("rowside copy swatch", "rowside copy mooring-mat my-mat.yaml"))
@click.argument("name", metavar="DEMO", shell_complete=complete_demo)
@click.argument("file", metavar="[FILE]", required=False, type=click.Path())
@new_files.is_forced
def copy(name: str, file: str | None, is_forced: bool) -> int:
    """Copy the plan DEMO to FILE, to be changed; without FILE to a file of its name here.

    FILE may be a folder, or - for standard output. Files that the plan draws in are copied beside it.
    """
    from companion.plan.read import load

    source = demo(name)
    loaded = load(source)
    if file == STANDARD_INPUT:
        printing.write([loaded.text])
        return DONE
    path = Path(file or source.name)
    if path.is_dir():
        path /= source.name
    texts = {path: loaded.text} | {path.parent / name: text for name, text in loaded.files.items()}
    new_files.write(texts, is_forced=is_forced)
    printing.tell(plain(f"{path} is yours to change. To knit it: rowside knit {shlex.quote(str(path))}"))
    return DONE
