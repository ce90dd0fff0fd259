"""Floats: the yarn that lies across the wrong side where a strand is carried, and how often it is to be caught."""

from __future__ import annotations

from fractions import Fraction
from math import hypot

from companion.knitting.cloth.carries import carry
from companion.knitting.cloth.fabric import Gauge
from companion.knitting.cloth.rows import Place, Rows
from companion.knitting.strands.limits import FREE_FLOAT_CM
from companion.knitting.strands.strands import Strands
from companion.knitting.value import Record

CATCH_EVERY = 4
"""At most this many stitches between two catches (three to four: knitting guides on catching floats)."""

BABY_FLOAT_CM = Fraction(1)
"""Uncaught length in a baby's piece. From memory, not verified against a standard: fingers and toes catch in long
floats, so check the local safety rules."""

REST_CATCH_CM = Fraction(2)
"""A strand that rests is caught once in this height (common practice, no source)."""


class Catching(Record):
    """When floats are caught at a gauge: ``free`` stitches may lie uncaught, then at most ``apart`` stitches between
    catches; a resting strand is caught every ``rest_rows`` rows. All >= 1. ``stitch_cm``: a stitch's width.
    ``is_trapping``: tails are laid in as they come.
    """

    free: int
    apart: int
    rest_rows: int
    stitch_cm: Fraction
    is_trapping: bool = False


def catching(gauge: Gauge, *, is_for_baby: bool = False, is_trapping: bool = False) -> Catching:
    """When floats are caught at this gauge."""
    free = max(1, int((BABY_FLOAT_CM if is_for_baby else FREE_FLOAT_CM) / gauge.stitch_cm))
    rest_rows = max(1, int(REST_CATCH_CM / gauge.row_cm))
    return Catching(free, min(CATCH_EVERY, free), rest_rows, gauge.stitch_cm, is_trapping)


class Float(Record):
    """One carry. The strand left ``origin`` and works ``place`` next; it passes ``stitches`` of ``place``'s row and
    rests ``rows`` rows. ``is_ahead``: it hangs over stitches still to be worked when the run begins."""

    strand: int
    yarn: str
    origin: Place
    place: Place
    stitches: int
    rows: int
    is_ahead: bool

    @property
    def is_behind(self) -> bool:
        """It passes behind other runs of its own row."""
        return self.origin.row == self.place.row


def float_cm(stitches: int, rows: int, gauge: Gauge) -> float:
    """Yarn past so many stitches and resting rows: the diagonal of their width and height, in centimetres."""
    return hypot(stitches * gauge.stitch_cm, rows * gauge.row_cm)


def float_into(strands: Strands, place: Place) -> Float | None:
    """The float that leads to a run; None where its strand is joined there, or hangs at the very stitch."""
    origin = strands.before(place)
    return None if origin is None else float_from(strands, origin, place)


def float_from(strands: Strands, origin: Place, place: Place) -> Float | None:
    """The same where it is known which run its strand worked before."""
    rows = strands.rows
    stitches, is_ahead = passed(rows, origin, place)
    resting = rows.between(origin.row, place.row)
    if not stitches and not resting:
        return None
    return Float(strands.at(place), rows.segment(place).yarn, origin, place, stitches, resting, is_ahead)


def passed(rows: Rows, origin: Place, place: Place) -> tuple[int, bool]:
    """Stitches of the run's row between where the strand hangs and where it starts, and whether it hangs ahead."""
    row = rows[place.row]
    at = row.upto if origin.row == place.row else row.reached
    hang, entry = at(rows.segment(origin).exit), at(rows.segment(place).entry)
    is_ahead = (hang > entry) == (row.toward == "left")
    if (passed := carry(rows, origin, place)) < abs(hang - entry):  # the other way round the tube
        return passed, not is_ahead
    return passed, is_ahead
