"""Whether what is left of a strand lasts, against yarn paid out stitch by stitch."""

from __future__ import annotations

from dataclasses import replace

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from companion.knitting.cloth.rows import Casting, Place
from companion.knitting.piece import Piece
from companion.knitting.reckoning.lasting import Lasting, lasts
from companion.knitting.strands.limits import Carry
from companion.knitting.strands.plan import plan_strands
from companion.knitting.strands.strands import Strands
from companion.knitting.words import US, Terms
from companion.knitting.words.yarn import will_it_last
from companion.plan.outline import troubles
from tests.knitting.charts import Chart, castings, drawn, limits, piece_of
from tests.knitting.paid_out import Paid, paid_out
from tests.knitting.shaped import Shaped, shaped

MAST = drawn(*["ssssssbbssssss"] * 12)
"""Twelve rows of 6 sand, 2 brick, 6 sand; the brick is strand 2."""


def planned(chart: Chart, carry: Carry | None = None) -> tuple[Piece, Strands]:
    piece = piece_of(chart, carry)
    return piece, plan_strands(piece.rows, piece.carry).strands


def left_of_the_mast(left_cm: float, row: int = 0) -> Lasting:
    return lasts(*planned(MAST), Place(row, 0), 2, left_cm)


def test_a_strand_of_two_stitches_a_row_needs_4_1_cm_a_row_a_tenth_more_and_its_tail() -> None:
    told = left_of_the_mast(70)
    # 12 x 4.1 = 49.2; x 1.1 = 54.12; + 15.
    assert told.needed_cm == pytest.approx(69.12)
    assert (told.runs_out, told.rows, told.until) == (None, 12, 11)


def test_where_it_runs_out_is_told_with_the_stitches_it_still_works_there() -> None:
    # 15 tail; 20 / 1.1 = 18.2 cm to work with: four rows take 16.4, and 1.8 are left, less than a stitch.
    told = left_of_the_mast(35)
    assert (told.rows, told.until, told.runs_out, told.stitches, told.of) == (4, 3, 4, 0, 2)
    # 22.6 / 1.1 = 20.5: four rows and two stitches of 2.05.
    told = left_of_the_mast(15 + 1.1 * 18.6)
    assert (told.rows, told.runs_out, told.stitches, told.of) == (4, 4, 1, 2)


def test_rows_are_counted_from_where_the_knitter_is() -> None:
    told = left_of_the_mast(35, row=6)
    assert (told.rows, told.until, told.runs_out) == (4, 9, 10)
    assert left_of_the_mast(45, row=6).runs_out is None


def test_a_run_already_worked_in_this_row_is_not_counted_again() -> None:
    piece, strands = planned(MAST)
    before, after = (lasts(piece, strands, Place(6, done), 2, 100) for done in (1, 2))
    assert before.needed_cm - after.needed_cm == pytest.approx(4.1 * 1.1)


def test_less_than_a_tail_works_nothing() -> None:
    told = left_of_the_mast(10)
    assert (told.rows, told.until, told.runs_out, told.stitches) == (0, None, 0, 0)


def test_a_strand_already_done_needs_its_tail_alone() -> None:
    piece, strands = planned(drawn("ssss", "sbbs", "ssss"))
    assert lasts(piece, strands, Place(2, 0), 2, 20) == Lasting(2, "brick", 0, None, None, 0, 0, 15.0)


def test_an_unknown_strand_is_refused() -> None:
    with pytest.raises(KeyError):
        lasts(*planned(MAST), Place(0, 0), 9, 100)


def test_the_bind_off_is_told_where_all_stitches_are_worked() -> None:
    piece, strands = planned(drawn("ssss", "ssss"))
    # From row 2: 4 stitches 8.2, bind-off 10. 15 + 1.1 x 9 works the stitches alone.
    told = lasts(piece, strands, Place(1, 0), 1, 15 + 9.9)
    assert (told.rows, told.runs_out, told.stitches, told.of) == (0, 1, 4, 4)
    assert will_it_last(told, strands.rows, 24.9, US) == (
        "Not enough: 24.9 cm of sand left, 35 cm needed with its tail and a tenth to spare. "
        "It cannot work a whole row and runs out in row 2, in the bind-off: join new sand before that."
    )


@pytest.mark.parametrize(
    ("left", "is_inches", "told"),
    [
        (200, False, "Enough: 2 m of brick left, 69.1 cm needed with its tail and a tenth to spare."),
        (254, True, "Enough: 2.8 yd of brick left, 27 in needed with its tail and a tenth to spare."),
        (
            36,
            False,
            "Not enough: 36 cm of brick left, 69.1 cm needed with its tail and a tenth to spare. "
            "It works 4 more rows, to the end of row 4, and runs out in row 5, after 1 of its 2 stitches there: "
            "join new brick before that.",
        ),
    ],
)
def test_it_is_told_in_words(left: float, is_inches: bool, told: str) -> None:
    piece, strands = planned(MAST)
    found = lasts(piece, strands, Place(0, 0), 2, left)
    assert will_it_last(found, strands.rows, left, Terms(is_inches=is_inches)) == told


def stretched(paid: list[Paid], left: float) -> tuple[int, int | None, int]:
    """Rows worked whole, the row in which it runs out and the stitches worked there, one thing after the other."""
    room, rows, row, done = (left - 15) / 1.1, 0, -1, 0
    for place, cm, stitches in paid:
        if place.row != row:
            rows, row, done = rows + (row >= 0), place.row, 0
        if cm and room < cm - 1e-7:
            return rows, row, done
        room, done = room - cm, done + stitches
    return rows + bool(paid), None, 0


@given(shaped(), castings(), limits(), st.data())
def test_it_is_what_paying_out_stitch_by_stitch_comes_to(
    one: Shaped, cast_on: Casting, carry: Carry, data: st.DataObject
) -> None:
    piece = replace(one.piece(), cast_on=cast_on)
    assume(not list(troubles(piece.rows)))
    strands = plan_strands(piece.rows, carry).strands
    strand = data.draw(st.sampled_from(sorted(strands.first)))
    position = data.draw(st.sampled_from(list(strands.rows.places())))
    left = data.draw(st.integers(0, 3000)) / 10
    told = lasts(piece, strands, position, strand, left)
    paid = [each for each in paid_out(one.plain(), strands, cast_on)[strand] if each.place >= position]
    assert (told.rows, told.runs_out, told.stitches) == stretched(paid, left)
    assert told.needed_cm == pytest.approx(15 + 1.1 * sum(each.cm for each in paid))
    assert lasts(piece, strands, position, strand, told.needed_cm).runs_out is None
    assert (told.runs_out is None) == (not paid or left >= told.needed_cm - 1e-5)
