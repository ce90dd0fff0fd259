"""Trapped tails in the course of a piece: laid in with the run, loose again when it is undone; and ends whose route
ran up into ripped rows."""

from __future__ import annotations

from companion.knitting.cloth.rows import Place
from companion.knitting.hands.steps import End
from companion.knitting.strands.plan import plan_strands
from companion.progress.actions import Action, AtRow, Back, On, RipBack, TrapTails, Unpick, Unweave, Weave, WholeRow
from companion.progress.deciding import decide
from companion.progress.ends import end_state, how_woven
from companion.progress.events import Planned, Unwove, Worked, Wove
from companion.progress.fold import apply, begin
from companion.progress.session import Session
from tests.knitting.charts import Chart, drawn, piece_of

CLOSING = drawn("s" * 30, "s" * 30, "s" * 12 + "b" * 6 + "s" * 12, "s" * 12 + "b" * 6 + "s" * 12)
CUT = End(Place(1, 0), "finish")


def cast_on(chart: Chart) -> Session:
    piece = piece_of(chart)
    return begin({0: piece}, (Planned.of(0, piece.carry, plan_strands(piece.rows, piece.carry).strands),))


def does(session: Session, *actions: Action) -> Session:
    for action in actions:
        session = apply(session, decide(session, action))
    return session


def test_a_tail_is_laid_in_with_the_run_and_no_end_is_left() -> None:
    hanging = does(cast_on(CLOSING), AtRow(3))
    assert end_state(hanging, CUT) == "too fresh"
    assert end_state(does(hanging, WholeRow()), CUT) == "too fresh"
    session = does(hanging, TrapTails(is_on=True))
    entry = decide(session, On())
    assert [type(event) for event in entry] == [Worked, Wove]
    after = apply(session, entry)
    assert end_state(after, CUT) == "woven"
    assert after.ends_left == hanging.ends_left - 1


def test_undoing_the_run_lets_it_hang_again() -> None:
    session = does(cast_on(CLOSING), TrapTails(is_on=True), AtRow(4))
    assert end_state(session, CUT) == "woven"
    assert end_state(does(session, Unpick()), CUT) == "too fresh"
    assert end_state(does(session, RipBack(2)), CUT) == "too fresh"
    assert end_state(does(session, WholeRow(), Unpick()), CUT) == "woven"


def test_to_switch_it_is_a_setting_and_no_action_to_be_taken_back() -> None:
    session = does(cast_on(CLOSING), On(), TrapTails(is_on=True))
    after = does(session, Back())
    assert (after.done, after.is_trapping) == (0, True)
    assert does(session, TrapTails(is_on=False), Back()).is_trapping is False


def test_an_end_whose_route_ran_up_into_ripped_rows_is_not_woven_any_more() -> None:
    """The first tail of a sand three stitches wide goes up along the change, so it needs the rows that it runs in."""
    chart = drawn(*["bbbbsssbbbb"] * 24)
    session = does(cast_on(chart), AtRow(24))
    end = End(session.strands.first[session.strands.strand_of[0][1]], "start")
    weaving = how_woven(session, end)
    top = max(row for row, _ in weaving.cells)
    assert 2 < top < 22
    session = does(session, Weave(end))
    assert end in does(session, RipBack(top + 1)).woven
    entry = decide(session, RipBack(top))
    assert Unwove(end) in entry
    assert end_state(apply(session, entry), end) == "too fresh"
    assert end not in does(session, RipBack(top), AtRow(24)).woven
    assert does(session, RipBack(top), Back()).woven == {end}
    assert does(session, Unweave(end)).woven == frozenset()
