"""Plans for the drawing board: all ways in which charts stand in a plan, small enough to be read at a glance."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from contextlib import contextmanager
from pathlib import Path
from tempfile import TemporaryDirectory

from hypothesis import strategies as st

from companion.board.board import Board
from companion.knitting.cloth.areas import Cell
from companion.problems import Problems, show

QUAY = """\
plan: 1   # a first try
title: Quay
gauge: {stitches: 20, rows: 28}
yarns: {sand: {colour: tan}, ink: {colour: black}, brick: {colour: brown, ball: {metres: 90}}, foam: {colour: white}}
symbols: {s: sand, i: ink, b: {yarn: brick, stitch: seed}, r: brick}
"""
"""Five lines. Foam has no symbol, and brick one for seed stitch."""

WAYS = {
    "bare": """\
rows:
  - chart: |    # from the top
{rows}
# the cast-on edge
""",
    "with limits": """\
carry: {{reach: 2, behind: 2, rest: 2}}
rows:
  - chart: |
{rows}
""",
    "with halves of one length": """\
carry: {{reach: 2, share: true}}
rows:
  - chart: |
{rows}
""",
    "with shared runs": """\
carry: {{share_runs: true}}
rows:
  - chart: |
{rows}
""",
    "in rounds": """\
cast_on: {{yarn: brick}}
rows:
  - worked: round
    chart: |
{rows}
""",
    "with edges of its own yarns": """\
rows:
  - plain: {{rows: 1, yarn: sand}}
  - edges: {{stitches: 2, yarn: ink, stitch: garter}}
    chart: |
{rows}
""",
    "narrower than what lies below": """\
carry: {{reach: 1}}
rows:
  - plain: {{rows: 2, stitches: 10, yarn: sand}}
  - plain: {{rows: 2, stitches: 8, yarn: sand}}
  - chart: |
{rows}
""",
    "above garter": """\
rows:
  - plain: {{rows: 3, yarn: sand, stitch: garter}}
  - plain_first: true
    chart: |
{rows}
  - chart: |
      8b
    repeat: 2
""",
}
"""What stands below the head, each chart eight stitches wide."""

ROWS = st.lists(st.text("siibr", min_size=8, max_size=8), min_size=2, max_size=5)
PARTED = st.lists(st.sampled_from(["sssissss", "ssssssss", "ssiissbs", "ssssssii"]), min_size=3, max_size=6)
"""A ground that parts and closes again."""


@st.composite
def plans(draw: st.DrawFn) -> str:
    """The text of one, some lines in run lengths, with any ends of lines."""
    lines, way = [], draw(st.sampled_from(sorted(WAYS)))
    for row in draw(PARTED if way == "with shared runs" else ROWS):
        is_counted = draw(st.booleans())
        lines.append("      " + (" ".join(f"1{sign}" for sign in row) if is_counted else f"{row[:3]} {row[3:]}"))
    text = QUAY + WAYS[way].format(rows="\n".join(lines))
    return text.replace("\n", draw(st.sampled_from(["\n", "\r\n"])))


STROKE = st.tuples(
    st.lists(st.builds(Cell, st.integers(0, 9), st.integers(1, 12)), min_size=1, max_size=9),
    st.sampled_from(["sand", "ink", "brick"]),
)
"""Stitches here and there, some beside the fabric, and a yarn."""


@contextmanager
def on_the_board(text: str) -> Iterator[Board]:
    """A plan of this text on the board, in a file of its own."""
    with TemporaryDirectory() as folder:
        path = Path(folder, "quay.yaml")
        path.write_bytes(text.encode())
        yield Board(path)


def quay(*rows: str, way: str = "bare") -> str:
    """The text of a plan with this chart, from the top."""
    return QUAY + WAYS[way].format(rows="\n".join(f"      {row}" for row in rows))


def shown(board: Board) -> list[str]:
    """The fabric from the top as it looks, each yarn by its first letter; a blank for no stitch."""
    rows: Sequence[str] = [
        "".join(run.columns * (run.stitch.yarn[0] if run.stitch else " ") for run in reversed(row.runs))
        for row in reversed(board.fabric.rows)
    ]
    return list(rows)


def a_board(tmp_path: Path, text: str) -> Board:
    """This plan, in a file of its own, on the board."""
    path = tmp_path / "quay.yaml"
    path.write_bytes(text.encode())
    return Board(path)


def said(problems: Problems) -> list[str]:
    """What is told of them."""
    return [show(problem) for problem in problems.problems]
