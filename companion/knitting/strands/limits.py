"""The limits on where a strand may go. A plan or a command line sets them; the defaults come from the gauge."""

from __future__ import annotations

from fractions import Fraction

from companion.knitting.cloth.fabric import Gauge
from companion.knitting.value import Record

FREE_FLOAT_CM = Fraction(5, 2)
"""A strand may lie this far across the wrong side uncaught: one inch (knitting guides on the length of floats)."""


class Carry(Record):
    """Integers >= 0, in stitches and rows. ``reach``: to a segment of the next row. ``behind``: behind other
    segments of the same row. ``rest``: rows that a strand may wait. ``share``: two joins may be the halves of
    one length, started at its middle. ``share_runs``: strands may share a run, crossed where they meet."""

    reach: int
    behind: int = 0
    rest: int = 0
    share: bool = False
    share_runs: bool = False


def default_reach(gauge: Gauge) -> int:
    """min(3, max(1, 2.5 cm in whole stitches)): near enough to need no catch."""
    return min(3, max(1, int(FREE_FLOAT_CM / gauge.stitch_cm)))
