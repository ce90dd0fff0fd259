"""Plan texts to start from, and short ways to read them."""

from __future__ import annotations

from collections.abc import Mapping
from itertools import groupby

from companion.plan.read import Loaded, load_text
from companion.problems import Problem, Problems, show

CUSHION = """\
plan: 1
title: Harbour light cushion
gauge: {stitches: 20, rows: 28, over: 10 cm}
yarns:
  sand:  {colour: "#d9c9a5", ball: {metres: 120, grams: 50}}
  brick: {colour: "#a8432f"}
symbols:
  s: sand
  b: brick
  g: {yarn: sand, stitch: garter}
carry: {reach: 3}
rows:                                  # in working order, from the cast-on edge up
  - plain: {rows: 6, stitches: 40, yarn: sand, stitch: garter}
  - chart: |                           # drawn as the fabric looks: top line is worked last
      ssssssbbbbbbbbssssssssssssssssss
      sssssssbbbbbbsssssssssssssssssss
    edges: {stitches: 4, yarn: sand, stitch: garter}     # 32 + 2 x 4 = 40
    repeat: 2
"""

HEAD = """\
plan: 1
title: Quay
gauge: {stitches: 20, rows: 28}
yarns:
  sand: {colour: tan}
  brick: {colour: brown}
symbols:
  s: sand
  b: brick
"""
"""Nine lines; what is added begins on line 10."""

SECTIONED = HEAD + """\
rows:
  - plain: {rows: 2, stitches: 8, yarn: sand}
  - edges: {stitches: 3, yarn: sand}
    chart: |
      sb
      bs
  - plain: {rows: 4, stitches: 8, yarn: sand}
"""
"""Three sections of one width, in lines 11, 12 to 15, and 16."""


def read(text: str, files: Mapping[str, str] | None = None) -> Loaded:
    """The plan of this text, called quay.yaml, with these chart files beside it."""
    return load_text(text, "quay.yaml", files or {})


def charted(*lines: str, symbols: str = "s: sand, b: brick", more: str = "") -> Loaded:
    """A plan of one chart with these lines, as drawn; ``more`` are further lines of its section."""
    return read(chart_text(*lines, symbols=symbols, more=more))


def chart_text(*lines: str, symbols: str = "s: sand, b: brick", more: str = "") -> str:
    """The text of such a plan. The chart's first line is line 10."""
    head = HEAD.split("symbols:")[0] + f"symbols: {{{symbols}}}\n"
    drawn = "".join(f"      {line}\n" for line in lines)
    return f"{head}rows:\n  - chart: |\n{drawn}{more}"


def looks(loaded: Loaded) -> list[str]:
    """The fabric as it looks from the right side, top row first, left edge first, each yarn by its symbol."""
    by_yarn = {yarn.name: yarn.symbol for yarn in loaded.piece.yarns}
    return [
        "".join(run.columns * by_yarn[run.stitch.yarn] for run in reversed(row.runs) if run.stitch)
        for row in reversed(loaded.piece.fabric.rows)
    ]


def told(text: str, files: Mapping[str, str] | None = None) -> str:
    """Everything that is said about a plan that cannot be read."""
    return "\n".join(show(problem) for problem in problems_of(text, files))


def problems_of(text: str, files: Mapping[str, str] | None = None) -> tuple[Problem, ...]:
    """The problems of a plan that cannot be read."""
    try:
        read(text, files)
    except Problems as found:
        return found.problems
    raise AssertionError("the plan was read")


def grouped(line: str) -> str:
    """A drawn line in run lengths."""
    return " ".join(f"{len(list(same))}{symbol}" for symbol, same in groupby(line))
