"""How heavy and how thick yarn is: tex, grams, and the weight class of the trade.

Tex is the weight of 1000 m in grams (ISO 1144:2016, Textiles - Universal system for designating linear density).
Classes are those of the Craft Yarn Council, Standard Yarn Weight System, which calls all of its ranges guidelines.
"""

from __future__ import annotations

from fractions import Fraction
from math import floor

from companion.knitting.cloth.fabric import Ball, Gauge
from companion.knitting.value import Record
from companion.knitting.yarn.winding import INCH

TEX_TIMES_YARDS_A_POUND = Fraction(45359237, 100) / Fraction(9144, 10000)
"""Tex times yards per pound: a pound is 453.59237 g, a yard 0.9144 m."""


class WeightClass(Record):
    """One class: stitches over 4 in (10 cm) in stockinette, more than ``yards`` to the pound (0: no limit), and the
    sizes of its needles, in words."""

    number: int
    name: str
    fewest: int
    most: int
    yards: int
    needles: str


CLASSES = (
    WeightClass(0, "Lace", 33, 40, 2400, "1.5 to 2.25 mm (US 000 to 1)"),
    WeightClass(1, "Super Fine", 27, 32, 1900, "2.25 to 3.25 mm (US 1 to 3)"),
    WeightClass(2, "Fine", 23, 26, 1200, "3.25 to 3.75 mm (US 3 to 5)"),
    WeightClass(3, "Light", 21, 24, 900, "3.75 to 4.5 mm (US 5 to 7)"),
    WeightClass(4, "Medium", 16, 20, 600, "4.5 to 5.5 mm (US 7 to 9)"),
    WeightClass(5, "Bulky", 12, 15, 400, "5.5 to 8 mm (US 9 to 11)"),
    WeightClass(6, "Super Bulky", 7, 11, 0, "8 to 12.75 mm (US 11 to 17)"),
    WeightClass(7, "Jumbo", 1, 6, 0, "12.75 mm (US 17) or more"),
)
"""Gauges: Craft Yarn Council, "A guide to yarn weights"; of 6: "Understanding yarn sizes"; of 7: from memory.
Yards to the pound: "Yarn Standards", table of a handspinning magazine. Needles: the same guide; of 6 and 7 the upper
sizes from memory."""

BULKY = 5


def classes_by_gauge(gauge: Gauge) -> tuple[WeightClass, ...]:
    """The classes whose stockinette has this gauge: two at 23 and 24 stitches, where their ranges overlap.

    The council takes 4 in and 10 cm for the same, so a gauge counts as it was measured; halves count up. A gauge
    finer than any class is lace.
    """
    is_in_inches = (gauge.over_cm / INCH).denominator == 1
    stitches = floor(gauge.stitches / gauge.over_cm * (4 * INCH if is_in_inches else 10) + Fraction(1, 2))
    within = max(1, min(stitches, CLASSES[0].most))
    return tuple(one for one in CLASSES if one.fewest <= within <= one.most)


def class_by_tex(tex: Fraction) -> WeightClass:
    """The class of a yarn of this weight. Bulkier than Super Bulky cannot be told by weight."""
    yards = TEX_TIMES_YARDS_A_POUND / tex
    return next(one for one in CLASSES if yards > one.yards)


def weight_classes(ball: Ball, gauge: Gauge) -> tuple[WeightClass, ...]:
    """The class of a yarn by its weight where that is known, else by the gauge, which may leave two open.

    So may the weight: its bands are those of handspun yarn, and a mill's airier yarn of 200 m to 100 g is sold as
    Medium, a class above its band (from memory). Where the gauge is that of the class beside, both are told.
    """
    tex, by_gauge = tex_of(ball), classes_by_gauge(gauge)
    if tex is None:
        return by_gauge
    by_weight = class_by_tex(tex)
    beside = [] if by_weight in by_gauge else [one for one in by_gauge if abs(one.number - by_weight.number) == 1]
    return tuple(sorted([by_weight, *beside], key=lambda one: one.number))


def tex_of(ball: Ball) -> Fraction | None:
    """Grams in 1000 m; None where the ball does not tell both."""
    return None if ball.metres is None or ball.grams is None else ball.grams / ball.metres * 1000


def grams(cm: Fraction, tex: Fraction) -> Fraction:
    """What a length weighs."""
    return cm * tex / 100_000
