"""What every event changes in a session: state is a pure fold of the journal's entries."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import replace

from companion.knitting.cloth.areas import Cell
from companion.knitting.cloth.rows import Place
from companion.knitting.hands.mistakes import Mistake, place_of, remedy_of
from companion.knitting.piece import Piece
from companion.knitting.strands.strands import Break, Strands
from companion.progress import strand_events
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
    RowEndBegun,
    RowEndDone,
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
from companion.progress.session import Session


def begin(versions: Mapping[int, Piece], entry: Entry) -> Session:
    """The session that a journal's first entry opens.

    Raises:
        ValueError: the entry does not begin a piece.
    """
    match entry:
        case (Planned() as plan, *rest) if plan.version in versions and rest in ([], [Mirrored()]):
            own = {number: piece.for_hands(is_mirrored=bool(rest)) for number, piece in versions.items()}
            rows = own[plan.version].rows
            strands = Strands(rows, plan.whole((), len(rows)), shared=plan.shared)
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
    return session.changed(
        row=event.row, done=event.segment + 1, told=(), acts_done=None, is_begun=False, **more
    )


def _apply(session: Session, event: Event) -> Session:
    match event:
        case Worked():
            return _worked(session, event)
        case RowEndBegun(_, done):
            return session.changed(acts_done=frozenset(done))
        case RowEndDone(_, act):
            return session.changed(acts_done=(session.acts_done or frozenset()) | {act})
        case Cut(_, told):
            return session.changed(cut=session.cut.union(told), told=(*session.told, *told))
        case Broke(row, segment, after, is_spliced):
            return strand_events.broken(session, Break(Place(row, segment), after, is_spliced))
        case RanOut(strand):
            return replace(session, cut=session.cut | {strand}, is_begun=False)
        case JoinedNew(row, segment, strand):
            return strand_events.reassigned(
                strand_events.freed(session, strand, is_new=True), Place(row, segment), strand
            )
        case WentOn(row, segment, strand):
            return strand_events.reassigned(strand_events.freed(session, strand), Place(row, segment), strand)
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
            return replace(session, mended={**session.mended, mistake: remedy_of(way)})
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
        case Planned():
            return strand_events.planned(session, event)
        case Limited():
            return session  # what it changes, the plan that follows it in its entry says
        case _:  # whether a piece is worked mirrored its first entry says, and going back stands first in its own
            raise ValueError(f"{type(event).__name__} stands where it cannot stand")


def at_position(session: Session, row: int, done: int) -> Session:
    """The session at a position below; before a row's first run that is the turn after the row below. What is ripped
    out has no mistakes any more."""
    if done == 0 and row > 0:
        row -= 1
        done = len(session.rows[row].segments)
    if not session.mended and not session.missed:
        return session.changed(row=row, done=done, told=(), acts_done=None, is_begun=False)
    mended = {
        mistake: way for mistake, way in session.mended.items() if place_of(mistake, session.rows) < (row, done)
    }
    missed = frozenset(place for place in session.missed if place < (row, done))
    after = session.changed(
        row=row, done=done, told=(), acts_done=None, is_begun=False, mended=mended, missed=missed
    )
    if mended == session.mended:
        return after
    return replace(after, strands=replace(after.strands, rows=after.as_worked(after.piece)))
