"""Every run bound off in the strand that worked it, as it may be cast on."""

from __future__ import annotations

from dataclasses import replace

import pytest

from companion.knitting.hands.ends import corner, ends_of
from companion.knitting.hands.joins_and_cuts import bound_off_at
from companion.knitting.hands.row_ends import row_end
from companion.knitting.hands.steps import BindOff, Count, Cut, End, OwnOff
from companion.knitting.hands.weaving import backs_of
from companion.knitting.piece import Piece
from companion.knitting.reckoning.choices import compared
from companion.knitting.reckoning.quantities import lengths
from companion.knitting.strands.limits import Carry
from companion.knitting.strands.plan import plan_strands
from companion.knitting.strands.proof import fault_in
from companion.knitting.strands.strands import Strands
from companion.knitting.words import US, end_place, strand_place, tell
from companion.plan.outline import troubles
from companion.problems import Problems
from tests.plan.plans import HEAD, read

EACH = "bind_off: {colours: each}\n"


def piece(rows: str, keys: str = EACH) -> Piece:
    return read(f"{HEAD}{keys}rows:\n  - chart: |\n" + "".join(f"      {row}\n" for row in rows.split())).piece


def planned(piece: Piece) -> Strands:
    return plan_strands(piece.rows, Carry(3)).strands


def worked(piece: Piece) -> dict[int, float]:
    return {one.strand: one.worked_cm for one in lengths(piece, planned(piece))}


def test_each_run_is_bound_off_in_its_own_strand_back_from_the_last_one() -> None:
    strands = planned(piece("ssbbbs ssbbbs"))
    # Row 2 is worked from the left edge: sand 2, brick 3, sand 1. Back from there: sand 1, brick 3, sand 2.
    first, brick, last = strands.strand_of[1]
    off = BindOff(last, "sand", 1, 0, "RS", (OwnOff(brick, "brick", 3), OwnOff(first, "sand", 2)))
    assert row_end(strands, 1) == (Count(6, 0), off)
    assert tell(off, "full", US) == (
        "Bind off 6 stitches, right side toward you, in pattern and not tightly, each run in its own strand: 1 in "
        "sand, 3 in brick, 2 in sand. At each change lay the old strand to your left across the new one, work the "
        "first stitch in the new and lift the last old one over it. Cut all 3, leaving tails, and draw the last "
        "through the last stitch."
    )


def test_more_runs_than_are_listed_are_told_by_the_row() -> None:
    off = bound_off_at(planned(piece("sb" * 11)), 0)
    assert off is not None
    told = tell(off, "written", US)
    assert told == (
        "Bind off in pattern, wrong side toward you, crossed at each change, each run in its own strand, from the "
        "last run to the first. Cut all 22."
    )
    assert tell(off, "verb", US) == "bind off 22"


def test_each_tail_hangs_where_its_own_bind_off_ends_and_is_woven_in_along_its_colour() -> None:
    one = piece("ssbbbs ssbbbs")
    strands = planned(one)
    finishes = {end.place.segment: end for end in ends_of(strands) if end.kind == "finish"}
    # Columns from the right: sand 1, brick 2 to 4, sand 5 and 6; row 2 goes from column 6 to 1.
    assert [corner(finishes[n], strands)[:5] for n in range(3)] == [
        (1, 6, -1, 2, "bind-off"), (1, 4, -1, 3, "bind-off"), (1, 1, -1, 1, "bind-off"),
    ]  # fmt: skip
    told = [end_place(strands, finishes[n], US)[2] for n in range(3)]
    assert told == [strand_place(strands.rows[1], n, US) for n in range(3)]
    beside = [backs_of(one, strands).weaving(finishes[n]).neighbour for n in range(3)]
    assert beside == ["", "sand", "brick"]


def test_every_strand_needs_the_yarn_of_its_own_bind_off() -> None:
    rows = "ssbbbs ssbbbs"
    own, all_in_one = worked(piece(rows)), worked(piece(rows, ""))
    # 2.5 cm a stitch (five times its width of 0.5 cm): 6 in one strand, or 2, 3 and 1.
    strands = planned(piece(rows))
    first, brick, last = strands.strand_of[1]
    assert own[first] - all_in_one[first] == pytest.approx(5)
    assert own[brick] - all_in_one[brick] == pytest.approx(7.5)
    assert own[last] - all_in_one[last] == pytest.approx(2.5 - 15)


def test_what_every_choice_would_cost_holds_the_same_yarn() -> None:
    one = piece(f"{'s' * 100}{'b' * 7} {'s' * 100}{'b' * 7}")  # so wide that a length rounded up differs by it
    [found] = compared(one, [Carry(3)])
    assert found.figures.yarn_cm == sum(length.cm for length in lengths(one, planned(one)))


def test_no_strand_goes_behind_in_a_row_that_is_bound_off_so() -> None:
    one, carry = piece("ssbs ssbs"), Carry(3, behind=3)
    plan = plan_strands(one.rows, carry)
    assert [len(set(row)) for row in plan.strands.strand_of] == [3, 3]
    assert fault_in(plan.strands, carry, plan.proof) == ""
    in_one = plan_strands(replace(one, is_off_each=False).rows, carry)
    assert [len(set(row)) for row in in_one.strands.strand_of] == [2, 2]
    # An answer that goes behind there all the same is no answer.
    assert fault_in(in_one.strands, carry, in_one.proof) == ""
    assert fault_in(replace(in_one.strands, rows=one.rows), carry, in_one.proof) != ""


def test_a_run_whose_strand_went_on_in_the_row_is_bound_off_with_the_one_before_it() -> None:
    """As it may be where the last row was worked before its plan asked for this."""
    one = piece("ssbs ssbs")
    strands = Strands(one.rows, ((1, 2, 3), (3, 2, 3)))  # row 2: sand 2, brick 1, and the same sand 1
    off = BindOff(3, "sand", 1, 0, "RS", (OwnOff(2, "brick", 3),))
    assert bound_off_at(strands, 1) == off
    assert corner(End(strands.last[2], "finish"), strands)[:5] == (1, 4, -1, 3, "bind-off")
    assert [step for step in row_end(strands, 1) if isinstance(step, Cut)] == []


def test_parts_are_bound_off_each_by_themselves() -> None:
    rows = "sb..bs sb..bs sbbbbs sbbbbs"
    opening = "    opening: {first: right}\n"
    text = f"{HEAD}{EACH}rows:\n  - chart: |\n" + "".join(f"      {row}\n" for row in rows.split()) + opening
    strands = planned(read(text).piece)
    offs = [step for row in range(len(strands.rows)) for step in row_end(strands, row) if isinstance(step, BindOff)]
    # Row 4 of the drawing goes toward the right edge: back from there the right part is sand, then brick.
    assert [[one.yarn for one in off.every] for off in offs] == [["sand", "brick"], ["brick", "sand"]]


def test_in_rounds_of_several_colours_it_is_refused_and_in_one_it_says_nothing() -> None:
    round_ = f"{HEAD}{EACH}rows:\n  - chart: ssbb\n    worked: round\n"
    with pytest.raises(Problems) as found:
        read(round_)
    assert [problem.what for problem in found.value.problems if not problem.is_warning] == [
        "Row 1 of this section, counted from the bottom, is a round of several colours, and no run can be bound off "
        "in its own strand there: each hangs far off."
    ]
    plain = read(round_.replace("ssbb", "ssss")).piece
    assert list(troubles(plain.rows)) == []
    assert bound_off_at(planned(plain), 0) == BindOff(1, "sand", 4, 0, "RS", ())


@pytest.mark.parametrize("keys", ["cast_off: {colours: each}\n", "bind_off: {colors: EACH}\n", EACH])
def test_it_may_be_spelt_otherwise(keys: str) -> None:
    assert piece("sb", keys).is_off_each


def test_what_is_no_way_to_bind_off_is_told() -> None:
    with pytest.raises(Problems) as found:
        piece("sb", "bind_off: {colours: all}\n")
    [problem] = (one for one in found.value.problems if not one.is_warning)
    assert (problem.what, problem.line) == ('"colours" must be one or each, and is "all".', HEAD.count("\n") + 1)
    with pytest.raises(Problems) as found:
        piece("sb", "bind_off: each\n")
    [problem] = (one for one in found.value.problems if not one.is_warning)
    assert problem.mend == "Write it like this: bind_off: {colours: each}"
