"""Yarn for every strand, against sums worked out by hand: 20 stitches and 28 rows over 10 cm, so that a stitch is
0.5 cm wide and takes 4.1 x 0.5 = 2.05 cm of yarn, and a row is 10/28 cm high."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction
from math import ceil, hypot

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from companion.knitting.cloth.areas import sewing
from companion.knitting.cloth.fabric import Ball, Gauge, Stitch
from companion.knitting.cloth.rows import Casting
from companion.knitting.hands.row_ends import row_end
from companion.knitting.hands.runs import row_runs
from companion.knitting.hands.steps import BindOff, CastOn, SewOn
from companion.knitting.piece import Piece
from companion.knitting.reckoning.quantities import Length, Rates, lengths, lengths_joined, totals, yarn_of
from companion.knitting.strands.limits import Carry
from companion.knitting.strands.plan import plan_strands
from companion.knitting.strands.strands import Strands
from companion.knitting.yarn.loops import Sample
from companion.knitting.yarn.winding import Winding, measured_off
from companion.plan.outline import troubles
from tests.knitting.charts import Chart, castings, charts, drawn, limits, piece_of
from tests.knitting.paid_out import paid_out
from tests.knitting.shaped import Shaped, shaped


def planned(chart: Chart, carry: Carry | None = None) -> tuple[Piece, Strands]:
    piece = piece_of(chart, carry)
    return piece, plan_strands(piece.rows, piece.carry).strands


def lengths_of(*lines: str, carry: Carry | None = None) -> tuple[Length, ...]:
    return lengths(*planned(drawn(*lines), carry))


def test_one_strand_casts_on_knits_and_binds_off() -> None:
    (only,) = lengths_of("ssss", "ssss")
    # 8 stitches 16.4; cast-on 4 x (4 x 0.5 + 2.05) = 16.2; bind-off 5 x 2 cm = 10.
    assert only.worked_cm == pytest.approx(42.6)
    assert only.spare_cm == 15
    assert (only.tails, only.tail_cm) == (2, 15)
    # 42.6 + 15 + 30 = 87.6, rounded up; (42.6 + 15) / 2.05 = 28.1 wraps.
    assert (only.cm, only.way, only.wraps) == (90, "loose", 29)


def test_only_the_first_strand_casts_on_and_only_the_one_in_hand_at_the_end_binds_off() -> None:
    brick, sand = lengths_of("ssssbbbb", "ssssbbbb")
    # Row 1 begins with the brick at the right edge; row 2, from the left, ends with it.
    assert (brick.yarn, sand.yarn) == ("brick", "sand")
    assert brick.worked_cm == pytest.approx(8 * 2.05 + 8 * (2 + 2.05) + 8 * 2.5)
    assert sand.worked_cm == pytest.approx(8 * 2.05)


def test_a_carry_costs_its_width() -> None:
    sand, _ = lengths_of("sbbss", carry=Carry(0, behind=2))
    # 3 sand, cast-on, 2 stitches passed behind, 2 x 0.5; bind-off.
    assert sand.worked_cm == pytest.approx(3 * 2.05 + 5 * 4.05 + 1.0 + 5 * 2.5)


def test_a_rest_costs_the_diagonal_of_its_width_and_height() -> None:
    found = lengths_of("bbbsss", "bbbbbb", "bbbbbb", "bbbsss", carry=Carry(6, rest=2))
    sand = next(length for length in found if length.yarn == "sand")
    # Left at gap 3 after row 1; in row 4, a wrong-side row, it begins at gap 3: no width, two rows high.
    assert sand.worked_cm == pytest.approx(6 * 2.05 + 6 * 4.05 + 2 * 10 / 28 + 6 * 2.5)
    found = lengths_of("bbbsss", "bbbbbb", "bbbsss", carry=Carry(6, rest=1))
    sand = next(length for length in found if length.yarn == "sand")
    # In row 3, a right-side row, it begins at gap 0: three stitches wide, one row high.
    assert sand.worked_cm == pytest.approx(6 * 2.05 + 6 * 4.05 + hypot(1.5, 10 / 28))


def test_a_tenth_is_spare_where_that_is_more_than_15_cm() -> None:
    (only,) = lengths_of(*["s" * 40] * 10)
    # 400 stitches 820; cast-on 162; bind-off 100.
    assert only.worked_cm == pytest.approx(1082)
    assert only.spare_cm == pytest.approx(108.2)
    # 1082 + 108.2 + 30 = 1220.2.
    assert (only.cm, only.way) == (1250, "bobbin")


def test_the_sample_tells_the_yarn_of_a_stitch_before_the_gauge_does() -> None:
    piece, strands = planned(drawn("ssss"))
    (only,) = lengths(replace(piece, sample=Sample(20, Fraction(38))), strands)
    # 38 / 20 = 1.9 a stitch.
    assert only.worked_cm == pytest.approx(4 * 1.9 + 4 * (2 + 1.9) + 4 * 2.5)


@pytest.mark.parametrize(
    ("stitches", "ball", "told", "tail"),
    [
        (20, Ball(), None, 15),
        (15, Ball(), None, 20),  # bulky by the gauge
        (14, Ball(Fraction(200), Fraction(100)), None, 15),  # two strands held together, each of them medium
        (20, Ball(Fraction(110), Fraction(100)), None, 20),  # bulky by its weight
        (15, Ball(), Fraction(12), 12),
    ],
)
def test_tails_are_15_cm_and_20_from_bulky_on_unless_the_plan_says(
    stitches: int, ball: Ball, told: Fraction | None, tail: int
) -> None:
    piece, strands = planned(drawn("ssss"))
    yarns = tuple(yarn._replace(ball=ball) for yarn in piece.yarns)
    gauge = Gauge(Fraction(stitches), Fraction(stitches) * Fraction(7, 5))
    (only,) = lengths(replace(piece, gauge=gauge, yarns=yarns, tail_cm=told), strands)
    assert only.tail_cm == tail


def test_halves_of_one_length_have_a_tail_each_and_spare_each() -> None:
    piece, strands = planned(drawn("ssbbss", "bbbbbb"))
    whole = lengths(piece, strands)
    halves = lengths(piece, replace(strands, shared=((strands.first[2], strands.first[3]),)))
    assert [length.shares_with for length in halves] == [None, 3, 2]
    assert [length.tails for length in halves] == [2, 1, 1]
    assert [length.spare_cm for length in halves] == [length.spare_cm for length in whole]
    # 2 stitches: 4.1 + 15 + 30 or 15; the one in hand at the end also binds off, 15.
    assert [length.cm for length in whole[1:]] == [50, 70]
    assert [length.cm for length in halves[1:]] == [40, 50]


@pytest.mark.parametrize(
    ("cm", "rounded"),
    [(41, 50), (50, 50), (50.01, 60), (99.99, 100), (100, 100), (100.01, 150), (150, 150), (1220.2, 1250)],
)
def test_lengths_are_rounded_up_to_10_cm_up_to_a_metre_and_to_50_above(cm: float, rounded: int) -> None:
    assert measured_off(cm) == rounded


@pytest.mark.parametrize(
    ("inches", "rounded"), [(30, "32"), (32, "32"), (36, "36"), (36.1, "54"), (72, "72"), (72.1, "90")]
)
def test_in_inches_they_are_rounded_up_to_4_in_up_to_a_yard_and_to_half_a_yard_above(
    inches: float, rounded: str
) -> None:
    assert measured_off(inches * 2.54, is_inches=True) == Fraction(rounded) * Fraction("2.54")


@pytest.mark.parametrize(
    ("cm", "way"),
    [(100, "loose"), (150, "butterfly"), (500, "butterfly"), (550, "bobbin"), (2000, "bobbin"), (2050, "ball")],
)
def test_what_to_wind_goes_by_the_length(cm: int, way: str) -> None:
    """Thresholds are common practice, near those of "How to make yarn butterflies", 2009/2020 (5 to 6 yards)."""
    assert Winding().way(Fraction(cm)) == way


def test_the_plan_may_set_what_is_wound_how() -> None:
    piece, strands = planned(drawn(*["s" * 40] * 10))
    (only,) = lengths(replace(piece, winding=Winding(bobbin_cm=Fraction(1000))), strands)
    assert only.way == "ball"


def test_totals_are_the_lengths_together_and_nothing_is_spared_twice() -> None:
    piece, strands = planned(drawn("ssssbbbb", "ssssbbbb"))
    yarns = tuple(
        yarn._replace(ball=Ball(Fraction(1), Fraction(5)) if yarn.name == "brick" else Ball(Fraction(100)))
        for yarn in piece.yarns
    )
    piece = replace(piece, yarns=yarns)
    sand, brick, kelp, *_ = totals(piece, lengths(piece, strands))
    # Brick: 68.8 + 15 + 40 (5 kg to the km is bulky), so 150; 7.5 g; two balls of 1 m.
    assert (brick.cm, brick.grams, brick.balls, brick.tex) == (150, Fraction("7.5"), 2, 5000)
    # Sand: 16.4 + 15 + 30 = 61.4.
    assert (sand.cm, sand.grams, sand.balls, sand.tex) == (70, None, 1, None)
    assert (kelp.cm, kelp.balls) == (0, 0)


def test_what_is_sewn_on_is_in_the_total_of_its_yarn_as_the_step_takes_it() -> None:
    """Of 13 stitches and of 1 in kelp, at 2.05 cm each, 12 go on a length: three lengths with two tails of 10 cm."""
    chart = drawn("s" * 15, "s" * 15, "s" * 15)
    over = Stitch("sand", sewn="kelp")
    grid = ((over,) * 13 + chart.grid[0][13:], chart.grid[1], (*chart.grid[2][:14], over))
    piece, strands = planned(Chart(grid, chart.rounds))
    found = {total.yarn.name: total.cm for total in totals(piece, lengths(piece, strands))}
    assert found["kelp"] == Fraction("88.7")  # 14 x 2.05 + 6 x 10
    assert float(found["kelp"]) == pytest.approx(yarn_of(SewOn(sewing(piece.fabric)), Rates(piece)))
    assert found["sand"] == sum(length.cm for length in lengths(piece, strands))


@given(shaped(), castings(), limits(), st.booleans())
def test_a_length_holds_what_its_strand_takes_cell_by_cell(
    one: Shaped, cast_on: Casting, carry: Carry, is_inches: bool
) -> None:
    """Stitches, floats, what is cast on at the beginning and at an edge, what is bound off at an edge and at the end;
    the sum of what every step takes."""
    piece = replace(one.piece(), cast_on=cast_on)
    assume(not list(troubles(piece.rows)))
    strands = plan_strands(piece.rows, carry).strands
    paid = {strand: sum(each.cm for each in all_) for strand, all_ in paid_out(one.plain(), strands, cast_on).items()}
    found = lengths(piece, strands, is_inches=is_inches)
    assert {length.strand: length.worked_cm for length in found} == pytest.approx(paid)
    assert [length.strand for length in found] == [*([0] if 0 in paid else []), *strands.first]
    rates, by_steps = Rates(piece), dict.fromkeys(paid, 0.0)
    for row in range(len(strands.rows)):
        for run in row_runs(strands, row):
            for step in run.steps:
                by_steps[step.strand if isinstance(step, CastOn) else run.strand] += yarn_of(step, rates)
        for end in row_end(strands, row):
            if isinstance(end, BindOff):
                for one in end.every:
                    alone = BindOff(one.strand, one.yarn, one.stitches, 0, end.side, ())
                    by_steps[one.strand] += yarn_of(alone, rates)
    assert by_steps == pytest.approx(paid)
    for length in found:
        needed = length.worked_cm + max(15, length.worked_cm / 10) + 30
        assert needed <= float(length.cm) + 0.01
        assert float(length.cm) < needed + 50.01


@given(shaped(), castings(), limits(), st.booleans())
def test_a_rows_new_lengths_are_those_of_the_winding_list(
    one: Shaped, cast_on: Casting, carry: Carry, is_inches: bool
) -> None:
    piece = replace(one.piece(), cast_on=cast_on)
    assume(not list(troubles(piece.rows)))
    strands = plan_strands(piece.rows, carry).strands
    wound = {length.strand: length for length in lengths(piece, strands, is_inches=is_inches)}
    for row, numbers in enumerate(strands.strand_of):
        begun = [one for one in dict.fromkeys(numbers) if strands.first[one].row == row]
        found = lengths_joined(piece, strands, row, is_inches=is_inches)
        assert found == tuple(wound[strand] for strand in begun)


def test_stitches_cast_on_at_an_edge_take_yarn_as_any_cast_on() -> None:
    """Row 3, from the right, casts on 50 stitches in a new sand, knits 60 and binds them off: 50 x 4.05 + 60 x 2.05 +
    60 x 2.5 = 475.5. With 47.55 to spare and two tails 553.05, measured off in halves of a metre."""
    found = lengths_of("s" * 60, "b" * 10 + "." * 50, "b" * 10 + "." * 50)
    sand = next(length for length in found if length.yarn == "sand")
    assert (sand.worked_cm, sand.cm) == (pytest.approx(475.5), 600)


def test_what_is_bound_off_at_a_rows_start_is_taken_of_the_strand_that_works_its_first_run() -> None:
    """Row 3, from the right, binds off 4 of 10 and works 2 in sand and 4 in brick: 4 x 2.5 are the sand's."""
    found = lengths_of("bbbbss....", "bbbbssssss", "bbbbssssss")
    sand, brick = (next(length for length in found if length.yarn == yarn) for yarn in ("sand", "brick"))
    assert sand.worked_cm == pytest.approx(10 * 4.05 + (6 + 6 + 2) * 2.05 + 4 * 2.5)
    assert brick.worked_cm == pytest.approx((4 + 4 + 4) * 2.05 + 6 * 2.5)


@given(charts(), limits())
def test_balls_to_buy_are_just_enough(chart: Chart, carry: Carry) -> None:
    piece, strands = planned(chart, carry)
    piece = replace(piece, yarns=tuple(yarn._replace(ball=Ball(Fraction(1, 2))) for yarn in piece.yarns))
    found = lengths(piece, strands)
    for total in totals(piece, found):
        metres = float(sum(length.cm for length in found if length.yarn == total.yarn.name)) / 100
        assert total.balls == ceil(metres * 2)
