"""The yarn of the stitches cast on: in the length that casts them on, in what is left of it, in a comparison."""

from __future__ import annotations

from dataclasses import replace

import pytest
from hypothesis import given

from companion.knitting.cloth.rows import Casting, Place
from companion.knitting.hands.ends import ends_of
from companion.knitting.reckoning.choices import compared
from companion.knitting.reckoning.lasting import lasts
from companion.knitting.reckoning.quantities import lengths, totals
from companion.knitting.strands.limits import Carry
from companion.knitting.strands.plan import plan_strands
from tests.knitting.cast_ons import EACH, cast
from tests.knitting.charts import castings, drawn, limits
from tests.knitting.shaped import Shaped, shaped


def test_every_strand_casts_on_its_own_stitches() -> None:
    """A stitch takes 2.05 cm and is 0.5 cm wide; cast on it takes 4 widths more."""
    found = lengths(*cast(drawn("sssbb"), EACH))
    assert [length.worked_cm for length in found] == [
        pytest.approx(2 * 2.05 + 2 * 4.05), pytest.approx(3 * 2.05 + 3 * 4.05 + 5 * 2.5),
    ]  # fmt: skip


def test_a_cast_on_of_its_own_is_a_length_of_its_own() -> None:
    piece, strands = cast(drawn("sssbb"), Casting(yarn="kelp"))
    own, brick, _ = lengths(piece, strands)
    # 5 x 4.05 are 20.25; with 15 spare and two tails of 15 cm 65.25, measured off in tens.
    assert (own.strand, own.yarn, own.worked_cm, own.tails, own.cm) == (0, "kelp", pytest.approx(20.25), 2, 70)
    assert brick.worked_cm == pytest.approx(2 * 2.05)
    assert {total.yarn.name: total.cm for total in totals(piece, [own])}["kelp"] == 70


@given(shaped(), castings(), limits())
def test_a_comparison_counts_the_ends_and_the_yarn_that_the_plan_has(
    one: Shaped, cast_on: Casting, carry: Carry
) -> None:
    piece = replace(one.piece(), cast_on=cast_on)
    strands = plan_strands(piece.rows, carry).strands
    (choice,) = compared(piece, [carry])
    assert choice.figures.ends == len(ends_of(strands))
    assert choice.figures.yarn_cm == sum(length.cm for length in lengths(piece, strands))


def test_what_is_left_is_reckoned_with_the_stitches_still_to_cast_on() -> None:
    piece, strands = cast(drawn("sssbb"), EACH)
    assert lasts(piece, strands, Place(0, 0), 1, 200).needed_cm == pytest.approx((2 * 2.05 + 2 * 4.05) * 1.1 + 15)
    # The sand binds off 5, too; once row 1 is begun it is cast on.
    still = 3 * 2.05 + 5 * 2.5
    assert lasts(piece, strands, Place(0, 0), 2, 200).needed_cm == pytest.approx((still + 3 * 4.05) * 1.1 + 15)
    assert lasts(piece, strands, Place(0, 1), 2, 200).needed_cm == pytest.approx(still * 1.1 + 15)
