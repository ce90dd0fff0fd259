"""A small plan on the disk, ways to edit it, and a shelf with a clock that ticks one minute a look."""

from __future__ import annotations

from collections.abc import Callable
from datetime import UTC, datetime, timedelta
from itertools import count
from pathlib import Path

from companion.plan.read import load
from companion.progress.session import Session
from companion.progress.shelf import Knitting, Shelf

QUAY = """\
plan: 1
title: Quay
gauge: {stitches: 20, rows: 28}
yarns:
  sand: {colour: tan}
  brick: {colour: brown}
symbols:
  s: sand
  b: brick
rows:
  - chart: |
      ssssbbbbssss
      sssbbbbbbsss
      ssbbssssbbss
      ssbbssssbbss
      sssbbbbbbsss
      ssssbbbbssss
"""
"""Row 1 is the last line of the chart. Every row begins and ends in sand; rows 3 and 4 have five runs."""

SIZED = QUAY.replace("title: Quay\n", "title: Quay\nsizes: [S, M, L]\n") + (
    "    edges: {stitches: 1 (2, 3), yarn: sand}\n  - plain: {rows: 2 (3, 4), yarn: sand}\n"
)
"""The same in three sizes: in M it has 12 + 2 x 2 = 16 stitches, and 6 + 3 rows."""

BEGUN = datetime(2031, 3, 1, 18, 0, tzinfo=UTC)


def clock() -> Callable[[], datetime]:
    """A clock that begins on an evening in March and ticks a minute whenever it is looked at."""
    ticks = count()
    return lambda: BEGUN + timedelta(minutes=next(ticks))


def shelf(tmp_path: Path) -> Shelf:
    """The shelf of this test."""
    return Shelf(tmp_path / "pieces", clock())


def plan(tmp_path: Path, text: str = QUAY) -> Path:
    """The plan file of this test with this text."""
    path = tmp_path / "quay.yaml"
    path.write_text(text, encoding="utf-8")
    return path


def start(tmp_path: Path, text: str = QUAY, name: str | None = None) -> Knitting:
    """A new piece after this plan, open for writing."""
    path = plan(tmp_path, text)
    return shelf(tmp_path).start(load(path), path, name)


def resume(tmp_path: Path, name: str = "Quay", look_only: bool = False) -> Knitting:
    """The piece as another evening finds it."""
    return shelf(tmp_path).resume(name, look_only)


def state(session: Session) -> tuple[object, ...]:
    """All that a session says about the piece, as a value that can be compared."""
    return (
        session.version,
        session.limits,
        session.piece,
        session.strands.strand_of,
        session.row,
        session.done,
        session.cut,
        session.woven,
        dict(session.notes),
        session.is_bound_off,
    )


def history(session: Session) -> list[tuple[object, ...]]:
    """The session and every one that *back* leads to, newest first."""
    found = []
    at: Session | None = session
    while at is not None:
        found.append(state(at))
        at = at.before
    return found
