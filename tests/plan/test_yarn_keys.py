"""What a plan says about its yarn beyond what a ball holds: the sample, tails, how lengths are wound, for whom."""

from __future__ import annotations

from fractions import Fraction

import pytest

from companion.knitting.yarn.loops import Sample
from companion.knitting.yarn.winding import Winding
from companion.plan.loaded import Loaded
from companion.problems import show
from tests.plan.plans import HEAD, read

ROWS = "rows: [{chart: sb}]\n"


def with_keys(keys: str) -> Loaded:
    return read(HEAD + keys + ROWS)


def test_without_the_keys_the_usual_is_meant() -> None:
    piece = with_keys("").piece
    assert (piece.sample, piece.tail_cm, piece.is_for_baby) == (None, None, False)
    assert piece.winding == Winding(Fraction(100), Fraction(500), Fraction(2000))


def test_what_is_written_is_meant() -> None:
    sample, winding = "sample: {stitches: 20, yarn: 38 cm}\n", "winding: {butterfly: 4 m}\n"
    piece = with_keys(f"{sample}tail: 20 cm\n{winding}for: baby\n").piece
    assert piece.sample == Sample(20, Fraction(38))
    assert (piece.tail_cm, piece.is_for_baby) == (20, True)
    assert piece.winding == Winding(Fraction(100), Fraction(400), Fraction(2000))


@pytest.mark.parametrize(
    ("typed", "cm"),
    [("38 cm", "38"), ("380 mm", "38"), ("1.5 m", "150"), ("15 in", "38.1"), ("2yd", "182.88"), ("0.5 yd", "45.72")],
)
def test_lengths_of_yarn_are_exact_in_every_unit(typed: str, cm: str) -> None:
    """1 in = 2.54 cm and 1 yd = 91.44 cm by definition."""
    assert with_keys(f"tail: {typed}\n").piece.tail_cm == Fraction(cm)


def gauge_warnings(gauge: str, keys: str = "") -> list[str]:
    text = HEAD.replace("{stitches: 20, rows: 28}", gauge) + keys + ROWS
    return [show(warning) for warning in read(text).warnings]


@pytest.mark.parametrize("rows", ["24", "28", "30"])
def test_a_stockinette_gauge_is_taken_without_a_word(rows: str) -> None:
    assert gauge_warnings(f"{{stitches: 20, rows: {rows}}}") == []


def test_a_gauge_that_is_not_stockinettes_is_told_with_a_way_to_measure_the_yarn() -> None:
    assert gauge_warnings("{stitches: 20, rows: 40}") == [
        'quay.yaml:3:1  Warning: "gauge" has 2.00 rows to a stitch; stockinette has 1.2 to 1.5, so lengths of yarn '
        "told from it may be wrong.\n"
        "    3 | gauge: {stitches: 20, rows: 40}\n"
        "      | ^\n"
        "  Measure it over washed stockinette, or unpick 20 stitches and write what they took: "
        "sample: {stitches: 20, yarn: 38 cm}"
    ]


@pytest.mark.parametrize("rows", ["23.9", "30.1"])
def test_just_outside_is_told(rows: str) -> None:
    assert len(gauge_warnings(f"{{stitches: 20, rows: {rows}}}")) == 1


def test_a_sample_makes_the_gauge_free_to_be_any() -> None:
    assert gauge_warnings("{stitches: 20, rows: 40}", "sample: {stitches: 20, yarn: 38 cm}\n") == []
