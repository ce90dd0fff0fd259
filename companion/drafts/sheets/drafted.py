"""A sheet in a file as the text of a plan."""

from __future__ import annotations

import hashlib
import re
from collections.abc import Iterator
from pathlib import Path

from companion.drafts.ground import NO_GROUND, ground_colour
from companion.drafts.sheets import ods, separated, xlsx
from companion.drafts.sheets.archive import Archive
from companion.drafts.sheets.finding import NO_STITCH, chart_of
from companion.drafts.sheets.meaning import meant
from companion.drafts.sheets.sheet import EMPTY, Sheet, area_of
from companion.drafts.written import plan_text
from companion.knitting.cloth.fabric import Gauge
from companion.knitting.strands.limits import default_reach
from companion.knitting.value import Record
from companion.plan.read import Loaded, load_text
from companion.problems import Problem, Problems, quoted

_IN_LINES = (".csv", ".tsv")


_BETWEEN = re.compile(r"[^.]\.+[^.]")
"""No stitch between stitches."""


class FromSheet(Record):
    """A plan's text, and that read; ``notes``: what a knitter should know, in sentences."""

    text: str
    loaded: Loaded
    notes: tuple[str, ...]


def from_sheet(path: Path, gauge: Gauge, words: str, part: str | None = None, ground: str | None = None) -> FromSheet:
    """The plan of a sheet. ``part``: the cells that are the chart, such as B2:K20; ``ground``: the colour of cells in
    it that are empty, "none" where they are no stitches; ``words``: the command that makes the plan anew.

    Raises:
        Problems: the file cannot be read, or it is not clear what its chart is.
    """
    shown = str(path)
    of_ground = "" if ground in (None, NO_GROUND) else ground_colour(ground)
    area = None if part is None else area_of(part)
    if part is not None and area is None:
        raise Problems([Problem(f"The part {quoted(part)} is not understood.", mend="Of a sheet: --crop B2:K20")])
    for sheet in _sheets(path, shown):
        chart = chart_of(sheet, shown, area, has_ground=ground is not None)
        if chart is not None:
            break
    else:
        mend = "A stitch is a cell that is filled with one colour or says one letter."
        raise Problems([Problem("No chart is found in it.", shown, mend=mend)])
    if ground == NO_GROUND:
        chart = chart._replace(rows=[[NO_STITCH if cell == EMPTY else cell for cell in row] for row in chart.rows])
    found = meant(chart, of_ground, shown)
    title = sheet.name if sheet.name and not re.fullmatch(r"\w+ ?\d+", sheet.name) else path.stem
    digest = hashlib.sha256(path.read_bytes()).hexdigest()[:16]
    within = f", sheet {quoted(sheet.name)}" if sheet.name else ""
    comments = [
        f"Drafted from {path.name} ({chart.where}{within}; SHA-256 {digest}...) by", words,
        "The yarns and every stitch are yours to change.",
    ]
    opening = "right" if any(_BETWEEN.search(line) for line in found.drawn) else ""
    text = plan_text(title, gauge, default_reach(gauge), found.yarns, found.symbols, found.drawn, comments, opening)
    notes = [f"Its chart is {chart.where}{within}.", *chart.notes, *found.notes]
    if opening:
        notes.append("It divides where no stitch is between others; which part comes first is yours to change.")
    try:
        return FromSheet(text, load_text(text, "the drafted plan", {}), tuple(notes))
    except Problems as found_amiss:  # told of the sheet, whose knitter never saw the plan
        raise Problems(Problem(one.what, shown, mend=one.mend) for one in found_amiss.problems) from None


def _sheets(path: Path, shown: str) -> Iterator[Sheet]:
    """The sheets of a file, by what it holds: the end of its name says only whether it is text."""
    if path.suffix.lower() in _IN_LINES:
        return iter([separated.sheet(path, shown)])
    archive = Archive(path, shown)
    if xlsx.WORKBOOK in archive:
        return xlsx.sheets(archive)
    if ods.CONTENT in archive:
        return ods.sheets(archive)
    raise archive.amiss("is a zipped file, and no spreadsheet.")
