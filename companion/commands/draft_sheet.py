"""A plan from a chart in a sheet: what the command ``draft`` takes of its options there."""

from __future__ import annotations

import shlex
from pathlib import Path
from typing import TYPE_CHECKING, Any

import click

if TYPE_CHECKING:
    from companion.plan.read import Loaded

SUFFIXES = (".xlsx", ".ods", ".csv", ".tsv", ".xlsm", ".xls")
"""Of the last, an old one, nothing is read: it is told so."""

_OPTIONS = {"is_choosing": "choices", "is_flipped": "flip", "is_sideways": "sideways"}
"""What options are called whose values have other names."""


def from_sheet(path: Path, **asked: Any) -> tuple[str, Loaded, tuple[str, ...]]:
    """The text of a plan, that read, and what a knitter should know, in sentences.

    Raises:
        click.UsageError: an option is for pictures alone, or nobody can be asked for the gauge.
        Problems: the sheet is amiss, or what is asked of it.
    """
    from companion.commands.draft import GAUGE, answer, gauge_of
    from companion.drafts.sheets.drafted import from_sheet

    taken = {name: asked.pop(name) for name in ("gauge", "crop", "ground")}
    for name, value in asked.items():
        if value not in (None, (), False):
            option = _OPTIONS.get(name, name)
            raise click.UsageError(f"--{option} is for pictures; a sheet says itself which stitch is in which yarn.")
    word = taken["gauge"] or answer(*GAUGE)
    words = ["rowside", "draft", path.name, "--gauge", Path(word).name if Path(word).is_file() else word]
    for name in ("crop", "ground"):
        words += [f"--{name}", taken[name]] if taken[name] is not None else []
    found = from_sheet(path, gauge_of(word), shlex.join(words), taken["crop"], taken["ground"])
    return found.text, found.loaded, found.notes
