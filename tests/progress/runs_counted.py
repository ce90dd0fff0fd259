"""A second bookkeeping of a session, which only counts runs from the first stitch, and what is to be done at every
row's end; and whether a session agrees with it.
"""

from __future__ import annotations

from dataclasses import dataclass, field, replace

from companion.knitting.cloth.rows import Place
from companion.knitting.hands.ends import ends_of
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
    Finish,
    Note,
    On,
    RipBack,
    Unpick,
    Unweave,
    Weave,
    WholeRow,
)
from companion.progress.ends import all_ends, ready_ends
from companion.progress.events import Entry, Planned
from companion.progress.finishing import phase_of
from companion.progress.fold import begin
from companion.progress.session import Phase, Session
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

    def _undone(self, row: int) -> frozenset[str] | None:
        """What counts as done at the end of row ``row``, from 1, after ripping back to it: where a part is gone back
        into, or out of, what is done with parts there is to be done again; elsewhere nothing is (None)."""
        acts = set(self.ends_of_rows.acts(row - 1, self.now.cut)) if row else set()
        return frozenset(acts - HEAVY) if acts & {"bind off", "divide", "take up", "join parts"} else None

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
                return replace(now, worked=now.worked[: self.upto(row)], done=self._undone(row)) if fits else None
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
    book = Book(drawn_rows(strands.rows), runs, piece.cast_on.is_each)
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
