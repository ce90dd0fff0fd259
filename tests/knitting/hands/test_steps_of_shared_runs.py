"""What the hands do where two strands share a run, each step worked out by hand: the first strand works to where the
other hangs, they are crossed as any two, and the other works on (where grounds merge: common practice, no source)."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction

import pytest

from companion.drafts.rows.heading import is_rule
from companion.knitting import words
from companion.knitting.cloth.fabric import Stitch, Texture
from companion.knitting.cloth.rows import Place, Rows
from companion.knitting.cloth.shaping import shapings
from companion.knitting.hands.ends import ends_of
from companion.knitting.hands.hangs import hangs
from companion.knitting.hands.joins_and_cuts import spot
from companion.knitting.hands.looks import right_side
from companion.knitting.hands.mistakes import Mistake, as_worked, laddering
from companion.knitting.hands.row_ends import row_end
from companion.knitting.hands.runs import row_runs
from companion.knitting.hands.steps import BindOff, Count, Cross, Cut, Fetch, OwnOff, Share, Steady, Turn, Work
from companion.knitting.hands.whereabouts import OnNeedle, rows_like
from companion.knitting.hands.wrong_side import crossings
from companion.knitting.reckoning.supplies import layouts
from companion.knitting.strands.limits import Carry
from companion.knitting.strands.plan import plan_strands
from companion.knitting.strands.strands import Strands
from companion.knitting.words import US
from companion.pages import written
from tests.knitting.charts import drawn, piece_of
from tests.knitting.cloth.test_parts import fabric_of

# Row 1 is the bottom line. Strand 1 is the right sand, 2 the brick, 3 the left sand, 4 the second brick.
PIECE = piece_of(drawn("ssbss", "ssbss", "sssss", "sssss", "ssbss", "ssbss"), Carry(1, share_runs=True))
STRANDS = plan_strands(PIECE.rows, PIECE.carry).strands
"""After row 2 strand 1 hangs in gap 0 and strand 3 in gap 3: there they meet in row 3, which strand 1 begins, and in
row 4, a wrong-side row, which strand 3 begins. In row 5 strand 3 is wanted in gap 3."""


def steps(strands: Strands, row: int, run: int) -> tuple[object, ...]:
    """A run's steps in row ``row``, from 1."""
    return row_runs(strands, row - 1)[run].steps


def test_two_grounds_that_meet_between_two_motifs_take_four_strands_in_place_of_five() -> None:
    assert STRANDS.strand_of == ((1, 2, 3), (3, 2, 1), (1, 3), (3, 1), (1, 4, 3), (3, 4, 1))
    assert STRANDS.rows.meetings == {2: (3,), 3: (3,)}
    assert len(plan_strands(PIECE.rows, Carry(1)).strands.first) == 5


def test_each_strand_works_its_part_and_both_are_crossed_between() -> None:
    assert steps(STRANDS, 3, 0) == (Share("sand", (3, 2)), Work("sand", 3, (("k", 3),)))
    assert steps(STRANDS, 3, 1) == (Cross("sand", "sand", "RS"), Work("sand", 2, (("k", 2),)))
    assert steps(STRANDS, 4, 0) == (Share("sand", (2, 3)), Work("sand", 2, (("p", 2),)))
    assert steps(STRANDS, 4, 1) == (Cross("sand", "sand", "WS"), Work("sand", 3, (("p", 3),)))


def test_after_the_row_each_hangs_where_it_was_left() -> None:
    """Turned after row 3: strand 3 at the tips, where the row ended, and strand 1 two stitches ahead, in gap 3."""
    assert [(hang.strand, hang.away) for hang in hangs(STRANDS, 2, 2)] == [(3, 0), (1, 2)]
    between = hangs(STRANDS, 2, 1)
    assert [(hang.strand, hang.away, hang.is_in_hand) for hang in between] == [(1, 0, True), (3, 0, False)]
    assert [type(step) for step in row_end(STRANDS, 2)] == [Count, Turn], "nothing is cut"


def moved(gap: int) -> Strands:
    """Strands that meet in row 3 elsewhere than where strand 3 hangs."""
    return replace(STRANDS, rows=STRANDS.rows.divided_at({2: (gap,), 3: (3,)}))


def test_a_strand_that_hangs_elsewhere_is_the_other_one_that_is_fetched() -> None:
    """In row 3 the work goes to the left: strand 3 in gap 3 is ahead of gap 2 and back of gap 4."""
    for gap, where in ((2, "ahead"), (4, "back")):
        fetch = Fetch("sand", 1, 1, 0, where, Fraction(0), "RS", False, True)
        assert steps(moved(gap), 3, 1)[:2] == (fetch, Cross("sand", "sand", "RS"))
    assert not any(isinstance(step, Fetch) for step in steps(moved(4), 3, 0)), "strand 1 hangs where the row begins"
    back = steps(moved(2), 4, 1)[0]
    assert back == Fetch("sand", 1, 1, 0, "ahead", Fraction(0), "WS", False, True)


def test_a_strand_that_lies_on_the_right_side_is_taken_to_the_back_before_it_meets_the_other() -> None:
    """In garter stitch: knit on a wrong-side row, it lies on the right side, knit on a right-side row it does not."""
    rows = tuple(
        row._replace(runs=tuple(run._replace(stitch=Stitch("sand", Texture("garter"))) for run in row.runs))
        if len(row.runs) == 1 else row for row in PIECE.fabric.rows
    )
    garter = replace(STRANDS, rows=STRANDS.rows.of(replace(PIECE.fabric, rows=rows)))
    assert steps(garter, 4, 1)[:2] == (Steady("sand", "WS"), Cross("sand", "sand", "WS"))
    assert steps(garter, 3, 1)[0] == Cross("sand", "sand", "RS")


def test_where_one_strand_goes_on_after_all_nothing_is_crossed_fetched_or_shared() -> None:
    alone = replace(STRANDS, strand_of=(*STRANDS.strand_of[:2], (1, 1), *STRANDS.strand_of[3:]))
    assert steps(alone, 3, 0) == (Work("sand", 3, (("k", 3),)),)
    assert steps(alone, 3, 1) == (Work("sand", 2, (("k", 2),)),)
    assert [crossing.place for crossing in crossings(alone) if crossing.place.row == 2] == []


def test_three_strands_that_share_a_run_are_told_what_each_works() -> None:
    """After row 1 the sands hang in gaps 1, 3 and 5; row 2, a wrong-side row, begins in gap 5. Row 4 wants them where
    they hang then."""
    piece = piece_of(drawn("sbsbs", "sssss", "sssss", "sbsbs"), Carry(1, share_runs=True))
    strands = plan_strands(piece.rows, piece.carry).strands
    assert steps(strands, 2, 0)[0] == Share("sand", (2, 2, 1))
    assert [step for run in (1, 2) for step in steps(strands, 2, run)[:1]] == [Cross("sand", "sand", "WS")] * 2
    assert not any(isinstance(step, Share) for run in (1, 2) for step in steps(strands, 2, run)), "told once"
    assert words.spot_told(spot(strands, Place(1, 1)), US) == "the sand between two others, second from the right"


def test_the_cross_lies_on_the_wrong_side_where_they_meet() -> None:
    found = [(one.at.gap, one.at.level, one.old, one.new) for one in crossings(STRANDS) if one.old == one.new]
    assert found == [(3, 2, "sand", "sand"), (3, 3, "sand", "sand")]
    whole = plan_strands(PIECE.rows, Carry(1)).strands
    assert right_side(STRANDS) == right_side(whole), "the right side shows nothing of it"


def test_strands_side_by_side_are_told_apart_by_their_place() -> None:
    row = STRANDS.rows[2]
    assert words.strand_place(row, 0, US) == "the sand beside the other sand, first from the right"
    assert words.strand_place(row, 1, US) == "the sand beside the other sand, first from the left"
    missed = words.cross_missed(STRANDS.rows, Place(2, 1))
    assert missed == "The cross of sand over the other sand was missed in row 3"


def test_a_run_that_is_shared_looks_like_any_other_on_the_needle() -> None:
    assert STRANDS.rows[2].seen == [("sand", 5)]
    assert rows_like(STRANDS.rows, [OnNeedle("sand", 5)]) == (2, 3)
    assert rows_like(STRANDS.rows, [OnNeedle("sand", 3), OnNeedle("sand", 2)]) == ()


def test_supplies_lie_side_by_side_in_the_order_of_their_strands() -> None:
    assert [(one.first, one.last, one.strands) for one in layouts(STRANDS)] == [
        (0, 1, (1, 2, 3)), (2, 3, (1, 3)), (4, 5, (1, 4, 3)),
    ]  # fmt: skip


def test_a_last_row_that_is_shared_is_cut_and_bound_off_in_its_strands() -> None:
    """Planned on over it no strand meets another in the last row; a piece that is made shorter may end in one."""
    rows = PIECE.rows.of(replace(PIECE.fabric, rows=PIECE.fabric.rows[:3])).divided_at({2: (3,)})
    short = replace(STRANDS, rows=rows, strand_of=STRANDS.strand_of[:3])
    [cut] = [step for step in row_end(short, 2) if isinstance(step, Cut)]
    assert [one.strand for one in cut.spots] == [1]
    own = replace(short, rows=Rows(rows.fabric, is_off_each=True, meetings={2: (3,)}))
    [off] = [step for step in row_end(own, 2) if isinstance(step, BindOff)]
    assert off.every == (OwnOff(3, "sand", 2), OwnOff(1, "sand", 3))
    assert len(ends_of(own)) == 2 * 3


def test_stitches_are_not_dropped_past_a_meeting_whose_cross_would_come_undone() -> None:
    assert laddering(Mistake(2, (2,)), STRANDS, 3, 2).why_not == ""
    for column in (3, 4):
        assert laddering(Mistake(2, (column,)), STRANDS, 3, 2).why_not == "area"


def test_a_change_worked_early_or_late_leaves_every_strand_a_part_of_its_run() -> None:
    """Row 1 of "ssssb" is shared in gap 1: two stitches more of brick leave a part to each, three to one alone."""
    piece = piece_of(drawn("bssss", "bssss"))
    rows = piece.rows.divided_at({0: (1,)})
    assert as_worked(rows, [Mistake(0, (3, 4), "brick")])[0].fabric != rows[0].fabric
    assert as_worked(rows, [Mistake(0, (2, 3, 4), "brick")]) is rows


@pytest.mark.parametrize(("met", "stitches"), [((), 1), ((1,), 2), ((2,), 1)])
def test_an_increase_lifts_no_bar_at_which_strands_met_in_the_row_below(met: tuple[int, ...], stitches: int) -> None:
    """Row 2, a wrong-side row, has a stitch more at the right edge, in its end; row 1 below it is shared in a gap."""
    rows = Rows(drawn("ssssssss", "sssssss.").fabric(), inward=1)
    assert [one.after for one in shapings(rows, 1)] == [6]
    rows = rows.divided_at({0: tuple(gap + 1 for gap in met)})
    assert [8 - 1 - one.after for one in shapings(rows, 1)] == [stitches]


@pytest.mark.parametrize(("met", "inward"), [((), 3), ((5,), 3), ((4,), 2), ((3,), 1), ((2,), 0), ((1,), 0)])
def test_an_increase_lies_in_the_part_of_a_shared_run_that_is_at_the_edge(met: tuple[int, ...], inward: int) -> None:
    """Row 2, a wrong-side row, has a stitch more at the right edge, in its end, three stitches in where it can be.
    Who takes over in a gap works as many stitches as its number, of which one is made: between two others a bar is
    lifted, beside one alone there is none, so that it is a loop."""
    rows = Rows(drawn("ssssssss", "sssssss.").fabric(), inward=3).divided_at({1: met} if met else {})
    [made] = shapings(rows, 1)
    worked_before = sum(run.stitches for run in rows[1].segments[:made.segment]) + made.after
    assert (made.how, 8 - 1 - worked_before) == ("m1R purlwise" if inward else "loop", inward)


def test_parts_that_are_joined_lie_below_the_row_above_with_the_meetings_of_both() -> None:
    """Both parts above the slit are shared in their middle, in gaps 2 and 6; the row that joins them finds a change
    there, where no bar may be lifted."""
    told = [("", "ssssssss"), ("left", "ssss...."), ("right", "....ssss"), ("", "ssssssss")]
    rows = Rows(fabric_of(told)).divided_at({1: (6,), 2: (2,)})
    assert {run.exit for run in rows.beneath(3).segments[:-1]} == {2, 6}
    assert len(Rows(fabric_of(told)).beneath(3).segments) == 1


def test_a_reader_of_written_rows_is_told_once_what_the_other_strand_is() -> None:
    lines = list(written.heading(PIECE, STRANDS, US))
    assert lines[-1] == words.how_to_share()
    assert words.how_to_share() not in written.heading(PIECE, plan_strands(PIECE.rows, Carry(1)).strands, US)
    assert is_rule(words.how_to_share()), "nothing to be knitted, where the rows are read back"


def test_a_written_row_joins_a_strand_that_life_made_a_new_one_where_two_meet() -> None:
    new = replace(STRANDS, strand_of=(*STRANDS.strand_of[:2], (1, 5), (5, 1), (1, 4, 5), (5, 4, 1)))
    assert list(written.row(PIECE, new, 2)) == ["Row 3 (RS): with sand k3; cross, join sand, k2. (5 sts)"]
    [other] = written.row(PIECE, STRANDS, 2)
    assert other == "Row 3 (RS): with sand k3; cross, with the other sand k2. (5 sts)"
