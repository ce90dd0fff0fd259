"""Plain knitting's geometry: how much yarn one stitch takes.

All dimensions of plain knitting depend on the length of yarn in a stitch alone (Munden D.L., The geometry and
dimensional properties of plain-knit fabrics, Journal of the Textile Institute 50, 1959; constants as in Spencer D.J.,
Knitting Technology, 3rd ed. 2001, pp. 280-281). The constants have no unit: a length in cm gives stitches per cm, one
in inches stitches per inch, so nothing is ever divided by 2.54.
"""

from __future__ import annotations

from fractions import Fraction
from typing import NamedTuple

from companion.knitting.cloth.fabric import Gauge


class Relaxed(NamedTuple):
    """Munden's constants of a state of relaxation: rows in a unit of height, stitches in one of width and in a square
    unit, each times the yarn of one stitch, in any unit (its square for the last)."""

    courses: Fraction
    wales: Fraction
    loops: Fraction

    def loop(self, width: Fraction) -> Fraction:
        """The yarn of one stitch of this width."""
        return self.wales * width


DRY = Relaxed(Fraction("5.0"), Fraction("3.8"), Fraction("19.0"))
WET = Relaxed(Fraction("5.3"), Fraction("4.1"), Fraction("21.6"))
"""Hand knitting that was washed and blocked."""
FULLY = Relaxed(Fraction("5.5"), Fraction("4.2"), Fraction("23.1"))


class Sample(NamedTuple):
    """``stitches`` of the worked fabric, unpicked, took ``yarn_cm`` centimetres of yarn."""

    stitches: int
    yarn_cm: Fraction

    @property
    def loop_cm(self) -> Fraction:
        """Yarn of one stitch in centimetres."""
        return self.yarn_cm / self.stitches


FEWEST_ROWS, MOST_ROWS = Fraction("1.2"), Fraction("1.5")
"""Rows to a stitch between which a gauge is that of stockinette; Munden's constants give 1.29 to 1.32."""


def is_like_stockinette(gauge: Gauge) -> bool:
    """Whether rows and stitches are to one another as in stockinette, the only fabric whose yarn a gauge tells."""
    return FEWEST_ROWS <= gauge.rows / gauge.stitches <= MOST_ROWS


def loop_cm(gauge: Gauge, sample: Sample | None = None) -> Fraction:
    """Yarn of one stitch in centimetres: as sampled, else 4.1 times the width of a stitch of the gauge.

    The rule of three times the width leaves a strand about a quarter short in stockinette.
    """
    return sample.loop_cm if sample else WET.loop(gauge.stitch_cm)
