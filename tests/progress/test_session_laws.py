"""Any actions in any order, against a second bookkeeping that only counts runs from the first stitch, and what is to
be done at every row's end.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, field, replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from companion.knitting.cloth.rows import LONG_TAIL, Casting, Place
from companion.knitting.hands.ends import ends_of
from companion.knitting.hands.mistakes import REMEDIES, Mistake
from companion.knitting.hands.steps import Cut as CutAct
from companion.knitting.hands.steps import End, name_of
from companion.knitting.hands.weaving import backs_of
from companion.knitting.piece import Piece
from companion.knitting.strands.limits import Carry
from companion.knitting.strands.plan import plan_strands
from companion.knitting.strands.strands import Strands
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
from companion.progress.ends import all_ends, ready_ends
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
from companion.progress.finishing import phase_of
from companion.progress.fold import apply, begin, replay
from companion.progress.mishaps import to_sew
from companion.progress.session import Phase, Session
from tests.knitting.charts import Chart, charts, drawn, limits, piece_of
from tests.knitting.cloth.test_parts import Told, divided, fabric_of
from tests.progress.row_ends_reckoned import HEAVY, DrawnRow, RowEnds, drawn_rows


@dataclass(frozen=True)
class Edited:
    """Not an action: the plan's limits are changed while the piece is on the needles."""

    carry: Carry


@dataclass(frozen=True)
class Count:
    """The second bookkeeping: how many runs are worked, counted from the first, and with which strands. ``done``: the
    acts that are done at the row's end where that is still in work (None: nothing is left to do there)."""

    worked: tuple[int, ...] = ()
    done: frozenset[str] | None = None
    cut: frozenset[int] = frozenset()
    woven: frozenset[End] = frozenset()
    notes: frozenset[tuple[int, str]] = frozenset()
    is_bound_off: bool = False
    finished: tuple[str, ...] = ()
    plan: int = 0


@dataclass
class Book:
    """The pieces' rows, the count now and every count before it, the strands of all runs as planned."""

    rows: list[DrawnRow]
    strands: list[int]
    is_cast_on_in_sections: bool = False
    now: Count = Count()
    earlier: list[Count] = field(default_factory=list)
    plans: int = 0
    tops: dict[End, int] = field(default_factory=dict)
    """For every end the topmost row of its route, from 0."""

    @property
    def total(self) -> int:
        return sum(row.runs for row in self.rows)

    def upto(self, row: int) -> int:
        """How many runs the rows 1 to ``row`` have."""
        return sum(drawn.runs for drawn in self.rows[:row])

    @property
    def row(self) -> int:
        """The number, from 1, of the row of the next run; one more than there are rows when all is worked."""
        p = len(self.now.worked)
        return next((r for r in range(1, len(self.rows) + 1) if self.upto(r) > p), len(self.rows) + 1)

    def place(self, run: int) -> Place:
        row = next(r for r in range(len(self.rows)) if self.upto(r + 1) > run)
        return Place(row, run - self.upto(row))

    def ends(self) -> set[End]:
        """The ends that hang now: joins among the runs worked, and cuts of rows that are whole."""
        p = len(self.now.worked)
        found = set()
        for number in set(self.strands):
            first, last = self.strands.index(number), self.total - 1 - self.strands[::-1].index(number)
            if first < p:
                found.add(End(self.place(first), "start"))
            if self.upto(self.place(last).row + 1) <= p:
                found.add(End(self.place(last), "finish"))
        return found

    @property
    def ends_of_rows(self) -> RowEnds:
        return RowEnds(self.rows, self.strands, self.is_cast_on_in_sections)

    def pending(self) -> list[str]:
        """What is still to be done before the turn."""
        if self.now.done is None:
            return []
        row = self.place(len(self.now.worked) - 1).row
        return [act for act in self.ends_of_rows.acts(row, self.now.cut) if act not in self.now.done]

    def _do_next(self) -> Count:
        """The count after the act that is to be done now."""
        row = self.place(len(self.now.worked) - 1).row
        act, *later = self.pending()
        ends = self.ends_of_rows
        cut = {"cut": ends.to_cut(row, self.now.cut), "bind off": {ends.in_hand(row)}}.get(act, set())
        kept = (self.now.done or frozenset()) | {act} - {"cut"}
        return replace(self.now, cut=self.now.cut | cut, done=kept if later else None)

    def _do_all(self) -> None:
        while self.pending():
            self.now = self._do_next()
        self.now = replace(self.now, done=None)

    def act(self, action: Action | Edited) -> bool:
        """Do an action; False where it is impossible."""
        if isinstance(action, Back):
            if not self.earlier:
                return False
            old = self.earlier.pop()
            if old.plan != self.plans:
                old = replace(old, cut=old.cut & set(old.worked), plan=self.plans)
            self.now = old
            return True
        was, rows_before = self.now, self.row - 1
        after = self._after(action)
        if after is None:
            return False
        if not isinstance(action, Edited):
            self.earlier.append(was)
        self.now = after
        torn = {end for end in after.woven & self.tops.keys() if self.row - 1 <= self.tops[end] < rows_before}
        self.now = replace(after, woven=(after.woven & self.ends()) - torn)
        if not self.pending():  # whatever is planned then, nothing is asked for there again
            self.now = replace(self.now, done=None)
        return True

    def _after(self, action: Action | Edited) -> Count | None:
        now, p = self.now, len(self.now.worked)
        is_worked = p == self.total
        match action:
            case On() | WholeRow() if self.pending():
                return self._do_next()
            case On():
                return None if is_worked else self._worked_to(p + 1, set())
            case WholeRow():
                return None if is_worked else self._worked_to(self.upto(self.row), {"leave", "have ready", "go flat"})
            case AtRow(row):
                first = self.row if self.pending() else self.row + 1
                if not first <= row <= len(self.rows) + 1:
                    return None
                self._do_all()
                for number in range(self.row, row):
                    self.now = self._worked_to(self.upto(number), set())
                    self._do_all()
                return self.now
            case Unpick():
                return None if not p or now.is_bound_off else replace(now, worked=now.worked[:-1], done=None)
            case RipBack(row):
                fits = row >= 0 and self.upto(row) < p and not now.is_bound_off
                return replace(now, worked=now.worked[: self.upto(row)], done=None) if fits else None
            case Note(row, text):
                if not 1 <= row <= len(self.rows):
                    return None
                kept = {(r, t) for r, t in now.notes if r != row}
                return replace(now, notes=frozenset(kept | ({(row, text.strip())} if text.strip() else set())))
            case Weave(end):
                if end not in self.ends() - now.woven:
                    return None
                strand = self.strands[self.upto(end.place.row) + end.place.segment]
                ended = {strand} if end.kind == "finish" else set()  # what is woven in hangs no more
                return replace(now, woven=now.woven | {end}, cut=now.cut | ended)
            case Unweave(end):
                return replace(now, woven=now.woven - {end}) if end in now.woven else None
            case BindOff():
                if not is_worked or now.is_bound_off:
                    return None
                self._do_all()
                return replace(self.now, is_bound_off=True, cut=self.now.cut | set(self.strands))
            case Finish():
                is_woven = now.is_bound_off and now.woven == self.ends()
                said = ("wash", "trim")[len(now.finished) :][:1]
                return replace(now, finished=now.finished + said) if is_woven and said else None
            case Edited():
                return replace(now, cut=now.cut & set(now.worked), plan=self.plans)
        raise AssertionError(action)

    def _worked_to(self, p: int, light: set[str]) -> Count:
        """Worked on to run p of the row in work. At its turn the strands that have no later run are to be cut, those
        too that hang there from rows below since the plan was another one. ``light``: where nothing else is to be
        done, it is done with the row."""
        after = replace(self.now, worked=tuple(self.strands[:p]), done=None)
        if p not in {self.upto(r) for r in range(1, len(self.rows) + 1)}:
            return after
        asked = set(self.ends_of_rows.acts(self.place(p - 1).row, self.now.cut)) - light
        return replace(after, done=frozenset() if asked else None)


def starting(piece: Piece) -> tuple[Entry, Session, Book]:
    strands = plan_strands(piece.rows, piece.carry).strands
    entry: Entry = (Planned.of(0, piece.carry, strands),)
    runs = [n for row in strands.strand_of for n in row]
    book = Book(drawn_rows(piece.fabric), runs, piece.cast_on.is_each)
    book.tops = tops(piece, strands)
    return entry, begin({0: piece}, entry), book


def tops(piece: Piece, strands: Strands) -> dict[End, int]:
    backs = backs_of(piece, strands)
    return {end: max(row for row, _ in backs.weaving(end).cells) for end in ends_of(strands)}


def agree(session: Session, book: Book) -> None:
    """The session is where the book says, and stands there as a session should."""
    now = book.now
    if now.worked:
        last = book.place(len(now.worked) - 1)
        assert (session.row, session.done) == (last.row, last.segment + 1)
        assert session.last_place == last
    else:
        assert (session.row, session.done, session.last_place) == (0, 0, None)
    assert session.cut == now.cut
    assert session.woven == now.woven
    assert frozenset((row + 1, text) for row, text in session.notes.items()) == now.notes
    assert session.is_bound_off == now.is_bound_off
    assert (session.before is None) == (not book.earlier)
    stands_right(session, book)


def stands_right(session: Session, book: Book) -> None:
    p = len(book.now.worked)
    assert session.row == 0 or session.done > 0
    assert session.is_worked == (p == book.total)
    assert session.next_place == (None if p == book.total else book.place(p))
    assert session.is_at_turn == (p > 0 and p in {book.upto(r) for r in range(1, len(book.rows) + 1)})
    assert session.rows_done == book.row - 1
    ends_right(session, book)
    past = session.past
    assert tuple(n for row in past.worked for n in row) == book.now.worked
    assert past.cut == session.cut
    hang = {end for end, state in all_ends(session) if state != "not yet"}
    assert hang == book.ends()
    assert session.woven <= hang
    assert ready_ends(session) == sum(state == "ready" for _, state in all_ends(session))
    is_woven = session.is_bound_off and session.woven == set(ends_of(session.strands))
    assert (phase_of(session) is Phase.FINISHED) == (is_woven and book.now.finished == ("wash", "trim"))


def ends_right(session: Session, book: Book) -> None:
    """At the row's end just that is left to do which the book has, in its order; and what is cut is what it says."""
    acts = [group[-1] for group in session.row_end[:-1]]
    assert [name_of(act) for act in acts] == book.pending()
    assert session.act == (acts[0] if acts else None)
    told = [(*(s.strand for s in act.spots), *(s.spot.strand for s in act.left_over))
            for act in acts if isinstance(act, CutAct)]  # fmt: skip
    to_cut = sorted(book.ends_of_rows.to_cut(session.row, book.now.cut))
    assert [sorted(strands) for strands in told] == [to_cut] * ("cut" in book.pending())
    assert session.at == (session.next_place if session.next_place and not acts else (session.row, session.done))


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
                st.builds(Edited, limits()),
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
    st.builds(parted, divided(), limits(), st.sampled_from([8, 4, 28])),
)


@given(pieces, actions())
def test_any_actions_lead_where_counting_runs_leads(piece: Piece, todo: list[Action | Edited | int | str]) -> None:
    """Also: what is refused is what cannot be; back leads exactly to where one was; a replay through the written
    journal is the session."""
    entry, session, book = starting(piece)
    entries = [entry]
    for number in todo:
        action = named(session, number)
        if isinstance(action, Edited):
            strands = plan_strands(piece.rows, action.carry, session.past).strands
            entry = (Planned.of(0, action.carry, strands),)
            # An edit that comes to the very same plan is none that Back would have to heed.
            book.plans += entry != (Planned.of(0, session.limits, session.strands),)
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
    for index, row in enumerate(piece.rows):
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
    segments = [piece.rows.segment(place) for place in piece.rows.places()]
    assert [(e.row, e.segment) for e in told] == list(piece.rows.places())
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
