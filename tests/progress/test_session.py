"""Single moves of a session, told by hand."""

from __future__ import annotations

import pytest

from companion.knitting.cloth.rows import Place
from companion.knitting.hands.ends import ends_of
from companion.knitting.hands.steps import Cut as RowCut
from companion.knitting.hands.steps import End, HaveReady
from companion.knitting.strands.limits import Carry
from companion.knitting.strands.plan import plan_strands
from companion.progress.actions import (
    Action,
    AtRow,
    Back,
    BindOff,
    EndLength,
    Note,
    On,
    Refused,
    Replan,
    RipBack,
    TrapTails,
    Unpick,
    Unweave,
    Weave,
    WholeRow,
)
from companion.progress.deciding import allowed, decide
from companion.progress.ends import all_ends, end_state, ready_ends
from companion.progress.events import (
    BoundOff,
    Cut,
    Entry,
    Noted,
    Planned,
    RippedBack,
    RowEndBegun,
    RowEndDone,
    Unpicked,
    Unwove,
    WentBack,
    Worked,
    Wove,
)
from companion.progress.fold import apply, begin, replay
from companion.progress.session import Session
from tests.knitting.charts import Chart, drawn, piece_of

SPOT = drawn(
    "ssss",
    "sbbs",
    "ssss",
)


def opened(chart: Chart = SPOT) -> Session:
    piece = piece_of(chart)
    return begin({0: piece}, (Planned(0, Carry(3), plan_strands(piece.rows, Carry(3)).strands.strand_of),))


def after(session: Session, *todo: Action) -> Session:
    for action in todo:
        session = apply(session, decide(session, action))
    return session


def test_a_session_begins_before_the_first_stitch() -> None:
    session = opened()
    assert (session.row, session.done, session.next_place) == (0, 0, Place(0, 0))
    assert allowed(session) == {On, WholeRow, AtRow, EndLength, Replan, Note, TrapTails}


def test_a_run_worked_is_told_with_yarn_stitches_and_strand() -> None:
    session = after(opened(), On())
    assert decide(opened(), On()) == (Worked(0, 0, "sand", 4, 1), RowEndBegun(0))
    session = after(session, On())
    assert decide(session, On()) == (Worked(1, 0, "sand", 1, 1),)
    assert decide(after(session, On()), On()) == (Worked(1, 1, "brick", 2, 2),)


AT_THE_END_OF_ROW_2 = (AtRow(2), On(), On(), On())


def test_the_cuts_are_made_at_the_row_end_by_a_press_of_their_own() -> None:
    """The ground left of the spot is worked first, going back; at the end of row 2 the spot is done, and one of the
    two grounds is not needed in row 3."""
    session = after(opened(), *AT_THE_END_OF_ROW_2)
    strand_of = session.strands.strand_of
    gone = tuple(n for n in strand_of[1] if n not in strand_of[2])
    assert session.last == (Worked(1, 2, "sand", 1, 3), RowEndBegun(1))
    assert decide(session, On()) == decide(session, WholeRow()) == (Cut(1, gone),)
    cut = after(session, On())
    assert (session.cut, cut.cut, cut.act) == (frozenset(), frozenset(gone), None)
    assert decide(cut, On()) == (Worked(2, 0, "sand", 4, 3),)


def test_acts_of_a_row_end_are_done_one_by_one_and_taken_back_one_by_one() -> None:
    """After row 1 two strands are to be had ready, and nothing is cut; after row 2 one of them is."""
    at_row_1 = after(opened(), On())
    assert at_row_1.act == HaveReady(("brick", "sand"), ())
    turned = after(at_row_1, On())
    assert turned.last == (RowEndDone(0, "have ready"),)
    assert (turned.act, turned.next_place) == (None, Place(1, 0))
    assert after(turned, Back()) == at_row_1
    assert after(turned, On(), Back(), Back(), Back()).done == 0


def test_a_row_that_is_worked_at_once_goes_with_its_end_where_nothing_is_cut() -> None:
    assert after(opened(), WholeRow()).act is None
    assert isinstance(after(opened(), AtRow(2), WholeRow()).act, RowCut)
    assert after(opened(), AtRow(2), WholeRow(), AtRow(4)).cut >= {1, 2}


def test_what_is_undone_at_a_row_end_leaves_the_row_below_with_its_end_done() -> None:
    session = after(opened(), *AT_THE_END_OF_ROW_2)
    for undone in (after(session, Unpick(), On()), after(session, On(), Unpick(), On())):
        assert undone.next_place == session.next_place
    assert after(session, RipBack(1)).act is None
    assert after(session, RipBack(1)).cut == frozenset()


def test_unpicking_the_first_segment_of_a_row_returns_to_the_turn() -> None:
    session = after(opened(), WholeRow(), On(), Unpick())
    assert (session.row, session.done, session.is_at_turn, session.act) == (0, 1, True, None)
    assert decide(after(opened(), WholeRow(), On()), Unpick()) == (Unpicked(1, 0),)


def test_unpicking_the_very_first_segment_returns_to_the_cast_on() -> None:
    session = after(opened(), On(), Unpick())
    assert (session.row, session.done, session.next_place) == (0, 0, Place(0, 0))


def test_unpicking_takes_runs_off_one_by_one() -> None:
    session = after(opened(), WholeRow(), WholeRow(), Unpick(), Unpick())
    assert session.next_place == Place(1, 1)


def test_ripping_back_to_the_row_below_leaves_its_turn() -> None:
    session = after(opened(), WholeRow(), On(), On(), RipBack(1))
    assert (session.row, session.is_at_turn, session.rows_done) == (0, True, 1)
    assert decide(after(opened(), WholeRow(), On()), RipBack(1)) == (RippedBack(0),)


def test_ripping_back_to_the_cast_on() -> None:
    session = after(opened(), WholeRow(), WholeRow(), RipBack(0))
    assert (session.row, session.done) == (0, 0)


@pytest.mark.parametrize("row", [-1, 2, 3, 99])
def test_ripping_back_goes_down_only(row: int) -> None:
    with pytest.raises(Refused, match=r"Say a row from 0 \(the cast-on\) to 1\."):
        decide(after(opened(), WholeRow(), WholeRow()), RipBack(row))


def test_ripping_back_below_a_woven_end_takes_it_out_and_says_so() -> None:
    spot = End(Place(1, 1), "start")
    low = End(Place(0, 0), "start")
    session = after(opened(), AtRow(4), Weave(spot), Weave(low))
    # The route of the low one runs up into the ripped rows, since there is no room beside it.
    assert decide(session, RipBack(1)) == (RippedBack(0), Unwove(low), Unwove(spot))
    ripped = after(session, RipBack(1))
    assert ripped.woven == set()
    assert end_state(ripped, spot) == "not yet"
    assert after(ripped, Back()).woven == {spot, low}


def test_unpicking_a_woven_end_takes_it_out_too() -> None:
    spot = End(Place(1, 1), "start")
    session = after(opened(), WholeRow(), On(), On(), Weave(spot))
    assert decide(session, Unpick()) == (Unpicked(1, 1), Unwove(spot))


def test_unpicking_the_last_run_of_a_row_takes_a_cut_tail_out() -> None:
    spot = End(Place(1, 1), "finish")
    session = after(opened(), WholeRow(), WholeRow(), Weave(spot))
    assert decide(session, Unpick()) == (Unpicked(1, 2), Unwove(spot))


def test_a_cut_stays_cut_when_its_row_is_ripped_out() -> None:
    session = after(opened(), WholeRow(), WholeRow(), On())
    assert session.cut
    assert after(session, RipBack(1)).cut == session.cut
    assert after(session, Unpick()).cut == session.cut
    assert after(session, Unpick(), On()).act is None


def test_back_takes_back_whatever_was_done_last() -> None:
    session = after(opened(), AtRow(3))
    for action in (On(), Unpick(), RipBack(0), Note(2, "loose"), Weave(End(Place(0, 0), "start"))):
        assert after(session, action, Back()) == session
    assert decide(session, Back()) == (WentBack(),)
    assert after(session, On(), Note(1, "loose"), Back(), Back()) == session


def test_i_am_at_row_n_works_everything_before_as_planned() -> None:
    session = after(opened(), On(), On(), AtRow(3))
    assert (session.rows_done, session.next_place) == (2, Place(2, 0))
    assert after(opened(), AtRow(4)).is_worked


@pytest.mark.parametrize(
    ("todo", "row", "told"),
    [
        ((), 1, "Say a row from 2 to 4 (4: every row is worked); to go down, rip back."),
        ((), 5, "Say a row from 2 to 4 (4: every row is worked); to go down, rip back."),
        ((WholeRow(),), 2, "Say a row from 3 to 4 (4: every row is worked); to go down, rip back."),
        ((WholeRow(), WholeRow(), On()), 3, "Say row 4 (4: every row is worked); to go down, rip back."),
        ((AtRow(4),), 5, "Every row is worked."),
    ],
)
def test_i_am_at_row_n_goes_forward_only(todo: tuple[Action, ...], row: int, told: str) -> None:
    with pytest.raises(Refused) as refused:
        decide(after(opened(), *todo), AtRow(row))
    assert str(refused.value) == told


def test_a_note_is_kept_by_row_and_taken_away_by_an_empty_one() -> None:
    session = after(opened(), Note(2, "  loose here "), Note(3, "count"))
    assert decide(session, Note(2, " x ")) == (Noted(1, "x"),)
    assert session.notes == {1: "loose here", 2: "count"}
    assert after(session, Note(2, " ")).notes == {2: "count"}
    with pytest.raises(Refused, match="Say a row from 1 to 3"):
        decide(session, Note(4, "x"))


def test_a_note_stays_when_its_row_is_ripped_out() -> None:
    assert after(opened(), WholeRow(), WholeRow(), Note(2, "loose"), RipBack(0)).notes == {1: "loose"}


TALL = drawn(*["bbss"] * 12)


def test_an_end_goes_from_not_yet_over_too_fresh_to_ready_and_woven() -> None:
    """At 28 rows over 10 cm seven rows are 2.5 cm."""
    end = End(Place(0, 1), "start")
    session = opened(TALL)
    told = [end_state(session, end)]
    while not session.is_worked:
        session = after(session, On())
        told.append(end_state(session, end))
    assert told == ["not yet"] * 2 + ["too fresh"] * 14 + ["ready"] * 9
    assert decide(session, Weave(end)) == (Wove(end),)
    session = after(session, Weave(end))
    assert end_state(session, end) == "woven"
    assert end_state(after(session, Unweave(end)), end) == "ready"


def test_a_fresh_end_may_be_woven_all_the_same() -> None:
    end = End(Place(0, 0), "start")
    assert end_state(after(opened(TALL), On(), Weave(end)), end) == "woven"


def test_once_the_piece_is_bound_off_every_end_is_ready() -> None:
    session = after(opened(TALL), AtRow(13))
    assert {state for _, state in all_ends(session)} == {"ready", "too fresh"}
    bound = after(session, BindOff())
    assert {state for _, state in all_ends(bound)} == {"ready"}
    assert ready_ends(bound) == len(ends_of(bound.strands))
    assert decide(session, BindOff()) == (Cut(11, (1,)), BoundOff())
    assert bound.cut == set(bound.strands.first)


NOWHERE = End(Place(0, 1), "finish")


@pytest.mark.parametrize(
    ("todo", "action", "told"),
    [
        ((), Back(), "There is nothing to take back."),
        ((), Unpick(), "There is nothing to unpick."),
        ((), RipBack(0), "There is nothing to rip back."),
        ((), BindOff(), "There are rows to work yet."),
        ((AtRow(13),), On(), "Every row is worked."),
        ((AtRow(13),), WholeRow(), "Every row is worked."),
        ((AtRow(13), BindOff()), BindOff(), "The piece is bound off."),
        ((AtRow(13), BindOff()), Unpick(), "The piece is bound off."),
        ((AtRow(13), BindOff()), RipBack(3), "The piece is bound off."),
        ((), Weave(End(Place(0, 0), "start")), "This end does not exist yet."),
        ((AtRow(5),), Weave(NOWHERE), "This end does not exist yet."),
        ((AtRow(5),), Unweave(NOWHERE), "This end is not marked as woven in."),
        ((On(), Weave(End(Place(0, 0), "start"))), Weave(End(Place(0, 0), "start")), "This end is woven in already."),
    ],
    ids=repr,
)
def test_what_is_impossible_is_refused_in_words(todo: tuple[Action, ...], action: Action, told: str) -> None:
    session = after(opened(TALL), *todo)
    with pytest.raises(Refused) as refused:
        decide(session, action)
    assert str(refused.value) == told


BAD_BEGINNINGS: list[list[Entry]] = [
    [],
    [()],
    [(Worked(0, 0, "sand", 4, 1),)],
    [(Planned(7, Carry(3), ((1,),)),)],
    [(Planned(0, Carry(3), ((1,),)), Worked(0, 0, "sand", 4, 1))],
]


@pytest.mark.parametrize("entries", BAD_BEGINNINGS, ids=repr)
def test_a_journal_begins_with_a_plan_of_a_version_that_is_there(entries: list[Entry]) -> None:
    with pytest.raises(ValueError, match="the journal does not begin with a plan"):
        replay({0: piece_of(SPOT)}, entries)


def test_what_is_left_of_a_row_end_is_done_once_when_the_knitter_is_further_on() -> None:
    """Row 1 is all sand, which is cut at its end; row 2 all brick."""
    session = after(opened(drawn("ssss", "bbbb", "ssss")), On())
    entry = decide(session, AtRow(4))
    assert [event for event in entry if isinstance(event, Cut)] == [Cut(0, (1,)), Cut(1, (2,))]
    assert entry[:2] == (Cut(0, (1,)), RowEndDone(0, "have ready"))
