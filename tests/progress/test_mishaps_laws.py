"""Any mishaps in any order, with rips, edits and steps back, against a book of the yarn itself: how many stitches
each strand has worked, and after how many of them a length of it ended. Yarn keeps its ends wherever it is ripped to.
And against a reckoning of what is to be done at every row's end, which is all done, once, in its order.
"""

from __future__ import annotations

from copy import deepcopy
from dataclasses import replace

from hypothesis import settings
from hypothesis import strategies as st
from hypothesis.stateful import RuleBasedStateMachine, initialize, invariant, precondition, rule

from companion.knitting.cloth.rows import Casting, Place
from companion.knitting.hands.ends import ends_of
from companion.knitting.hands.mistakes import REMEDIES, Mistake, place_of
from companion.knitting.hands.steps import Trim, Wash, name_of
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
    TrapTails,
    Unpick,
    Unweave,
    Weave,
    WholeRow,
)
from companion.progress.alike import differing_rows
from companion.progress.deciding import decide
from companion.progress.ends import all_ends, ready_ends
from companion.progress.events import Cut, Entry, Event, Planned, RowEndDone, from_json, to_json
from companion.progress.finishing import finishing, phase_of
from companion.progress.fold import after_events, apply, begin, replay
from companion.progress.legality import check
from companion.progress.mishaps import others
from companion.progress.replanning import planned
from companion.progress.session import Phase, Session
from tests.knitting.charts import YARNS, Chart, castings, charts, piece_of, shared_or_not
from tests.knitting.cloth.test_parts import Told, divided, fabric_of
from tests.knitting.meetings import bollards, may_share_runs
from tests.progress.row_ends_reckoned import HEAVY
from tests.progress.yarn_book import Book, offsets, tails


class AtTheNeedles(RuleBasedStateMachine):
    """One piece, from its cast-on, with everything that can happen to it."""

    @initialize(
        chart=charts(max_rows=6, max_columns=8, ways=("flat", "round", "mixed")) | bollards(),
        parts=st.none() | divided(),
        carry=may_share_runs(shared_or_not()),
        casting=castings(),
    )
    def cast_on(self, chart: Chart, parts: list[Told] | None, carry: Carry, casting: Casting) -> None:
        self.chart = None if parts else chart
        piece = replace(piece_of(chart, carry, rows=8), cast_on=casting)
        if parts:
            piece = replace(piece, fabric=fabric_of(parts))
        strands = plan_strands(piece.rows, carry).strands
        entry: Entry = (Planned.of(0, carry, strands),)
        self.versions: dict[int, Piece] = {0: piece}
        self.session = begin(self.versions, entry)
        self.entries = [entry]
        self.book, self.earlier = Book(), list[tuple[Book, bool]]()
        self.is_edited = False

    def do(self, action: Action) -> bool:
        """Do an action; False where it is refused."""
        try:
            entry = decide(self.session, action)
        except Refused:
            return False
        assert from_json(to_json(entry)) == entry
        was = self.session
        self.entries.append(entry)
        self.session = apply(was, entry)
        if isinstance(action, Back):
            self.book, was_edited_before = self.earlier.pop()
            assert len(entry) == 1 + self.is_edited
            self.is_edited |= was_edited_before
            before = was.before
            assert before is not None
            self._note(entry[1:], before.changed(versions=was.versions))
            return True
        self.earlier.append((deepcopy(self.book), self.is_edited))
        self._note(entry, was)
        self.is_edited = False
        undone = apply(self.session, decide(self.session, Back()))
        assert (undone, undone.before, undone.last) == (was, was.before, was.last)
        return True

    def _note(self, entry: Entry, was: Session) -> None:
        at = was
        for number, event in enumerate(entry):
            self._look_at_the_row_end(at, event, entry[:number])
            self.book.take(was, event)
            at = after_events(at, (event,))
            if self.book.worked and not self.book.pending(at):  # whatever is planned then, nothing is asked for again
                self.book.done = None
        if any(isinstance(event, Planned) for event in entry):
            self._let_go()

    def _look_at_the_row_end(self, at: Session, event: Event, before: Entry) -> None:
        """What is done there is what is to be done now; what is cut is not needed, and was not cut."""
        if isinstance(event, RowEndDone):
            assert event.act == self.book.pending(at)[0]
        if isinstance(event, Cut):
            needed = [n for row in at.strands.strand_of for n in row][len(self.book.worked):]
            assert not set(event.strands) & set(needed)
            if self.book.pending(at) and before[-1:] != (RowEndDone(event.row, "bind off"),):
                assert self.book.pending(at)[0] == "cut"
            ends = self.book.row_ends(at)
            again = set() if ends.is_worked_on(event.row) else {ends.in_hand(event.row)}  # bound off a second time
            assert all(self.book.yarns[strand].ends is None for strand in set(event.strands) - again)

    def _let_go(self) -> None:
        """Of a length that is not worked to its end again, the rest is cut off: its ends go with it."""
        strands = self.session.strands
        totals = {s.strand: s.stitches for s in strands.summaries}
        for strand, yarn in self.book.yarns.items():
            self.book.yarns[strand] = replace(yarn.upto(totals[strand]), ends=yarn.ends)

    @rule()
    def on(self) -> None:
        was = self.session
        if self.do(On()):
            self._look_at_the_turn(was, set())

    @rule()
    def whole_row(self) -> None:
        was = self.session
        if self.do(WholeRow()):
            self._look_at_the_turn(was, {"leave", "have ready", "go flat"})

    def _look_at_the_turn(self, was: Session, light: set[str]) -> None:
        """All that is to be done at a turn that was just come to is still to be done, but for what goes with the row;
        once it is done, no strand hangs uncut that is not needed any more."""
        session = self.session
        if not session.is_at_turn:
            return
        if (session.row, session.done) != (was.row, was.done):
            asked = self.book.asked(session)
            assert self.book.pending(session) == (asked if set(asked) - light else [])
            assert not light or not self.book.pending(session) or HEAVY & set(asked)
        self._look_at_the_cuts()

    def _look_at_the_cuts(self) -> None:
        """At a turn at which nothing is to be done no strand hangs uncut that is not needed any more, but for the one
        to bind off with."""
        session = self.session
        if session.is_at_turn and session.act is None:
            for strand in {n for row in session.past.worked for n in row}:
                is_in_hand = strand == session.past.worked[-1][-1] and not session.rows.following(session.row)
                assert is_in_hand or strand in session.cut or session.strands.last[strand] >= (session.row + 1, 0)

    @rule(row=st.integers(1, 7))
    def at_row(self, row: int) -> None:
        if self.do(AtRow(row)):
            assert self.session.act is None
            self._look_at_the_cuts()

    @rule()
    def where_the_next_row_begins(self) -> None:
        if self.do(AtRow(self.session.at.row + 2)):
            assert self.session.act is None

    @rule()
    def unpick(self) -> None:
        self.do(Unpick())

    @rule(row=st.integers(0, 6))
    def rip_back(self, row: int) -> None:
        self.do(RipBack(row))

    @rule()
    def back(self) -> None:
        self.do(Back())

    @rule(after=st.integers(0, 7), is_spliced=st.booleans())
    def end_a_length(self, after: int, is_spliced: bool) -> None:
        if "leave" not in self.session.mended.values():  # a length is known by its stitches, which a mistake changes
            self.do(EndLength(after, is_spliced))

    @rule(carry=may_share_runs(shared_or_not()))
    def replan(self, carry: Carry) -> None:
        if self.do(Replan(carry)):
            assert self.session.limits == carry
            self._look_at_the_cuts()

    @rule(is_last=st.booleans())
    def join_new(self, is_last: bool) -> None:
        place = self.session.last_place if is_last else self.session.next_place
        if place is not None:
            self.do(JoinNew(place))

    @rule(is_last=st.booleans(), data=st.data())
    def go_on(self, is_last: bool, data: st.DataObject) -> None:
        place = self.session.last_place if is_last else self.session.next_place
        if place is not None and (found := others(self.session, place)):
            self.do(GoOn(place, data.draw(st.sampled_from(found))))

    @rule(data=st.data(), is_woven=st.booleans())
    def weave(self, data: st.DataObject, is_woven: bool) -> None:
        end = data.draw(st.sampled_from(ends_of(self.session.strands)))
        self.do(Unweave(end) if is_woven else Weave(end))

    @rule(row=st.integers(1, 6))
    def note(self, row: int) -> None:
        self.do(Note(row, f"count row {row}"))

    @rule()
    def bind_off(self) -> None:
        self.do(BindOff())

    @rule(row=st.integers(0, 5), columns=st.sets(st.integers(1, 8), min_size=1, max_size=4), data=st.data())
    def mend(self, row: int, columns: set[int], data: st.DataObject) -> None:
        yarn = data.draw(st.sampled_from(["", *YARNS]))
        ways = REMEDIES if not self.session.strands.breaks else ("sew", "ladder", "rip")
        mistake, way = Mistake(row, tuple(sorted(columns)), yarn), data.draw(st.sampled_from(ways))
        if self.do(Mend(mistake, way)):
            gone = way == "rip" and self.session.rows_done <= row
            assert gone or self.session.mended[mistake] == way

    @rule(row=st.integers(0, 5), segment=st.integers(0, 4))
    def miss_a_cross(self, row: int, segment: int) -> None:
        if self.do(MissCross(Place(row, segment))):
            assert Place(row, segment) in self.session.missed

    @rule(is_on=st.booleans())
    def trap_tails(self, is_on: bool) -> None:
        """A setting: Back leads past it."""
        if is_on != self.session.is_trapping:
            entry = decide(self.session, TrapTails(is_on))
            self.entries.append(entry)
            self.session = apply(self.session, entry)
            assert self.session.is_trapping == is_on

    @rule()
    def finish(self) -> None:
        self.do(Finish())

    @precondition(lambda self: not self.session.is_bound_off)
    @rule(above=charts(max_rows=6, max_columns=8), carry=may_share_runs(shared_or_not()), is_new_chart=st.booleans())
    def edit_the_plan(self, above: Chart, carry: Carry, is_new_chart: bool) -> None:
        """What is to come is drawn anew, in the row in work too; or the limits are others."""
        session = self.session
        piece = session.piece
        if is_new_chart and self.chart:
            kept = session.row + 1
            grid = [*self.chart.grid[:kept], *above.grid[kept:]]
            if len(self.chart.grid) < kept or any(len(row) != len(self.chart.grid[0]) for row in grid):
                return
            if len(above.grid) >= kept and len(above.grid[kept - 1]) == len(grid[kept - 1]):
                runs = session.rows[session.row].segments[:session.done]
                worked = {column for run in runs for column in range(*sorted((run.first, run.last)))}
                worked |= {column for run in runs for column in (run.first, run.last)}
                pairs = zip(grid[kept - 1], above.grid[kept - 1], strict=True)
                grid[kept - 1] = tuple(
                    old if column in worked or (old is None) != (new is None) else new
                    for column, (old, new) in enumerate(pairs, 1)
                )
            chart = Chart(tuple(grid), (*self.chart.rounds[:kept], *above.rounds[kept:]))
            piece = replace(piece_of(chart, carry, rows=8), cast_on=self.session.piece.cast_on)
            as_planned = session.piece.rows.divided_at(session.rows.meetings)
            if differing_rows(as_planned, piece.rows, session.row, session.done):
                return
            self.chart = chart
        number = max(self.versions) + 1
        entry: Entry = (planned(session, version=(number, piece), limits=carry),)
        self.versions[number] = piece
        self.entries.append(entry)
        was = session.changed(versions=dict(self.versions))
        self.session = apply(was, entry)
        self._note(entry, was)
        self.is_edited = bool(self.earlier)

    @invariant()
    def what_was_worked_is_what_was_worked(self) -> None:
        session = self.session
        assert [n for row in session.past.worked for n in row] == [strand for _, strand, _ in self.book.worked]
        assert session.last_place == (self.book.worked[-1][0] if self.book.worked else None)

    @invariant()
    def what_is_left_at_the_row_end_is_what_is_asked_there_and_not_done(self) -> None:
        session, pending = self.session, self.book.pending(self.session) if self.book.worked else []
        assert [name_of(group[-1]) for group in session.row_end[:-1]] == pending
        assert (session.act is not None) == bool(pending)

    @invariant()
    def ends_of_the_yarn_stay_where_they_are_in_it(self) -> None:
        strands = self.session.strands
        found = offsets(strands)
        for strand, yarn in self.book.yarns.items():
            assert found.get(strand, (set(), set())) == (yarn.joined, yarn.spliced)
        assert found.keys() <= self.book.yarns.keys()

    @invariant()
    def a_cut_stays_cut_and_its_yarn_reaches_no_further(self) -> None:
        ended = {strand for strand, yarn in self.book.yarns.items() if yarn.ends is not None}
        assert self.session.cut == ended
        totals = {s.strand: s.stitches for s in self.session.strands.summaries}
        for strand in ended:
            assert totals[strand] <= (self.book.yarns[strand].ends or 0)

    @invariant()
    def the_ledger_is_what_the_steps_leave(self) -> None:
        strands = self.session.strands
        ends = ends_of(strands)
        joined = sum(not broken.is_spliced for broken in strands.breaks)
        assert len(ends) == len(set(ends)) == tails(strands) == strands.total.ends
        assert len(ends) == 2 * len(strands.first) - 2 * len(strands.shared) + 2 * joined + strands.cast_on_ends
        states = [state for _, state in all_ends(self.session)]
        assert self.session.ends_left == len(ends) - states.count("woven")
        assert ready_ends(self.session) == states.count("ready")
        assert len(self.session.woven) == states.count("woven")
        is_done = self.session.is_bound_off and set(states) == {"woven"} and self.session.finished >= {Wash, Trim}
        is_done = is_done and "sew" not in self.session.mended.values()
        assert (phase_of(self.session) is Phase.FINISHED) == is_done
        done = [step.is_done for step in finishing(self.session)]
        assert done == sorted(done, reverse=True)

    @invariant()
    def mistakes_and_missed_crosses_lie_in_what_is_worked(self) -> None:
        session = self.session
        here = (session.row, session.done)
        assert all(place_of(mistake, session.rows) < here for mistake in session.mended)
        assert all(place < here for place in session.missed)
        left = [mistake for mistake, way in session.mended.items() if way == "leave"]
        planned, real = session.piece.rows, session.rows
        assert {row for row in range(len(real)) if real.fabric.rows[row] != planned.fabric.rows[row]} <= {
            mistake.row for mistake in left
        }

    @invariant()
    def a_strand_is_of_one_yarn(self) -> None:
        session = self.session
        for place in session.rows.places():
            before = session.strands.before(place)
            assert before is None or session.rows.segment(before).yarn == session.rows.segment(place).yarn

    def teardown(self) -> None:
        if not hasattr(self, "session"):
            return
        half = len(self.entries) // 2
        versions = dict(self.versions)
        first = replay(versions, self.entries[:half + 1])
        for entry in self.entries[half + 1:]:
            first = apply(first, entry)
        again = replay(versions, [from_json(to_json(entry)) for entry in self.entries])
        for session in (first, again, replay(versions, self.entries, check)):
            assert session.changed(versions=versions) == self.session.changed(versions=versions)
            assert len(list(history(session))) == len(list(history(self.session)))


def history(session: Session) -> list[Session]:
    """The session and all that Back leads to."""
    found, at = [], session
    while at.before is not None:
        found.append(at)
        at = at.before
    return found


AtTheNeedles.TestCase.settings = settings(max_examples=100, stateful_step_count=25, report_multiple_bugs=False)
TestAtTheNeedles = AtTheNeedles.TestCase
