"""Which strand works which segment: the fewest strands, and among those the least total carry."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction

from companion.knitting.fabric import Gauge

FREE_FLOAT_CM = Fraction(5, 2)
"""A strand may lie this far across the wrong side uncaught: one inch (knitting guides on float length)."""


@dataclass(frozen=True, slots=True)
class Carry:
    """The limits on where a strand may go, in stitches and rows; all integers >= 0.

    ``reach``: to a segment in the next row. ``behind``: behind other segments of the same row. ``rest``: how
    many rows it may wait without working. ``share``: one length may be started at its middle by two joins.
    """

    reach: int
    behind: int = 0
    rest: int = 0
    share: bool = False


def default_reach(gauge: Gauge) -> int:
    """min(3, max(1, 2.5 cm in whole stitches)): near enough to need no catch."""
    return min(3, max(1, int(FREE_FLOAT_CM / gauge.stitch_cm)))
