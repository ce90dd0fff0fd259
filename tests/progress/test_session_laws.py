"""Any actions in any order, against a second bookkeeping that only counts runs from the first stitch, and what is to
be done at every row's end.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

import pytest
from hypothesis import example, given
from hypothesis import strategies as st

from companion.knitting.cloth.rows import LONG_TAIL, Casting, Place
from companion.knitting.hands.ends import ends_of
from companion.knitting.hands.mistakes import REMEDIES, Mistake
from companion.knitting.piece import Piece
from companion.knitting.strands.limits import Carry
from companion.knitting.strands.plan import plan_strands
from companion.progress.actions import (
    Action,
    AtRow,
    Back,
    BindOff,
    EndLength,
    Finish,
    GoOn,
    JoinNew,
    Mend,
    MissCross,
    Note,
    On,
    Refused,
    Replan,
    RipBack,
    Sew,
    TrapTails,
    Unpick,
    Unsew,
    Unweave,
    Weave,
    WholeRow,
)
from companion.progress.deciding import allowed, decide, would_rip
from companion.progress.ends import all_ends
from companion.progress.events import (
    BoundOff,
    Cut,
    Entry,
    Planned,
    RowEndDone,
    Unwove,
    WentBack,
    Worked,
    from_json,
    to_json,
)
from companion.progress.fold import apply, replay
from companion.progress.mishaps import to_sew
from companion.progress.session import Session
from tests.knitting.charts import Chart, charts, drawn, limits, piece_of
from tests.knitting.cloth.test_parts import Told, divided, fabric_of
from tests.knitting.meetings import bollards, may_share_runs
from tests.progress.row_ends_reckoned import HEAVY, drawn_rows
from tests.progress.runs_counted import Edited, agree, starting, tops

ROWS = st.integers(-1, 10)
WORDS = st.sampled_from(["", "  ", "left at the pier", "count again", "[MC] [/ \x1b[2J"])


@st.composite
def actions(draw: st.DrawFn) -> list[Action | Edited | int | str]:
    """Any actions; a number stands for weaving (even) or unweaving (odd) the end of that place in the list, and
    "next row" for being where the next row begins."""
    return draw(
        st.lists(
            st.one_of(
                st.just(On()), st.just(On()), st.just(WholeRow()), st.just(Back()), st.just(Unpick()),
                st.just(On()), st.just("next row"),
                st.builds(RipBack, ROWS), st.builds(AtRow, ROWS), st.builds(Note, ROWS, WORDS),
                st.integers(0, 40), st.integers(0, 40), st.just(BindOff()), st.just(Finish()),
                st.builds(Edited, may_share_runs(limits())),
            ),
            max_size=30,
        )
    )


def named(session: Session, action: Action | Edited | int | str) -> Action | Edited:
    if isinstance(action, str):
        return AtRow(session.at.row + 2)
    if not isinstance(action, int):
        return action
    ends = ends_of(session.strands)
    end = ends[action // 2 % len(ends)]
    return Unweave(end) if action % 2 else Weave(end)


def parted(told: list[Told], carry: Carry, rows: int) -> Piece:
    """A piece that divides into two parts."""
    return replace(piece_of(drawn("s"), carry, rows), fabric=fabric_of(told))


def cast_on(chart: Chart, carry: Carry, rows: int, casting: Casting) -> Piece:
    return replace(piece_of(chart, carry, rows), cast_on=casting)


# At 4, 8 and 28 rows over 10 cm an end is ready one, two and seven rows on.
whole = charts(max_rows=6, max_columns=8, ways=("flat", "round", "mixed"))
castings = st.sampled_from([LONG_TAIL, LONG_TAIL, Casting(is_each=True)])
pieces = st.one_of(
    st.builds(cast_on, whole, limits(), st.sampled_from([8, 4, 28]), castings),
    st.builds(cast_on, bollards(), may_share_runs(limits()), st.sampled_from([8, 4, 28]), castings),
    st.builds(parted, divided(), limits(), st.sampled_from([8, 4, 28])),
)


@given(pieces, actions())
@example(parted([("", "bbbb"), ("left", "..b."), ("right", "...b")], Carry(0), 8), [AtRow(3), RipBack(1)])
def test_any_actions_lead_where_counting_runs_leads(piece: Piece, todo: list[Action | Edited | int | str]) -> None:
    """Also: what is refused is what cannot be; back leads exactly to where one was; a replay through the written
    journal is the session."""
    entry, session, book = starting(piece)
    entries = [entry]
    for number in todo:
        action = named(session, number)
        if isinstance(action, Edited):
            strands = plan_strands(session.rows, action.carry, session.past).strands
            entry = (Planned.of(0, action.carry, strands),)
            # An edit that comes to the very same plan is none that Back would have to heed.
            book.plans += entry != (Planned.of(0, session.limits, session.strands),)
            book.rows = drawn_rows(strands.rows)
            book.strands = [n for row in strands.strand_of for n in row]
            book.tops = tops(piece, strands)
        else:
            decided, why = tried(session, action)
            if decided is None:
                assert not book.act(action)
                assert why[0].isupper()
                assert why.endswith(".")
                continue
            entry = decided
        was, session = session, apply(session, entry)
        assert book.act(action)
        if isinstance(action, Back):
            book.rows = drawn_rows(session.rows)
            book.strands = [n for row in session.strands.strand_of for n in row]
            book.tops = tops(piece, session.strands)
        elif not isinstance(action, Edited):
            undone = apply(session, decide(session, Back()))
            assert (undone, undone.before, undone.last) == (was, was.before, was.last)
        assert from_json(to_json(entry)) == entry
        entries.append(entry)
        agree(session, book)
    again = replay({0: piece}, [from_json(to_json(entry)) for entry in entries])
    assert list(history(again)) == list(history(session))


def history(session: Session) -> Iterator[tuple[Session, Entry]]:
    """The session and every one that Back would lead to."""
    at: Session | None = session
    while at is not None:
        yield at.changed(before=None), at.last
        at = at.before


@given(pieces, actions())
def test_what_is_allowed_is_what_can_be_done(piece: Piece, todo: list[Action | Edited | int | str]) -> None:
    _, session, _ = starting(piece)
    for number in todo:
        action = named(session, number)
        if not isinstance(action, Edited):
            entry, _ = tried(session, action)
            session = apply(session, entry) if entry else session
    possible = allowed(session)
    for kind, tries in every_try(session).items():
        assert (kind in possible) == any(tried(session, action)[0] for action in tries), kind.__name__


def every_try(session: Session) -> dict[type[Action], list[Action]]:
    """For every kind of action all there is to say with it."""
    rows = range(-1, len(session.rows) + 3)
    ends = ends_of(session.strands)
    return {
        On: [On()],
        WholeRow: [WholeRow()],
        Replan: [Replan(session.limits._replace(reach=session.limits.reach + 1))],
        Back: [Back()],
        Unpick: [Unpick()],
        BindOff: [BindOff()],
        Finish: [Finish()],
        TrapTails: [TrapTails(is_on) for is_on in (True, False)],
        Mend: [Mend(Mistake(row, (column,)), way) for row in rows for column in range(9) for way in REMEDIES],
        MissCross: [MissCross(place) for place in session.rows.places()],
        Sew: [Sew(area.first) for area in to_sew(session)],
        Unsew: [Unsew(cell) for cell in session.sewn],
        RipBack: [RipBack(row) for row in rows],
        AtRow: [AtRow(row) for row in rows],
        Note: [Note(row, "words") for row in rows],
        EndLength: [EndLength(after, spliced) for after in range(-1, 10) for spliced in (True, False)],
        JoinNew: [JoinNew(place) for place in session.rows.places()],
        GoOn: [GoOn(place, strand) for place in session.rows.places() for strand in session.strands.first],
        Weave: [Weave(end) for end in ends],
        Unweave: [Unweave(end) for end in ends],
    }


def tried(session: Session, action: Action) -> tuple[Entry | None, str]:
    """The entry, or why there is none."""
    try:
        return decide(session, action), ""
    except Refused as refused:
        return None, str(refused)


def settled(session: Session) -> Session:
    """The session, no matter whether what is done at the row's end was told to be done there."""
    return session if session.act is not None else session.changed(acts_done=None)


@given(pieces)
def test_a_whole_row_is_as_many_runs_as_it_has_and_all_that_is_to_be_done_at_its_end(piece: Piece) -> None:
    """In one press where nothing is cut, bound off, divided or joined; else what is to be done takes a press each."""
    _, session, book = starting(piece)
    for index, row in enumerate(session.rows):
        run_by_run = session
        for _ in row.segments:
            run_by_run = apply(run_by_run, decide(run_by_run, On()))
        acts = book.ends_of_rows.acts(index, session.cut)
        for _ in acts:
            assert run_by_run.act is not None
            run_by_run = apply(run_by_run, decide(run_by_run, On()))
        for _ in range(1 + (len(acts) if HEAVY & set(acts) else 0)):
            assert settled(session) != settled(run_by_run)
            session = apply(session, decide(session, WholeRow()))
        assert settled(session) == settled(run_by_run)
        assert session.act is None
    assert session.is_worked


@given(pieces, st.data())
def test_i_am_at_row_n_is_row_after_row(piece: Piece, data: st.DataObject) -> None:
    """From within a row's end too, and as far as the end of that very row."""
    _, session, book = starting(piece)
    for _ in range(data.draw(st.integers(0, book.total - 1))):
        session = apply(session, decide(session, On()))
    assert not session.is_worked
    row = data.draw(st.integers(session.at.row + 2, len(piece.rows) + 1))
    at_once = apply(session, decide(session, AtRow(row)))
    one_by_one = session
    while one_by_one.rows_done < row - 1 or one_by_one.act is not None:
        one_by_one = apply(one_by_one, decide(one_by_one, WholeRow()))
    assert settled(at_once) == settled(one_by_one)
    assert apply(at_once, decide(at_once, Back())) == session
    cut = [strand for event in at_once.last if isinstance(event, Cut) for strand in event.strands]
    assert len(cut) == len(set(cut))


@given(pieces)
def test_what_is_worked_is_told_with_its_yarn_stitches_and_strand(piece: Piece) -> None:
    _, session, book = starting(piece)
    told = []
    while not session.is_worked:
        entry = decide(session, WholeRow())
        told += [event for event in entry if isinstance(event, Worked)]
        session = apply(session, entry)
    segments = [session.rows.segment(place) for place in session.rows.places()]
    assert [(e.row, e.segment) for e in told] == list(session.rows.places())
    assert [(e.yarn, e.stitches) for e in told] == [(s.yarn, s.stitches) for s in segments]
    assert [e.strand for e in told] == book.strands


@given(pieces)
def test_every_strand_is_told_to_be_cut_once_at_the_turn_after_its_last_run(piece: Piece) -> None:
    """With the act that cuts it: all together, but for the one that binds a part or the piece off."""
    _, session, _ = starting(piece)
    cut: list[int] = []
    while not session.is_bound_off:
        entry = decide(session, On() if not session.is_worked or session.act is not None else BindOff())
        session = apply(session, entry)
        told = [event for event in entry if isinstance(event, Cut)]
        if told:
            [event] = told
            assert session.is_at_turn
            assert {session.strands.last[n].row for n in event.strands} == {event.row} == {session.row}
            in_hand = session.strands.at(Place(session.row, session.done - 1))
            if entry == (event,):
                assert in_hand not in event.strands or session.rows.following(session.row)
            else:
                assert entry in ((event, BoundOff()), (RowEndDone(session.row, "bind off"), event))
                assert event.strands == (in_hand,)
            cut += event.strands
    assert sorted(cut) == sorted(session.strands.first)


@given(pieces, st.data())
def test_ripping_says_beforehand_what_it_undoes(piece: Piece, data: st.DataObject) -> None:
    _, session, book = starting(piece)
    worked = data.draw(st.integers(1, book.total))
    stitches = []
    for _ in range(worked):
        entry = decide(session, On())
        stitches += [(e.row, e.stitches) for e in entry if isinstance(e, Worked)]
        session = apply(session, entry)
    woven = data.draw(st.sets(st.sampled_from([e for e, state in all_ends(session) if state != "not yet"])))
    for end in sorted(woven):
        session = apply(session, decide(session, Weave(end)))
    row = data.draw(st.integers(0, session.row))
    told = would_rip(session, row)
    entry = decide(session, RipBack(row))
    after = apply(session, entry)
    assert told.stitches == sum(count for r, count in stitches if r >= row)
    assert told.rows == len({r for r, _ in stitches if r >= row})
    assert told.woven == sum(isinstance(event, Unwove) for event in entry) == len(woven) - len(after.woven)
    assert told.on_needle == piece.rows[max(after.row, 0)].stitches
    assert after.rows_done == row


def test_going_back_past_the_beginning_of_a_journal_stays_there() -> None:
    entry, session, _ = starting(piece_of(drawn("ssbb", "sbbb")))
    assert replay({0: session.piece}, [entry, (WentBack(),)]) == session
    with pytest.raises(Refused, match="There is nothing to take back"):
        decide(session, Back())
