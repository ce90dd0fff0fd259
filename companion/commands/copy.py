"""A demo plan as a file of one's own, to be changed."""

from __future__ import annotations

import shlex
from collections.abc import Mapping
from pathlib import Path

import click

from companion.commands import new_files
from companion.commands.common import DONE, STANDARD_INPUT, demo, demo_classes
from companion.commands.given import complete_demo
from companion.commands.group import example
from companion.pages import printing
from companion.problems import plain


@click.command(epilog=example("rowside copy swatch", "rowside copy mooring-mat my-mat.yaml"))
@click.argument("name", metavar="DEMO", shell_complete=complete_demo)
@click.argument("file", metavar="[FILE]", required=False, type=click.Path())
@new_files.is_forced
def copy(name: str, file: str | None, is_forced: bool) -> int:
    """Copy the plan DEMO, or a demo class, to FILE, to be changed; without FILE to a file of its name here.

    FILE may be a folder, or - for standard output. Files that the plan draws in are copied beside it.
    """
    source, text, files = _demo(name)
    if file == STANDARD_INPUT:
        printing.write([text])
        return DONE
    path = Path(file or source.name)
    if path.is_dir():
        path /= source.name
    texts = {path: text} | {path.parent / name: text for name, text in files.items()}
    new_files.write(texts, is_forced=is_forced)
    is_class = name in demo_classes()
    what = "see what its students need: rowside class" if is_class else "knit it: rowside knit"
    printing.tell(plain(f"{path} is yours to change. To {what} {shlex.quote(str(path))}"))
    return DONE


def _demo(name: str) -> tuple[Path, str, Mapping[str, str]]:
    """The file of a demo, its text, and those of the files that it draws in."""
    from companion.plan.files import plan_text
    from companion.plan.read import load

    if source := demo_classes().get(name):
        return source, plan_text(source), {}
    loaded = load(demo(name))
    return demo(name), loaded.text, loaded.files
