"""What every event changes in a session: state is a pure fold of the journal's entries."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from dataclasses import replace

from companion.knitting.cloth.areas import Cell
from companion.knitting.cloth.rows import NONE_MEET, Place
from companion.knitting.hands import steps as do
from companion.knitting.hands.mistakes import Mistake, place_of
from companion.knitting.piece import Piece
from companion.knitting.strands.strands import Break, Strands
from companion.progress import events as did
from companion.progress import strand_events
from companion.progress.finishing import SAID
from companion.progress.session import Session


def begin(versions: Mapping[int, Piece], entry: did.Entry) -> Session:
    """The session that a journal's first entry opens.

    Raises:
        ValueError: the entry does not begin a piece.
    """
    match entry:
        case (did.Planned() as plan, *rest) if plan.version in versions and rest in ([], [did.Mirrored()]):
            own = {number: piece.for_hands(is_mirrored=bool(rest)) for number, piece in versions.items()}
            rows = own[plan.version].rows.divided_at(plan.met(NONE_MEET))
            strands = Strands(rows, plan.whole((), len(rows)), shared=plan.shared)
            return Session(own, plan.version, plan.limits, strands)
        case _:
            raise ValueError("the journal does not begin with a plan")


def replay(
    versions: Mapping[int, Piece],
    entries: Iterable[did.Entry],
    check: Callable[[Session, did.Entry], None] = lambda _, __: None,
) -> Session:
    """The session after every entry of a journal. ``check``: raises a ValueError where one cannot follow; our own
    journals are folded as they are.

    Raises:
        ValueError: the journal is empty, does not begin a piece, or goes on with what cannot be; the message names
            the step by its number, from 1.
    """
    session: Session | None = None
    for number, entry in enumerate(entries, 1):
        try:
            if session is None:
                session = begin(versions, entry)
                check(session, entry[:1])
            else:
                check(session, entry)
                session = apply(session, entry)
        except (ValueError, LookupError) as error:
            raise ValueError(f"step {number}: {error}") from None
    if session is None:
        raise ValueError("the journal does not begin with a plan")
    return session


def apply(session: Session, entry: did.Entry) -> Session:
    """The session after one action's events; ``Back`` then leads here again. To follow an edited plan, or a setting,
    is no action: it stays as it is when the action before it is taken back."""
    if len(entry) == 1 and type(entry[0]) is did.Worked:  # nearly all are, and histories may be long
        return _worked(session, entry[0], before=session, last=entry)
    if entry and isinstance(entry[0], did.WentBack):
        return after_events(returned(session), entry[1:])
    after = after_events(session, entry)
    if len(entry) == 1 and isinstance(entry[0], did.Planned | did.Trapping):
        return after.changed(before=session.before, last=session.last)
    return after.changed(before=session, last=entry)


def returned(session: Session) -> Session:
    """The session that the last action found, under the versions of the plan and the settings of now."""
    before = session.before or session
    return before.changed(versions=session.versions, is_trapping=session.is_trapping)


def after_events(session: Session, events: Iterable[did.Event]) -> Session:
    """What the events change, without remembering where they started from."""
    for event in events:
        session = _apply(session, event)
    return session


def _worked(session: Session, event: did.Worked, **more: object) -> Session:
    return session.changed(row=event.row, done=event.segment + 1, told=(), acts_done=None, is_begun=False, **more)


def _apply(session: Session, event: did.Event) -> Session:
    match event:
        case did.Worked():
            return _worked(session, event)
        case did.RowEndBegun(_, done):
            return session.changed(acts_done=frozenset(do.ACTS[act] for act in done))
        case did.RowEndDone(_, act):
            return session.changed(acts_done=(session.acts_done or frozenset()) | {do.ACTS[act]})
        case did.Cut(_, told):
            return session.changed(cut=session.cut.union(told), told=(*session.told, *told))
        case did.Broke(row, segment, after, is_spliced):
            return strand_events.broken(session, Break(Place(row, segment), after, is_spliced))
        case did.RanOut(strand):
            return session.changed(cut=session.cut | {strand}, is_begun=False)
        case did.JoinedNew(row, segment, strand):
            freed = strand_events.freed(session, strand, is_new=True)
            return strand_events.reassigned(freed, Place(row, segment), strand)
        case did.WentOn(row, segment, strand):
            return strand_events.reassigned(strand_events.freed(session, strand), Place(row, segment), strand)
        case did.Unpicked(row, segment):
            return at_position(session, row, segment)
        case did.RippedBack(row):
            return at_position(session, row + 1, 0)
        case did.Noted(row, text):
            notes = {**session.notes, row: text}
            return session.changed(notes={row: text for row, text in notes.items() if text})
        case did.Wove(end):
            return session.changed(woven=session.woven | {end})
        case did.Unwove(end):
            return session.changed(woven=session.woven - {end})
        case did.Trapping(is_on):
            return session.changed(is_trapping=is_on)
        case did.Mistook(row, columns, yarn, way):
            mistake = Mistake(row, columns, yarn)
            return session.changed(mended={**session.mended, mistake: way})
        case did.MissedCross(row, segment):
            return session.changed(missed=session.missed | {Place(row, segment)})
        case did.BoundOff():
            return session.changed(finished=session.finished | {do.BindOff})
        case did.Sewed(row, column):
            return session.changed(sewn=session.sewn | {Cell(row, column)})
        case did.Unsewed(row, column):
            return session.changed(sewn=session.sewn - {Cell(row, column)})
        case did.Finished(step):
            return session.changed(finished=session.finished | {SAID[step]})
        case did.Planned():
            return strand_events.planned(session, event)
        case did.Limited():
            return session  # what it changes, the plan that follows it in its entry says
        case _:  # whether a piece is worked mirrored its first entry says, and going back stands first in its own
            raise ValueError(f"{type(event).__name__} stands where it cannot stand")


def at_position(session: Session, row: int, done: int) -> Session:
    """The session at a position below; before a row's first run that is the turn after the row below. What is ripped
    out has no mistakes any more."""
    if done == 0 and row > 0:
        row -= 1
        done = len(session.rows[row].segments)
    after = session.changed(row=row, done=done, told=(), acts_done=None, is_begun=False)
    if session.missed:
        after = after.changed(missed=frozenset(place for place in session.missed if place < (row, done)))
    gone = [mistake for mistake in session.mended if place_of(mistake, session.rows) >= (row, done)]
    if not gone:
        return after
    after = after.changed(mended={mistake: way for mistake, way in session.mended.items() if mistake not in gone})
    return after.changed(strands=replace(after.strands, rows=after.as_worked(after.piece)))
