"""A plan from a chart in a sheet: what the command ``draft`` takes of its options there."""

from __future__ import annotations

import shlex
from collections.abc import Callable, Mapping
from pathlib import Path
from typing import TYPE_CHECKING, Any

import click

from companion.commands import draft_questions

if TYPE_CHECKING:
    from companion.drafts.sheets.drafted import FromSheet
    from companion.knitting.cloth.fabric import Gauge

SUFFIXES = (".xlsx", ".ods", ".csv", ".tsv", ".xlsm", ".xls")
"""Of the last, an old one, nothing is read: it is told so."""

_TAKEN = ("gauge", "crop", "ground")
_OPTIONS = {"is_choosing": "choices", "is_shown": "show", "is_flipped": "flip", "is_sideways": "sideways"}
"""What options are called whose values have other names."""


def from_sheet(path: Path, asked: Mapping[str, Any], gauge_of: Callable[[str], Gauge]) -> FromSheet:
    """The plan of a sheet. ``asked``: the options by the names of their values.

    Raises:
        click.UsageError: an option is of no use for a sheet, or nobody can be asked for the gauge.
        Problems: the sheet is amiss, or what is asked of it.
    """
    from companion.drafts.sheets.drafted import from_sheet

    for name, value in asked.items():
        if name not in _TAKEN and value is not None and value is not False and value != ():
            option = _OPTIONS.get(name, name)
            raise click.UsageError(f"--{option} is of no use here: a sheet says which stitch is in which yarn.")
    gauge, part, ground = (asked[name] for name in _TAKEN)
    gauge = gauge or draft_questions.answer(*draft_questions.GAUGE)
    words = ["rowside", "draft", path.name, "--gauge", Path(gauge).name if Path(gauge).is_file() else gauge]
    for option, value in (("--crop", part), ("--ground", ground)):
        words += [option, value] if value is not None else []
    return from_sheet(path, gauge_of(gauge), shlex.join(words), part, ground)
