"""Side edges that are sewn up: what the seam takes in, and what the picture loses by it.

A seam hides the stitches between the edge and its line; a change of colour beside the line is hard to sew along,
because the two loops that the needle goes under are not of one strand (common practice, no source).
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from fractions import Fraction
from typing import Literal, NamedTuple

from companion.knitting.fabric import Fabric, Run

Edge = Literal["left", "right"]


class Seams(NamedTuple):
    """Stitches that the seam takes in at each side edge, as seen from the right side; None: not sewn."""

    left: Fraction | None = None
    right: Fraction | None = None


NO_SEAMS = Seams()


class SeamTrouble(NamedTuple):
    """Rows, from 0, in which a change of colour lies "within" the stitches that a seam takes in, so that what is
    drawn there is hidden, or "beside" its line, less than a stitch away."""

    edge: Edge
    where: Literal["within", "beside"]
    rows: tuple[int, ...]


def seam_troubles(fabric: Fabric, seams: Seams) -> Iterator[SeamTrouble]:
    """What is to be said of each seam: first what it hides, then what lies beside it. The edges of an opening are no
    side edges."""
    if seams.right is not None:
        changes = [None if row.part == "left" else _stitches_to_change(row.runs) for row in fabric.rows]
        yield from _troubles("right", seams.right, changes)
    if seams.left is not None:
        changes = [None if row.part == "right" else _stitches_to_change(row.runs[::-1]) for row in fabric.rows]
        yield from _troubles("left", seams.left, changes)


def _troubles(edge: Edge, taken: Fraction, changes: Sequence[int | None]) -> Iterator[SeamTrouble]:
    within = tuple(row for row, first in enumerate(changes) if first is not None and first < taken)
    beside = tuple(row for row, first in enumerate(changes) if first is not None and taken <= first < taken + 1)
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
        passed, yarn = passed + run.count, run.stitch.yarn
    return None
