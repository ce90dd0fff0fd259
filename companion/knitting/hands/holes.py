"""Holes: places where a cross was missed, to be closed with a tail that is woven in nearby."""

from __future__ import annotations

from collections.abc import Iterable
from fractions import Fraction
from math import hypot

from companion.knitting.cloth.fabric import Gauge
from companion.knitting.cloth.rows import Place
from companion.knitting.hands.ends import corner
from companion.knitting.hands.steps import End
from companion.knitting.strands.strands import Strands

NEAR_CM = Fraction(5)
"""A tail may close a hole this far away: so much of it is woven in anyway (common practice, no source)."""


def near(hole: Place, ends: Iterable[End], strands: Strands, gauge: Gauge) -> tuple[End, ...]:
    """The ends that can close a hole, the nearest first. ``hole``: the run whose strand was not crossed."""
    rows = strands.rows
    row, gap = hole.row, rows.segment(hole).entry
    found = []
    for end in ends:
        if rows.fabric.is_apart(end.place.row, row):
            continue  # the opening lies between
        at = corner(end, strands)
        across = abs(rows[at.row].upto(at.gap) - rows[at.row].upto(gap)) * gauge.stitch_cm
        away = hypot(across, abs(rows[at.row].level - rows[row].level) * gauge.row_cm)
        if away <= NEAR_CM:
            found.append((away, end))
    return tuple(end for _, end in sorted(found))
