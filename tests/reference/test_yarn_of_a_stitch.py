"""The yarn of one stitch, held against published geometry and counts of stitches.

Sources, by title:
- Munden D.L., The geometry and dimensional properties of plain-knit fabrics, Journal of the Textile Institute 50,
  1959
- Spencer D.J., Knitting Technology, 3rd ed. 2001, pp. 280-282
- Relaxed slack plain-knitted fabrics, Part I, Textile Research Journal 2016 (Chamberlain's jammed loop)
- Crane K., A Simple Parametric Model of Plain-Knit Yarns, 2023
- "It all adds up", article of 2009
"""

from __future__ import annotations

from fractions import Fraction
from math import cos, hypot, sin, sqrt

import pytest
from scipy.integrate import quad

from companion.knitting.cloth.fabric import Gauge
from companion.knitting.yarn.loops import Sample, is_like_stockinette, loop_cm

FOUR_INCHES = Fraction("10.16")


DRY_WALES, WET_WALES, FULLY_WALES = 3.8, 4.1, 4.2
WET_COURSES, WET_LOOPS = 5.3, 21.6
"""Munden 1959; Spencer 2001, pp. 280-281."""


def test_a_stitch_takes_as_many_widths_as_a_wet_relaxed_loop() -> None:
    """In centimetres as in inches: the constant has no unit."""
    for width in (Fraction("0.5"), Fraction("0.5") * Fraction("2.54")):
        gauge = Gauge(Fraction(20), Fraction(28), 20 * width)
        assert float(loop_cm(gauge) / width) == WET_WALES


@pytest.mark.parametrize(
    ("stitches", "rows", "metres", "by_wales", "by_courses", "by_loops", "per_square_metre"),
    [
        (28, 36, 400, 1.488, 1.496, 1.487, 1452),
        (24, 32, 300, 1.736, 1.683, 1.704, 1268),
        (22, 30, 230, 1.893, 1.795, 1.838, 1175),
        (20, 28, 200, 2.083, 1.923, 1.995, 1083),
        (18, 24, 165, 2.314, 2.244, 2.272, 951),
        (14, 20, 110, 2.975, 2.692, 2.822, 765),
    ],
)
def test_hand_gauges_over_4_in_give_the_yarn_of_a_stitch(
    stitches: int, rows: int, metres: int, by_wales: float, by_courses: float, by_loops: float, per_square_metre: int
) -> None:
    """Worked out from the wet-relaxed constants; metres to 100 g from memory, as typical. The three ways to the loop
    agree within 12 %, and the tightness factor, root of tex over mm, is 1.0 to 1.1: looser than the 1.3 to 1.5 of
    machine-knit cloth (Spencer 2001, p. 282)."""
    gauge = Gauge(Fraction(stitches), Fraction(rows), FOUR_INCHES)
    loop = loop_cm(gauge)
    assert float(loop) == pytest.approx(by_wales, abs=1e-3)
    assert WET_COURSES * float(gauge.row_cm) == pytest.approx(by_courses, abs=1e-3)
    assert sqrt(WET_LOOPS * gauge.row_cm * gauge.stitch_cm) == pytest.approx(by_loops, abs=1e-3)
    assert by_wales / by_courses < 1.12
    assert 1.0 <= sqrt(100_000 / metres) / (by_wales * 10) <= 1.11
    # Metres to the square metre come from the loop constant in that table, ours from the wales.
    square = float(gauge.stitch_cm * gauge.row_cm) / 100
    assert by_loops / square == pytest.approx(per_square_metre, rel=1e-3)
    assert float(loop) / square == pytest.approx(per_square_metre, rel=0.06)
    assert is_like_stockinette(gauge)


def test_other_geometries_agree_with_four_widths_and_not_with_three() -> None:
    """Chamberlain's jammed loop: 16.6688 yarn diameters long and 4 wide (Textile Research Journal 2016; the width
    from memory). Crane's curve x = t + a sin 2t, y = h cos t, z = d cos 2t over a width of 2 pi (a, h, d from
    memory)."""
    chamberlain = 16.6688 / 4
    a, h, d = 1.5, 4.0, 1.0

    def speed(t: float) -> float:
        return hypot(1 + 2 * a * cos(2 * t), h * sin(t), 2 * d * sin(2 * t))

    length, _ = quad(speed, 0, 6.283185307179586)
    assert length == pytest.approx(24.6732, abs=1e-4)
    width = Gauge(Fraction(10), Fraction(13))
    ours = float(loop_cm(width) / width.stitch_cm)
    for ratio in (chamberlain, length / 6.283185307179586):
        assert ours == pytest.approx(ratio, rel=0.05)
    assert ours > 3 * 1.25


def test_a_knitters_own_count_gives_her_own_sum() -> None:
    """ "It all adds up", 2009, numbers chosen there to be easy: 45 stitches to the yard, 5 to the inch; 25 200
    stitches take 560 yards. Four widths a stitch, inside Munden's 3.8 to 4.2."""
    loop = Sample(45, Fraction("91.44")).loop_cm
    assert 25_200 * loop / Fraction("91.44") == 560
    gauge = Gauge(Fraction(5), Fraction(7), Fraction("2.54"))
    assert loop_cm(gauge, Sample(45, Fraction("91.44"))) == loop
    assert loop / gauge.stitch_cm == 4
    assert DRY_WALES <= loop / gauge.stitch_cm <= FULLY_WALES


@pytest.mark.parametrize(("rows", "is_stockinette"), [(24, True), (30, True), (23, False), (31, False), (40, False)])
def test_a_gauge_is_stockinettes_between_1_2_and_1_5_rows_to_a_stitch(rows: int, is_stockinette: bool) -> None:
    """Bounds are common practice round Munden's 1.29 to 1.32; garter has about 2."""
    assert is_like_stockinette(Gauge(Fraction(20), Fraction(rows))) == is_stockinette
