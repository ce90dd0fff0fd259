"""Single mishaps, told by hand: lengths that end, strands joined after all or gone on with, and ripping after it."""

from __future__ import annotations

import pytest

from companion.knitting.cloth.rows import Place
from companion.knitting.hands.ends import ends_of
from companion.knitting.hands.runs import run_steps
from companion.knitting.hands.steps import End, Renew, Splice
from companion.knitting.strands.limits import Carry
from companion.knitting.strands.plan import plan_strands
from companion.knitting.strands.strands import Break
from companion.knitting.words import US, tell, work_in_full
from companion.progress.actions import (
    Action,
    AtRow,
    Back,
    BindOff,
    EndLength,
    GoOn,
    JoinNew,
    On,
    Refused,
    RipBack,
    Weave,
    WholeRow,
)
from companion.progress.deciding import decide
from companion.progress.ends import end_state
from companion.progress.events import Broke, Cut, JoinedNew, Planned, RanOut, RowEndBegun, Unwove, WentOn, Wove
from companion.progress.fold import apply, begin
from companion.progress.mishaps import others
from companion.progress.replanning import reaches
from companion.progress.session import Session
from tests.knitting.charts import Chart, drawn, piece_of

# A brick block of five rows in sand; row 1 is the bottom line. On right-side rows the right sand is worked first.
BLOCK = drawn(
    "ssssssssss",
    "sssbbbbsss",
    "sssbbbbsss",
    "sssbbbbsss",
    "sssbbbbsss",
    "sssbbbbsss",
    "ssssssssss",
)


NEAR, NOWHERE = Carry(3), Carry(0)


def opened(chart: Chart = BLOCK, carry: Carry = NEAR) -> Session:
    piece = piece_of(chart, carry)
    return begin({0: piece}, (Planned(0, carry, plan_strands(piece.rows, carry).strands.strand_of),))


def after(session: Session, *todo: Action) -> Session:
    for action in todo:
        session = apply(session, decide(session, action))
    return session


BRICK = Place(3, 1)
"""The brick run of row 4, a wrong-side row."""

IN_BRICK = (AtRow(4), On())


def test_a_length_that_ran_out_in_mid_run_leaves_two_ends_and_the_strand_its_number() -> None:
    session = after(opened(), *IN_BRICK)
    assert decide(session, EndLength(2, is_spliced=False)) == (Broke(3, 1, 2, False),)
    joined = after(session, EndLength(2, is_spliced=False))
    assert joined.strands.strand_of == session.strands.strand_of
    assert joined.strands.total.ends == session.strands.total.ends + 2
    assert set(ends_of(joined.strands)) - set(ends_of(session.strands)) == {
        End(BRICK, "finish", 2), End(BRICK, "start", 2)
    }
    assert [end_state(joined, End(BRICK, kind, 2)) for kind in ("finish", "start")] == ["not yet"] * 2
    assert [end_state(after(joined, On()), End(BRICK, kind, 2)) for kind in ("finish", "start")] == ["too fresh"] * 2


def test_a_splice_leaves_no_end() -> None:
    session = after(opened(), *IN_BRICK, EndLength(2, is_spliced=True))
    assert session.strands.total == opened().strands.total
    assert session.strands.breaks == (Break(BRICK, 2, True),)


def test_the_run_tells_how_the_new_length_comes_in() -> None:
    joined = after(opened(), *IN_BRICK, EndLength(2, is_spliced=False))
    run = run_steps(joined.strands, BRICK)
    [renewed] = [step for step in run.inside if isinstance(step, Renew)]
    assert tell(renewed, "full", US) == (
        "After 2 stitches this brick ends: leave a tail, join new brick in front with a tail too; lay the old brick "
        "to your left across the new, then take the new one up from under it."
    )
    assert work_in_full(run, US) == "purl 2, join new brick, purl 2"
    spliced = run_steps(after(opened(), *IN_BRICK, EndLength(1, is_spliced=True)).strands, BRICK)
    [splice] = [step for step in spliced.inside if isinstance(step, Splice)]
    assert tell(splice, "full", US) == "After 1 stitch comes the splice in brick, which leaves no end."
    assert work_in_full(spliced, US) == "purl 1, splice brick, purl 3"


def test_a_length_that_ended_where_it_hung_is_joined_anew_with_its_run() -> None:
    session = after(opened(), *IN_BRICK)
    brick = session.strands.at(BRICK)
    entry = decide(session, EndLength(0, is_spliced=False))
    assert entry[0] == RanOut(brick)
    again = apply(session, entry)
    assert again.strands.first[again.strands.at(BRICK)] == BRICK
    assert again.strands.last[brick] == Place(2, 1)
    assert brick in again.cut
    assert again.strands.total.ends == session.strands.total.ends + 2


def test_joining_a_new_strand_after_all_changes_the_run_worked_and_plans_the_rest_from_what_hangs() -> None:
    session = after(opened(), *IN_BRICK, On())
    entry = decide(session, JoinNew(BRICK))
    assert entry[0] == JoinedNew(3, 1, 4)
    joined = apply(session, entry)
    assert joined.past.worked[3] == (1, 4)
    assert [row[1] for row in joined.strands.strand_of[4:6]] == [4, 4]
    assert joined.strands.total.strands == session.strands.total.strands + 1
    assert after(joined, Back()) == session


def test_the_strand_left_hanging_by_it_is_cut_at_the_next_turn() -> None:
    joined = after(opened(), *IN_BRICK, On(), JoinNew(BRICK))
    old = joined.strands.at(Place(2, 1))
    turned = after(joined, On())
    assert turned.act is not None
    assert tell(turned.act, "full", US) == (
        "Cut too, not needed any more: row 3, the brick between sand and sand, second from the right."
    )
    assert decide(turned, On()) == (Cut(3, (old,)),)
    assert after(turned, On()).act is None


def test_a_new_strand_joined_at_a_turn_has_the_old_one_cut_there() -> None:
    session = after(opened(), AtRow(4))
    entry = decide(session, JoinNew(Place(3, 0)))
    assert entry[0] == JoinedNew(3, 0, 4)
    assert entry[2:] == (RowEndBegun(2, ("have ready",)),)
    assert decide(apply(session, entry), On())[0] == Cut(2, (session.strands.at(Place(3, 0)),))


def test_going_on_with_the_old_strand_saves_the_one_that_was_to_be_joined() -> None:
    """With no carry allowed both strands of the first row are cut and two joined; the brick was carried over."""
    session = after(opened(drawn("bbss", "ssbb"), NOWHERE), AtRow(2))
    place = Place(1, 0)
    assert session.strands.first[session.strands.at(place)] == place
    assert session.cut == {1, 2}
    assert others(session, place) == (1,)
    entry = decide(session, GoOn(place, 1))
    assert entry[0] == WentOn(1, 0, 1)
    gone_on = apply(session, entry)
    assert gone_on.strands.strand_of == ((1, 2), (1, 3))
    assert gone_on.cut == {2}


def test_a_strand_told_to_be_cut_that_was_gone_on_with_was_not_cut() -> None:
    session = after(opened(drawn("ss", "bs", "ss"), NOWHERE), AtRow(3))
    place = Place(2, 0)
    [strand] = others(session, place)[:1]
    assert strand in session.cut
    gone_on = after(session, GoOn(place, strand))
    assert strand not in gone_on.cut
    assert gone_on.strands.at(place) == strand
    assert strand in after(gone_on, AtRow(4), BindOff()).cut


def test_ends_that_are_none_any_more_are_not_woven_in() -> None:
    session = after(opened(drawn("bbss", "ssbb"), NOWHERE), AtRow(2), On())
    start = End(Place(1, 0), "start")
    woven = after(session, Weave(start))
    assert decide(woven, GoOn(Place(1, 0), 1))[-1] == Unwove(start)


def test_a_cut_length_that_is_ripped_out_works_again_what_it_worked_and_no_more() -> None:
    """The brick is cut at the turn after row 6. Ripped to row 4, and the rest planned anew, it still works rows 5
    and 6 and nothing else; told to be cut it is not again."""
    session = after(opened(), AtRow(7))
    brick = session.strands.at(BRICK)
    assert brick in session.cut
    ripped = after(session, RipBack(4))
    assert dict(reaches(ripped))[brick] == Place(5, 1)
    again = after(ripped, JoinNew(Place(4, 0)))
    assert [row[1] for row in again.strands.strand_of[4:6]] == [brick, brick]
    assert brick in again.cut
    while not again.is_worked:
        entry = decide(again, On())
        assert not any(brick in event.strands for event in entry if isinstance(event, Cut))
        again = apply(again, entry)


def test_a_cut_length_that_is_not_to_work_here_any_more_is_joined_anew() -> None:
    ripped = after(opened(), AtRow(7), RipBack(4), On())
    brick = ripped.strands.at(BRICK)
    again = after(ripped, JoinNew(Place(4, 1)))
    assert again.strands.last[brick] == BRICK
    assert again.strands.at(Place(5, 1)) == again.strands.at(Place(4, 1)) != brick


def test_a_new_length_joined_on_the_way_stays_where_it_is_in_the_yarn_when_it_is_ripped_out() -> None:
    session = after(opened(), *IN_BRICK, EndLength(2, is_spliced=False), AtRow(6))
    ripped = after(session, RipBack(2))
    assert ripped.strands.breaks == (Break(BRICK, 2, False),)
    brick = session.strands.at(BRICK)
    assert dict(reaches(ripped))[brick] == BRICK
    again = after(ripped, JoinNew(Place(2, 0)))
    assert again.strands.breaks == (Break(BRICK, 2, False),)
    assert [row[1] for row in again.strands.strand_of[2:6]] == [brick] * 4


def test_a_length_that_runs_out_earlier_the_second_time_ends_there() -> None:
    session = after(opened(), *IN_BRICK, EndLength(2, is_spliced=False), AtRow(6), RipBack(2), On())
    sooner = after(session, EndLength(3, is_spliced=False))
    assert sooner.strands.breaks == (Break(Place(2, 1), 3, False),)


def test_a_length_joined_on_the_way_goes_past_the_old_cut() -> None:
    session = after(opened(), AtRow(7), RipBack(3), On(), EndLength(2, is_spliced=False))
    brick = session.strands.at(BRICK)
    assert brick not in session.cut
    assert Cut(5, (brick,)).strands[0] in [
        strand for event in decide(session, AtRow(7)) if isinstance(event, Cut) for strand in event.strands
    ]


def test_weaving_the_end_of_a_strand_that_hangs_idle_is_cutting_it() -> None:
    joined = after(opened(), *IN_BRICK, On(), JoinNew(BRICK))
    old = joined.strands.at(Place(2, 1))
    assert decide(joined, Weave(End(Place(2, 1), "finish")))[0] == RanOut(old)


def test_weaving_the_end_that_a_length_left_in_mid_run_cuts_nothing() -> None:
    """Its strand goes on with the new length."""
    session = after(opened(), *IN_BRICK, EndLength(2, is_spliced=False), On())
    assert decide(session, Weave(End(BRICK, "finish", 2))) == (Wove(End(BRICK, "finish", 2)),)


@pytest.mark.parametrize(
    ("todo", "action", "told"),
    [
        (IN_BRICK, EndLength(4, False), "Say a number from 0 (before the first stitch) to 3."),
        (IN_BRICK, EndLength(-1, True), "Say a number from 0 (before the first stitch) to 3."),
        ((*IN_BRICK, EndLength(2, True)), EndLength(2, False), "That is told already."),
        ((AtRow(8),), EndLength(1, True), "Every row is worked."),
        ((), EndLength(0, False), "A new strand is joined here as planned."),
        ((), JoinNew(Place(0, 0)), "A new strand is joined here as planned."),
        (IN_BRICK, JoinNew(Place(0, 0)),
         "Only the run worked last and the one in work can be told to be worked otherwise."),
        ((AtRow(8), BindOff()), JoinNew(Place(6, 0)),
         "Only the run worked last and the one in work can be told to be worked otherwise."),
        (IN_BRICK, GoOn(BRICK, 2), "No such strand of this yarn hangs there."),
        (IN_BRICK, GoOn(BRICK, 1), "No such strand of this yarn hangs there."),
        (IN_BRICK, GoOn(BRICK, 99), "No such strand of this yarn hangs there."),
    ],
    ids=repr,
)
def test_what_cannot_have_happened_is_refused_in_words(
    todo: tuple[Action, ...], action: Action, told: str
) -> None:
    session = after(opened(), *todo)
    with pytest.raises(Refused) as refused:
        decide(session, action)
    assert str(refused.value) == told


def test_a_strand_whose_end_is_woven_in_is_not_gone_on_with() -> None:
    session = after(opened(drawn("ss", "bs", "ss"), NOWHERE), AtRow(3))
    place = Place(2, 0)
    for strand in others(session, place):
        session = after(session, Weave(End(session.strands.last[strand], "finish")))
    assert others(session, place) == ()


def test_whatever_happened_is_taken_back_by_back() -> None:
    session = after(opened(), *IN_BRICK, WholeRow())
    for action in (EndLength(1, True), EndLength(1, False), JoinNew(Place(3, 2)), GoOn(Place(3, 2), 1), RipBack(2)):
        assert after(session, action, Back()) == session
