"""One piece being knitted, as a value, and what every event changes in it: state is a pure fold of the journal's
entries.

A position between two rows is always "the row before, all segments done" (at the turn), never "no segment of the
next row", except before the first stitch.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, field, replace

from companion.knitting.ends import End
from companion.knitting.limits import Carry
from companion.knitting.piece import Piece
from companion.knitting.rows import Place, Rows
from companion.knitting.strands import Break, Past, StrandOf, Strands
from companion.progress.events import (
    BoundOff,
    Broke,
    Cut,
    Entry,
    Event,
    JoinedNew,
    Mirrored,
    Noted,
    Planned,
    RanOut,
    RippedBack,
    Unpicked,
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
    its strand is settled. ``before`` is the session before the last action (None: nothing can be taken back);
    ``last`` is that action's entry.
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
    before: Session | None = field(default=None, repr=False, compare=False)
    last: Entry = field(default=(), repr=False, compare=False)

    @property
    def piece(self) -> Piece:
        """The piece as the plan in force has it."""
        return self.versions[self.version]

    @property
    def rows(self) -> Rows:
        """The piece in working order."""
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
        return self.cut.difference(self.told)

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
        case (Planned(version, limits, strand_of), *rest) if version in versions and rest in ([], [Mirrored()]):
            own = {number: piece.for_hands(is_mirrored=bool(rest)) for number, piece in versions.items()}
            return Session(own, version, limits, Strands(own[version].rows, strand_of))
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
    """The session after one action's events; ``Back`` then leads here again. To follow an edited plan is no action:
    it stays where it is when the action before it is taken back."""
    if entry[:1] == (WentBack(),):
        before = session.before or session
        after = after_events(replace(before, versions=session.versions), entry[1:])
        return replace(after, before=before.before, last=before.last)
    after = after_events(session, entry)
    match entry:
        case (Planned(),):
            return replace(after, before=session.before, last=session.last)
        case _:
            return replace(after, before=session, last=entry)


def after_events(session: Session, events: Iterable[Event]) -> Session:
    """What the events change, without remembering where they started from."""
    for event in events:
        session = _apply(session, event)
    return session


def _apply(session: Session, event: Event) -> Session:
    match event:
        case Worked(row, segment):
            return replace(session, row=row, done=segment + 1, told=(), is_begun=False)
        case Cut(_, told):
            return replace(session, cut=session.cut.union(told), told=(*session.told, *told))
        case Broke(row, segment, after, is_spliced):
            return _broken(session, Break(Place(row, segment), after, is_spliced))
        case RanOut(strand):
            return replace(session, cut=session.cut | {strand}, is_begun=False)
        case JoinedNew(row, segment, strand):
            return _reassigned(_freed(session, strand, is_new=True), Place(row, segment), strand)
        case WentOn(row, segment, strand):
            return _reassigned(_freed(session, strand), Place(row, segment), strand)
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
        case BoundOff():
            return replace(session, is_bound_off=True)
        case Planned(version, limits, strand_of):
            return _planned(replace(session, version=version, limits=limits), strand_of)
        case Mirrored():
            raise ValueError("whether a piece is worked mirrored stands in a journal's first entry")
        case WentBack():
            raise ValueError("going back stands first in its entry")


def at_position(session: Session, row: int, done: int) -> Session:
    """The session at a position below; before a row's first run that is the turn after the row below."""
    if done == 0 and row > 0:
        row -= 1
        done = len(session.rows[row].segments)
    return replace(session, row=row, done=done, told=(), is_begun=False)


def _broken(session: Session, broken: Break) -> Session:
    """A length ended. What was known of the old length further on is of no account any more, its cut neither, where
    a new one was joined."""
    strands, strand = session.strands, session.strands.at(broken.place)
    if broken.is_spliced:
        kept, cut = strands.breaks, session.cut
    else:
        kept = tuple(b for b in strands.breaks if b < broken or strands.at(b.place) != strand)
        cut = session.cut - {strand}
    strands = replace(strands, breaks=tuple(sorted({*kept, broken})))
    return replace(session, strands=strands, cut=cut, is_begun=broken.place == session.next_place)


def _freed(session: Session, strand: int, *, is_new: bool = False) -> Session:
    """The strand is not cut, and no end of its length is known further on: it was not cut when that was told.
    ``is_new``: the number was that of a strand that is ripped out altogether, splices and all."""
    strands, here = session.strands, (session.row, session.done)
    kept = tuple(
        broken for broken in strands.breaks
        if broken.place < here or strands.at(broken.place) != strand or (broken.is_spliced and not is_new)
    )
    told = tuple(other for other in session.told if other != strand)
    return replace(session, strands=replace(strands, breaks=kept), cut=session.cut - {strand}, told=told)


def _reassigned(session: Session, place: Place, strand: int) -> Session:
    """Another strand works a run. What was cut at this turn as the run's strand was this one, unless it goes on."""
    following = session.next_place
    goes_on = session.is_begun and following is not None and session.strands.at(following) == strand
    if place == session.last_place and session.strands.at(place) in session.told and not goes_on:
        return replace(session, cut=session.cut | {strand}, told=(*session.told, strand))
    return replace(session, is_begun=session.is_begun or place == session.next_place)


def _planned(session: Session, strand_of: StrandOf) -> Session:
    """The session with these strands. Of a strand that was ripped out altogether nothing is kept: its number may
    name another one from now on."""
    old, begun = session.strands, session.next_place
    worked = {n for row in strand_of[:session.row] for n in row}.union(strand_of[session.row][:session.done])
    is_begun = session.is_begun and begun is not None and _is_same(old, strand_of, begun)
    strands = Strands(session.piece.rows, strand_of)
    breaks = sorted(_kept(session, strands, worked))
    return replace(
        session,
        strands=replace(strands, breaks=tuple(breaks)),
        cut=session.cut & worked,
        told=tuple(strand for strand in session.told if strand in worked),
        is_begun=is_begun,
    )


def _kept(session: Session, new: Strands, worked: set[int]) -> Iterator[Break]:
    """What is still so of the lengths: all that lies in what is worked and in the run in work; of what is to come a
    join where its strand works the run as before, and a splice wherever it comes along with its yarn."""
    old, begun = session.strands, session.next_place
    for broken in old.breaks:
        place, strand = broken.place, old.at(broken.place)
        is_same = _is_same(old, new.strand_of, place)
        if place < (session.row, session.done) or (is_same and place == begun):
            yield broken
        elif strand not in worked:
            continue
        elif not broken.is_spliced:
            if is_same:
                yield broken
        else:
            stitches = old.stitches_before(place) + broken.after
            if (found := new.after_stitches(strand, stitches)) is not None:
                yield Break(*found, is_spliced=True)


def _is_same(old: Strands, strand_of: StrandOf, place: Place) -> bool:
    """The same strand works the run as before."""
    return place.row < len(strand_of) and strand_of[place.row][place.segment:place.segment + 1] == (old.at(place),)
