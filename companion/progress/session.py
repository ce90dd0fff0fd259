"""One piece being knitted, as a value, and what every event changes in it: state is a pure fold of the journal's
entries.

A position between two rows is always "the row before, all segments done" (at the turn), never "no segment of the
next row", except before the first stitch.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field, replace

from companion.knitting.cloth.areas import Cell
from companion.knitting.cloth.rows import Place, Rows
from companion.knitting.hands.ends import End
from companion.knitting.hands.mistakes import Mistake, Way, as_worked, place_of, way_of
from companion.knitting.piece import Piece
from companion.knitting.strands.floats import Catching
from companion.knitting.strands.limits import Carry
from companion.knitting.strands.strands import Break, Past, Strands
from companion.progress import lengths
from companion.progress.events import (
    BoundOff,
    Broke,
    Cut,
    Entry,
    Event,
    Finished,
    JoinedNew,
    Limited,
    Mirrored,
    MissedCross,
    Mistook,
    Noted,
    Planned,
    RanOut,
    RippedBack,
    Sewed,
    Trapping,
    Unpicked,
    Unsewed,
    Unwove,
    WentBack,
    WentOn,
    Worked,
    Wove,
)


@dataclass(frozen=True)
class Session:
    """Where the knitter is. ``row`` and ``done``: ``done`` segments of row ``row`` (from 0) are worked.

    ``versions`` are the piece as every version of its plan has it, by number. ``cut`` are the strands told to be cut
    so far, and those that ended: a length that is ripped out below its cut reaches only to there again. ``told`` are
    those of them told at the turn where the knitter is now. ``is_begun``: something was told of the run in work, so
    its strand is settled. ``is_trapping``: tails are laid in while knitting. ``mended``: the mistakes in what is
    worked, each with what is done about it; ``missed``: the runs before which no cross was made; ``sewn``: the areas
    that are sewn on, by the cell where each begins. ``before`` is the session before the last action (None: nothing
    can be taken back); ``last`` is that action's entry.
    """

    versions: Mapping[int, Piece]
    version: int
    limits: Carry
    strands: Strands
    row: int = 0
    done: int = 0
    cut: frozenset[int] = frozenset()
    told: tuple[int, ...] = ()
    is_begun: bool = False
    woven: frozenset[End] = frozenset()
    notes: Mapping[int, str] = field(default_factory=dict)
    is_bound_off: bool = False
    is_trapping: bool = False
    mended: Mapping[Mistake, Way] = field(default_factory=dict)
    missed: frozenset[Place] = frozenset()
    sewn: frozenset[Cell] = frozenset()
    finished: frozenset[str] = frozenset()
    before: Session | None = field(default=None, repr=False, compare=False)
    last: Entry = field(default=(), repr=False, compare=False)

    def changed(self, **what: object) -> Session:
        """The session with these fields changed: ``dataclasses.replace`` ten times as fast, for histories of tens of
        thousands of steps."""
        made = object.__new__(Session)
        object.__setattr__(made, "__dict__", self.__dict__ | what)
        return made

    @property
    def piece(self) -> Piece:
        """The piece as the plan in force has it."""
        return self.versions[self.version]

    def piece_under(self, limits: Carry) -> Piece:
        """The piece with these limits in place of its plan's."""
        return replace(self.piece, carry=limits)

    def as_worked(self, piece: Piece) -> Rows:
        """The rows of a piece with the mistakes that are left in them."""
        return as_worked(piece.rows, (mistake for mistake, way in self.mended.items() if way == "leave"))

    @property
    def catching(self) -> Catching:
        """What is done to floats and tails on the way."""
        return self.piece.catching._replace(is_trapping=self.is_trapping)

    @property
    def rows(self) -> Rows:
        """The piece in working order, with the mistakes that are left in it."""
        return self.strands.rows

    @property
    def is_at_turn(self) -> bool:
        """The row is done: the next stitch belongs to the next row, or the piece is at its end."""
        return self.done == len(self.rows[self.row].segments)

    @property
    def rows_done(self) -> int:
        """How many rows are whole."""
        return self.row + self.is_at_turn

    @property
    def is_worked(self) -> bool:
        """Every row is worked; what is left is to bind off and finish."""
        return self.rows_done == len(self.rows)

    @property
    def next_place(self) -> Place | None:
        """The run to be worked now; None when every row is worked."""
        if self.is_worked:
            return None
        return Place(self.row + 1, 0) if self.is_at_turn else Place(self.row, self.done)

    @property
    def last_place(self) -> Place | None:
        """The run worked last; None before the first stitch."""
        return Place(self.row, self.done - 1) if self.done else None

    @property
    def ends_left(self) -> int:
        """How many ends the whole piece still has to weave in, those to come included."""
        return len(self.strands.end_rows) - len(self.woven)

    @property
    def cut_before(self) -> frozenset[int]:
        """The strands that were cut before this turn: of them nothing is to be told here."""
        return self.cut.difference(self.told) if self.told else self.cut

    @property
    def past(self) -> Past:
        """What was really worked, for planning what is still to come."""
        whole = self.strands.strand_of[:self.row]
        begun = (self.strands.strand_of[self.row][:self.done],) if self.done else ()
        return Past(whole + begun, self.cut)


def begin(versions: Mapping[int, Piece], entry: Entry) -> Session:
    """The session that a journal's first entry opens.

    Raises:
        ValueError: the entry does not begin a piece.
    """
    match entry:
        case (Planned() as plan, *rest) if plan.version in versions and rest in ([], [Mirrored()]):
            own = {number: piece.for_hands(is_mirrored=bool(rest)) for number, piece in versions.items()}
            strands = Strands(own[plan.version].rows, plan.strand_of, shared=plan.shared)
            return Session(own, plan.version, plan.limits, strands)
        case _:
            raise ValueError("the journal does not begin with a plan")


def replay(versions: Mapping[int, Piece], entries: Iterable[Entry]) -> Session:
    """The session after every entry of a journal.

    Raises:
        ValueError: the journal is empty or does not begin a piece.
    """
    entries = iter(entries)
    session = begin(versions, next(entries, ()))
    for entry in entries:
        session = apply(session, entry)
    return session


def apply(session: Session, entry: Entry) -> Session:
    """The session after one action's events; ``Back`` then leads here again. To follow an edited plan, or a setting,
    is no action: it stays as it is when the action before it is taken back."""
    if len(entry) == 1 and type(entry[0]) is Worked:  # nearly all are, and histories may be long
        return _worked(session, entry[0], before=session, last=entry)
    if entry and isinstance(entry[0], WentBack):
        before = session.before or session
        kept = before.changed(versions=session.versions, is_trapping=session.is_trapping)
        after = after_events(kept, entry[1:])
        return after.changed(before=before.before, last=before.last)
    after = after_events(session, entry)
    if len(entry) == 1 and isinstance(entry[0], Planned | Trapping):
        return after.changed(before=session.before, last=session.last)
    if after is session:
        return session.changed(before=session, last=entry)
    after.__dict__.update(before=session, last=entry)  # it was made just now, and nobody else has it yet
    return after


def after_events(session: Session, events: Iterable[Event]) -> Session:
    """What the events change, without remembering where they started from."""
    for event in events:
        session = _apply(session, event)
    return session


def _worked(session: Session, event: Worked, **more: object) -> Session:
    return session.changed(row=event.row, done=event.segment + 1, told=(), is_begun=False, **more)


def _apply(session: Session, event: Event) -> Session:
    match event:
        case Worked():
            return _worked(session, event)
        case Cut(_, told):
            return session.changed(cut=session.cut.union(told), told=(*session.told, *told))
        case Broke(row, segment, after, is_spliced):
            return lengths.broken(session, Break(Place(row, segment), after, is_spliced))
        case RanOut(strand):
            return replace(session, cut=session.cut | {strand}, is_begun=False)
        case JoinedNew(row, segment, strand):
            return lengths.reassigned(lengths.freed(session, strand, is_new=True), Place(row, segment), strand)
        case WentOn(row, segment, strand):
            return lengths.reassigned(lengths.freed(session, strand), Place(row, segment), strand)
        case Unpicked(row, segment):
            return at_position(session, row, segment)
        case RippedBack(row):
            return at_position(session, row + 1, 0)
        case Noted(row, text):
            notes = {**session.notes, row: text}
            return replace(session, notes={row: text for row, text in notes.items() if text})
        case Wove(end):
            return replace(session, woven=session.woven | {end})
        case Unwove(end):
            return replace(session, woven=session.woven - {end})
        case Trapping(is_on):
            return replace(session, is_trapping=is_on)
        case Mistook(row, columns, yarn, way):
            mistake = Mistake(row, columns, yarn)
            return replace(session, mended={**session.mended, mistake: way_of(way)})
        case MissedCross(row, segment):
            return replace(session, missed=session.missed | {Place(row, segment)})
        case BoundOff():
            return replace(session, is_bound_off=True)
        case Sewed(row, column):
            return replace(session, sewn=session.sewn | {Cell(row, column)})
        case Unsewed(row, column):
            return replace(session, sewn=session.sewn - {Cell(row, column)})
        case Finished(step):
            return replace(session, finished=session.finished | {step})
        case Planned(version, limits, strand_of, shared):
            return lengths.planned(replace(session, version=version, limits=limits), strand_of, shared)
        case Limited():
            return session  # what it changes, the plan that follows it in its entry says
        case Mirrored():
            raise ValueError("whether a piece is worked mirrored stands in a journal's first entry")
        case WentBack():
            raise ValueError("going back stands first in its entry")


def at_position(session: Session, row: int, done: int) -> Session:
    """The session at a position below; before a row's first run that is the turn after the row below. What is ripped
    out has no mistakes any more."""
    if done == 0 and row > 0:
        row -= 1
        done = len(session.rows[row].segments)
    if not session.mended and not session.missed:
        return session.changed(row=row, done=done, told=(), is_begun=False)
    mended = {
        mistake: way for mistake, way in session.mended.items() if place_of(mistake, session.rows) < (row, done)
    }
    missed = frozenset(place for place in session.missed if place < (row, done))
    after = session.changed(row=row, done=done, told=(), is_begun=False, mended=mended, missed=missed)
    if mended == session.mended:
        return after
    return replace(after, strands=replace(after.strands, rows=after.as_worked(after.piece)))
