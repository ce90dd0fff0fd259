"""Plain knitting's geometry: how much yarn one stitch takes.

All dimensions of plain knitting depend on the length of yarn in a stitch alone (Munden D.L., The geometry and
dimensional properties of plain-knit fabrics, Journal of the Textile Institute 50, 1959; constants as in Spencer D.J.,
Knitting Technology, 3rd ed. 2001, pp. 280-281). The constants have no unit, so nothing is ever divided by 2.54.
"""

from __future__ import annotations

from fractions import Fraction

from companion.knitting.cloth.fabric import Gauge
from companion.knitting.value import Record

WIDTHS = Fraction("4.1")
"""The yarn of one stitch in widths of it: wet relaxed, as hand knitting is that was washed and blocked."""


class Sample(Record):
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
    return sample.loop_cm if sample else WIDTHS * gauge.stitch_cm
