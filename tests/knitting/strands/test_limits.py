"""Default reach: within an inch, one stitch at least, three at most."""

from __future__ import annotations

from fractions import Fraction

import pytest

from companion.knitting.cloth.fabric import Gauge
from companion.knitting.strands.limits import default_reach


@pytest.mark.parametrize(
    ("stitches", "over_cm", "reach"),
    [
        (20, "10", 3),       # 2.5 cm are 5 stitches
        (12, "10", 3),       # exactly 3
        ("11.9", "10", 2),
        (8, "10", 2),        # exactly 2
        ("7.9", "10", 1),
        (4, "10", 1),
        (2, "10", 1),        # half a stitch: one all the same
        (12, "10.16", 2),    # 12 over 4 in: 2.95
        (13, "10.16", 3),
    ],
)
def test_default_reach_is_what_lies_within_two_and_a_half_centimetres(
    stitches: object, over_cm: str, reach: int
) -> None:
    gauge = Gauge(Fraction(str(stitches)), Fraction(28), Fraction(over_cm))
    assert default_reach(gauge) == reach
