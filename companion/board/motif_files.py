"""A motif from a file: another plan's picture, or a chart drawn in this plan's symbols."""

from __future__ import annotations

import re
from collections.abc import Mapping
from pathlib import Path

from companion.board.motifs import Motif
from companion.knitting.cloth.fabric import Fabric, cells
from companion.knitting.words.terms import listed
from companion.plan.chart import GROUND, ChartReader
from companion.plan.files import plan_text
from companion.plan.lines import Lines
from companion.plan.loaded import Loaded
from companion.plan.read import load
from companion.plan.source import Found, Source, unreadable
from companion.problems import Problem, Problems, quoted

_PLAN = re.compile(r"^plan\s*:", re.MULTILINE)


def motif_in(path: Path, own: Loaded) -> Motif:
    """The motif in a file, in the yarns of one's own plan. Those of another plan are found there by their names, else
    by their colours; a stitch sewn on shows the yarn sewn over it. In a chart ``.`` lets the ground show.

    Raises:
        Problems: the file cannot be read, or has a yarn that the plan does not have.
    """
    text = plan_text(path)
    if _PLAN.search(text):
        loaded = load(path)
        return _of(loaded.piece.fabric, _meant(loaded, own, str(path)))
    source, found = Source(str(path), text), Found()
    for problem in unreadable(source, tabs=False):
        found.add(problem)
    found.stop()
    drawn = ChartReader(own.symbols, 0, found, _drawn_in(own)).read(Lines.of(source, source.lines, 1))
    found.stop()
    if drawn is None or all(symbol == GROUND for row in drawn.rows for _, symbol in row):
        mend = "Draw them there, a line for a row."
        raise Problems([Problem("This file holds no stitches.", str(path), mend=mend)])
    yarns = {**own.symbols, GROUND: None}
    rows = ([yarns[symbol] for count, symbol in reversed(row) for _ in range(count)] for row in drawn.rows)
    return Motif(tuple(map(tuple, rows)))


def _drawn_in(own: Loaded) -> str:
    """The signs that a motif is drawn in."""
    signs = [f"{sign} for {yarn}" for sign, yarn in own.symbols.items()]
    return f"Draw it in those of this plan: {listed(signs)}; {GROUND} lets the ground show."


def _of(fabric: Fabric, yarns: Mapping[str, str]) -> Motif:
    """The picture of a fabric, as wide as its widest row."""
    rows = []
    for row in fabric.picture:
        own = [stitch and yarns[stitch.sewn or stitch.yarn] for stitch in cells(row)]
        rows.append((*own, *[None] * (fabric.columns - len(own))))
    return Motif(tuple(rows))


def _meant(other: Loaded, own: Loaded, name: str) -> dict[str, str]:
    """For each yarn that another plan uses the one of one's own.

    Raises:
        Problems: there is none.
    """
    names = [yarn.name for yarn in own.piece.yarns]
    of_colour = {yarn.colour: yarn.name for yarn in reversed(own.piece.yarns)}
    stitches = (run.stitch for row in other.piece.fabric.rows for run in row.runs if run.stitch)
    used = dict.fromkeys(stitch.sewn or stitch.yarn for stitch in stitches)
    found = {yarn: yarn if yarn in names else of_colour.get(other.piece.yarn(yarn).colour, "") for yarn in used}
    missing = [yarn for yarn, meant in found.items() if not meant]
    if missing:
        what = f"This motif is drawn in {quoted(missing[0])}, a yarn that the plan does not have."
        mend = f"Add it there, or call it as one of these: {', '.join(names)}."
        raise Problems([Problem(what, name, mend=mend)])
    return found
