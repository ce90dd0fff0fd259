"""Side edges that are sewn up: what the seam takes in, and what the picture loses by it.

A seam hides the stitches between the edge and its line; a change of colour beside the line is hard to sew along,
because the two loops that the needle goes under are not of one strand (common practice, no source).
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from fractions import Fraction
from typing import Literal

from companion.knitting.cloth.fabric import Fabric, FabricRow, Run
from companion.knitting.value import Record

Edge = Literal["left", "right"]


class Seams(Record):
    """Stitches that the seam takes in at each side edge, as seen from the right side; None: not sewn."""

    left: Fraction | None = None
    right: Fraction | None = None


NO_SEAMS = Seams()


class SeamTrouble(Record):
    """Rows, from 0, in which a change of colour lies "within" the stitches that a seam takes in, so that what is
    drawn there is hidden, or "beside" its line, less than a stitch away."""

    edge: Edge
    where: Literal["within", "beside"]
    rows: tuple[int, ...]


def seam_troubles(fabric: Fabric, seams: Seams) -> Iterator[SeamTrouble]:
    """What is to be said of each seam: first what it hides, then what lies beside it. The edges of an opening are no
    side edges."""
    return troubles_at(list(enumerate(fabric.rows)), seams)


def troubles_at(rows: Sequence[tuple[int, FabricRow]], seams: Seams) -> Iterator[SeamTrouble]:
    """The same of some rows, each with its number from 0."""
    if seams.right is not None:
        own = [(i, _stitches_to_change(row.runs)) for i, row in rows if row.part != "left"]
        yield from _troubles("right", seams.right, own)
    if seams.left is not None:
        own = [(i, _stitches_to_change(row.runs[::-1])) for i, row in rows if row.part != "right"]
        yield from _troubles("left", seams.left, own)


def _troubles(edge: Edge, taken: Fraction, changes: Sequence[tuple[int, int | None]]) -> Iterator[SeamTrouble]:
    within = tuple(row for row, first in changes if first is not None and first < taken)
    beside = tuple(row for row, first in changes if first is not None and taken <= first < taken + 1)
    if within:
        yield SeamTrouble(edge, "within", within)
    if beside:
        yield SeamTrouble(edge, "beside", beside)


def _stitches_to_change(runs: Sequence[Run]) -> int | None:
    """Real stitches from the edge where these runs begin to the first change of yarn; None where there is none."""
    passed, yarn = 0, ""
    for run in runs:
        if run.stitch is None:
            continue
        if passed and run.stitch.yarn != yarn:
            return passed
        passed, yarn = passed + run.columns, run.stitch.yarn
    return None
