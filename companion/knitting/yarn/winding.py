"""How a length of yarn is kept at the work, by how long it is, and to which lengths yarn is measured off.

A few stitches need a cut length and no bobbin (knitting handbook, intarsia); a butterfly is for less than 5 or 6
yards ("How to make yarn butterflies", 2009/2020; "Of bobbins & butterflies", 2015), a bobbin for more, and large
areas are worked straight from the ball ("Intarsia revisited"). The thresholds between them are common practice.
"""

from __future__ import annotations

from fractions import Fraction
from math import ceil
from typing import Literal

from companion.knitting.value import Record

Supply = Literal["loose", "butterfly", "bobbin", "ball"]

INCH = Fraction(254, 100)
"""In centimetres, exact (international yard and pound agreement, 1959)."""


class Winding(Record):
    """The longest length, in centimetres, that is left loose, wound into a butterfly, wound on a bobbin. Rising.
    What is longer is worked from a ball."""

    loose_cm: Fraction = Fraction(100)
    butterfly_cm: Fraction = Fraction(500)
    bobbin_cm: Fraction = Fraction(2000)

    def way(self, cm: Fraction) -> Supply:
        """How a length is kept."""
        if cm <= self.loose_cm:
            return "loose"
        if cm <= self.butterfly_cm:
            return "butterfly"
        return "bobbin" if cm <= self.bobbin_cm else "ball"


USUAL = Winding()


def measured_off(cm: float, *, is_inches: bool = False) -> Fraction:
    """A length rounded up to one that hands measure off, in centimetres: to 10 cm up to 1 m, to 50 cm above it; in
    inches to 4 in up to 1 yd, to half a yard above it."""
    exact = Fraction(round(cm * 1000), 1000)
    short, fine, coarse = (36 * INCH, 4 * INCH, 18 * INCH) if is_inches else (100, Fraction(10), Fraction(50))
    step = fine if exact <= short else coarse
    return ceil(exact / step) * step
