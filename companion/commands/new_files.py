"""Files that a command writes: never over one that is there, unless that is asked for."""

from __future__ import annotations

import os
from collections.abc import Mapping
from pathlib import Path

import click

from companion.problems import Problem, Problems, plain

is_forced = click.option("--force", "is_forced", is_flag=True, help="Write over a file that is there.")


def write(texts: Mapping[Path, str | bytes], *, is_forced: bool) -> None:
    """Put each text, or bytes, in its file. One that is there and holds just this is left as it is.

    Raises:
        Problems: files are there and nothing is forced; nothing is written.
        OSError: one cannot be written.
    """
    from companion.plan.files import replace_bytes, replace_text

    new = {path: text for path, text in texts.items() if not _holds(path, text)}
    there = [] if is_forced else [path for path in new if os.path.lexists(path)]
    if there:
        mend = "Name another one, or write over it with --force."
        raise Problems(Problem(f'There is a file "{plain(str(path))}" already.', mend=mend) for path in there)
    for path, text in new.items():
        if isinstance(text, str):
            replace_text(path, text)
        else:
            replace_bytes(path, text)


def check_plan_name(output: str) -> None:
    """Whether a plan can be written there.

    Raises:
        click.UsageError: it has another ending than plans have.
    """
    if not output.lower().endswith((".yaml", ".yml")):
        name = plain(f"{Path(output).stem}.yaml")
        raise click.UsageError(f"The name of a plan ends in .yaml or .yml, such as {name}; {plain(output)} does not.")


def check_other_file(output: str, plan: str) -> None:
    """Whether a new plan goes to another file than the one it is made from, which is left as it is even by force.

    Raises:
        Problems: it does not.
    """
    if os.path.exists(output) and os.path.exists(plan) and os.path.samefile(output, plan):
        what = f'The new plan would be written over "{plain(plan)}", from which it is made.'
        raise Problems([Problem(what, mend="Name another file: the old plan is left as it is.")])


def _holds(path: Path, text: str | bytes) -> bool:
    """Whether the file has this text already."""
    try:
        return path.is_file() and path.read_bytes() == (text.encode() if isinstance(text, str) else text)
    except OSError:
        return False
