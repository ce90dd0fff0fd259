"""In the middle of a row's end: undone, planned anew, and whatever else happens there."""

from __future__ import annotations

import pytest

from companion.knitting.cloth.rows import Place
from companion.knitting.hands.steps import End, HaveReady
from companion.knitting.strands.limits import Carry
from companion.knitting.strands.plan import plan_strands
from companion.plan.demo import demo_plans
from companion.plan.read import load
from companion.progress.actions import (
    AtRow,
    Back,
    BindOff,
    EndLength,
    GoOn,
    JoinNew,
    On,
    Refused,
    Replan,
    RipBack,
    Unpick,
    Weave,
    WholeRow,
)
from companion.progress.deciding import allowed, decide
from companion.progress.events import BoundOff, Cut, Planned, RowEndDone
from companion.progress.fold import begin
from companion.progress.mishaps import others
from companion.progress.session import Session
from tests.knitting.charts import drawn
from tests.progress.the_bar import AT_THE_END, after, cut_in, left, opened, to_cut


def test_the_bar_asks_for_a_cut_and_for_yarns_at_the_end_of_row_2() -> None:
    session = after(opened(), *AT_THE_END)
    assert (left(session), to_cut(session)) == (["cut", "have ready"], [2])
    assert session.at == (1, 2)
    assert left(after(session, On())) == ["have ready"]
    assert left(after(session, On(), On())) == []
    assert after(session, On(), On()).at == (2, 0)


# Undoing ----------------------------------------------------------------------------------------------------------


def test_back_leads_through_a_row_end_act_by_act() -> None:
    mid = after(opened(), AtRow(2), On())
    stations = [mid]
    for _ in range(4):
        stations.append(after(stations[-1], On()))
    assert [left(station) for station in stations] == [[], ["cut", "have ready"], ["have ready"], [], []]
    session = stations.pop()
    while stations:
        session = after(session, Back())
        assert session == stations.pop()


@pytest.mark.parametrize("done", [0, 1, 2])
def test_unpicking_from_a_row_end_leads_into_the_row_and_to_its_end_again(done: int) -> None:
    """What is cut stays cut and is not told again; all else is asked for with the run that is worked again."""
    session = after(opened(), *AT_THE_END, *[On()] * done)
    undone = after(session, Unpick())
    assert (undone.next_place, left(undone), undone.cut) == (Place(1, 1), [], session.cut)
    again = after(undone, On())
    assert left(again) == (["cut", "have ready"] if not done else ["have ready"])
    assert again.cut == session.cut


def test_ripping_back_from_a_row_end_leaves_the_row_below_with_its_end_done() -> None:
    session = after(opened(), *AT_THE_END, On(), RipBack(1))
    assert (session.rows_done, session.act, session.next_place) == (1, None, Place(1, 0))
    assert left(after(session, On(), On())) == ["have ready"]
    with pytest.raises(Refused, match=r"Say a row from 0 \(the cast-on\) to 1\."):
        decide(after(opened(), *AT_THE_END), RipBack(2))  # nothing above row 2 is on the needles


def test_what_was_done_at_the_turn_below_is_not_asked_for_again_when_the_first_run_is_unpicked() -> None:
    session = after(opened(), *AT_THE_END, On(), On(), On(), Unpick())
    assert (session.next_place, session.act, left(session)) == (Place(2, 0), None, [])


# I am at row ...  -------------------------------------------------------------------------------------------------


def test_i_am_at_the_next_row_does_what_is_left_and_cuts_nothing_twice() -> None:
    session = after(opened(), *AT_THE_END)
    assert AtRow in allowed(session)
    assert decide(session, AtRow(3)) == (Cut(1, (2,)), RowEndDone(1, "have ready"))
    assert after(session, AtRow(3)) == after(session, On(), On())
    assert cut_in(decide(session, AtRow(5))).count(2) == 1
    assert after(session, On(), AtRow(3)) == after(session, On(), On())
    with pytest.raises(Refused, match="Say a row from 4 to 5"):
        decide(after(session, On(), On()), AtRow(3))


def test_at_the_last_row_the_others_are_cut_first_and_then_it_is_bound_off() -> None:
    session = after(opened(), AtRow(4), WholeRow())
    in_hand = session.strands.strand_of[3][-1]
    others_there = sorted(set(session.strands.strand_of[3]) - {in_hand})
    assert (left(session), sorted(to_cut(session))) == (["cut"], others_there)
    assert {On, AtRow, BindOff} <= allowed(session)
    assert sorted(cut_in(decide(session, On()))) == sorted(cut_in(decide(session, AtRow(5)))) == others_there
    cut = after(session, On())
    assert (cut.is_worked, cut.act) == (True, None)
    assert decide(cut, BindOff()) == (Cut(3, (in_hand,)), BoundOff())
    assert sorted(cut_in(decide(session, BindOff()))) == sorted([*others_there, in_hand])
    with pytest.raises(Refused, match=r"Every row is worked\."):
        decide(cut, AtRow(5))


# Another plan for the rest ----------------------------------------------------------------------------------------
STEP = drawn(
    "bbbbssssss",
    "ssssssbbbb",
)
"""Row 1 from the right: brick 4, sand 6; row 2 from the left: brick 4, sand 6. The sand hangs at the left edge, six
stitches from where it is needed; the brick hangs where it ended, four stitches from the right edge."""


def test_a_strand_that_is_needed_by_the_new_plan_is_not_told_to_be_cut_any_more() -> None:
    near, far = Carry(0), Carry(6)
    session = after(opened(STEP, near), On(), On())
    assert left(session) == ["cut", "have ready"]
    again = after(session, Replan(far))
    needed = set(again.strands.strand_of[1])
    assert not set(to_cut(again)) & needed
    assert len(to_cut(again)) < len(to_cut(session))
    # And the other way round: what the new plan does not need is told to be cut.
    back = after(again, Replan(near))
    assert sorted(to_cut(back)) == sorted(to_cut(session))


def test_what_is_cut_already_is_neither_told_again_nor_worked_on_by_a_new_plan() -> None:
    session = after(opened(STEP, Carry(0)), On(), On(), On())
    gone = session.cut
    assert gone
    assert left(session) == ["have ready"]
    again = after(session, Replan(Carry(6)))
    assert (again.cut, to_cut(again)) == (gone, [])
    assert not gone & set(again.strands.strand_of[1])
    assert left(again) == ["have ready"]


@pytest.mark.parametrize("is_new", [True, False])
def test_what_is_done_is_not_asked_for_again_by_a_new_plan_nor_what_is_left_forgotten(is_new: bool) -> None:
    session = divided_at_its_end()
    assert left(session) == ["bind off", "take up", "have ready"]
    for done, names in enumerate((["bind off", "take up", "have ready"], ["take up", "have ready"], ["have ready"])):
        at = after(session, *[On()] * done)
        limits = Carry(1) if is_new else session.limits._replace(behind=2)
        assert left(after(at, Replan(limits))) == names


def test_when_all_is_done_a_new_plan_opens_the_row_end_only_for_what_must_be_cut() -> None:
    """The limits are widened, so that the first brick hangs ready for row 2; and narrowed again."""
    wide = after(opened(STEP, Carry(6)), On(), On())
    while wide.act is not None:
        wide = after(wide, On())
    kept = set(wide.strands.strand_of[1]) & set(wide.strands.strand_of[0])
    assert kept
    narrow = after(wide, Replan(Carry(0)))
    assert left(narrow) == ["cut"]
    assert set(to_cut(narrow)) == kept
    assert left(after(narrow, On())) == []
    assert after(narrow, Back()) == wide
    assert left(after(wide, Replan(Carry(7)))) == []


def divided_at_its_end() -> Session:
    """At the end of the first part of the ferry jumper: it is to be bound off, and the left part taken up."""
    [path] = [path for path in demo_plans() if path.stem == "ferry-jumper-front"]
    piece = load(path).piece
    session = begin({0: piece}, (Planned.of(0, piece.carry, plan_strands(piece.rows, piece.carry).strands),))
    return after(session, AtRow(98), WholeRow())


def test_where_the_first_part_ends_it_is_bound_off_once_and_the_second_one_taken_up_once() -> None:
    session = divided_at_its_end()
    in_hand = session.strands.strand_of[97][-1]
    assert decide(session, On()) == (RowEndDone(97, "bind off"), Cut(97, (in_hand,)))
    assert decide(after(session, On()), On()) == (RowEndDone(97, "take up"),)
    at_once = decide(session, AtRow(99))
    assert cut_in(at_once) == [in_hand]
    assert [event.act for event in at_once if isinstance(event, RowEndDone)] == ["bind off", "take up", "have ready"]


# What happened ----------------------------------------------------------------------------------------------------


def test_a_new_strand_told_at_a_row_end_has_the_one_it_stands_for_cut_with_the_others() -> None:
    """The sand of row 2 was joined new after all: that of row 1 is not needed any more."""
    session = after(opened(), *AT_THE_END)
    told = after(session, JoinNew(Place(1, 1)))
    old, new = session.strands.at(Place(1, 1)), told.strands.at(Place(1, 1))
    assert sorted(to_cut(told)) == sorted([2, old])
    assert new not in to_cut(told)
    assert sorted(cut_in(decide(told, On()))) == sorted([2, old])
    # When the cuts are made already, the old one alone is still to be cut, and nothing else is asked for again.
    late = after(session, On(), On(), JoinNew(Place(1, 1)))
    assert (left(late), to_cut(late)) == (["cut"], [old])


def test_a_strand_gone_on_with_at_a_row_end_is_not_told_to_be_cut() -> None:
    """In row 2 the brick is worked with the strand of row 1, which had been planned to be cut."""
    session = after(opened(drawn("ssss", "bbss", "ssbb"), Carry(0)), AtRow(2), On())
    brick = Place(1, 0)
    [old] = others(session, brick)
    planned = session.strands.at(brick)
    assert old in session.cut
    gone_on = after(session, GoOn(brick, old), On())
    assert old in to_cut(gone_on)  # after row 2 it has no more to do
    assert planned not in to_cut(gone_on)
    assert old not in gone_on.cut


def test_a_strand_that_ran_out_where_it_hangs_is_not_told_to_be_cut_but_a_new_one_to_be_had_ready() -> None:
    session = after(opened(drawn("ssbb", "ssbb", "ssbb")), AtRow(2), On(), On())
    first = session.strands.at(Place(2, 0))
    assert left(session) == []
    ended = after(session, EndLength(0, is_spliced=False))
    assert first in ended.cut
    assert first not in to_cut(ended)
    assert ended.strands.at(Place(2, 0)) != first


def test_weaving_in_the_tail_of_a_strand_that_is_to_be_cut_is_cutting_it() -> None:
    session = after(opened(), *AT_THE_END, Weave(End(Place(1, 0), "finish")))
    assert session.cut == {2}
    assert left(session) == ["have ready"]


def test_what_is_planned_anew_while_yarns_are_to_be_had_ready_tells_those_of_the_new_plan() -> None:
    session = after(opened(STEP, Carry(0)), On(), On(), On())
    assert session.act == HaveReady(("brick", "sand"), ())
    brick = session.strands.at(Place(0, 0))
    gone_on = after(session, GoOn(Place(1, 0), brick))
    assert gone_on.act == HaveReady(("sand",), ())
