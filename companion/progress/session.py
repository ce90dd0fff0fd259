"""One piece being knitted, as a value. ``decide`` says what an action makes happen, ``apply`` what that changes.

State is a pure fold of the journal's entries. An illegal action raises ``Refused`` and changes nothing. A
position between two rows is always "the row before, all segments done" (at the turn), never "no segment of the
next row", except before the first stitch.
"""

from __future__ import annotations

from bisect import bisect_left, bisect_right
from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass, field, replace
from typing import Any

from companion.knitting.ends import End, EndState, ends_of, exists, rows_above, rows_until_ready
from companion.knitting.limits import Carry
from companion.knitting.piece import Piece
from companion.knitting.rows import Place, Rows
from companion.knitting.strands import Past, Strands, plan_strands
from companion.progress.alike import differing_rows, fits
from companion.progress.events import (
    BoundOff,
    Cut,
    Entry,
    Event,
    Mirrored,
    Noted,
    Planned,
    RippedBack,
    Unpicked,
    Unwove,
    WentBack,
    Worked,
    Wove,
)


class Refused(Exception):
    """An action that is not possible now; the message says why, in the knitter's words."""


@dataclass(frozen=True, slots=True)
class On:
    """The run is done."""


@dataclass(frozen=True, slots=True)
class WholeRow:
    """Every run to the end of the row is done; at the turn, the whole next row."""


@dataclass(frozen=True, slots=True)
class Back:
    """Take back the last action, whatever it was."""


@dataclass(frozen=True, slots=True)
class Unpick:
    """The last run is undone on the needles."""


@dataclass(frozen=True, slots=True)
class RipBack:
    """Rows are undone on the needles until row number ``row`` is the last whole one (0 = the cast-on is left)."""

    row: int


@dataclass(frozen=True, slots=True)
class AtRow:
    """The knitter is at the start of row number ``row``: everything before was worked as planned."""

    row: int


@dataclass(frozen=True, slots=True)
class Note:
    """Words about row number ``row``; "" takes them away."""

    row: int
    text: str


@dataclass(frozen=True, slots=True)
class Weave:
    """An end is woven in."""

    end: End


@dataclass(frozen=True, slots=True)
class Unweave:
    """An end marked as woven in is not."""

    end: End


@dataclass(frozen=True, slots=True)
class BindOff:
    """All stitches are bound off."""


Action = On | WholeRow | Back | Unpick | RipBack | AtRow | Note | Weave | Unweave | BindOff


@dataclass(frozen=True)
class Session:
    """Where the knitter is. ``row`` and ``done``: ``done`` segments of row ``row`` (from 0) are worked.

    ``versions`` are the piece as every version of its plan has it, by number. ``before`` is the session before
    the last action (None: nothing can be taken back); ``last`` is that action's entry.
    """

    versions: Mapping[int, Piece]
    version: int
    limits: Carry
    strands: Strands
    row: int = 0
    done: int = 0
    cut: frozenset[int] = frozenset()
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


def decide(session: Session, action: Action) -> Entry:
    """The events that an action makes happen. Changes nothing.

    Raises:
        Refused: the action is not possible now.
    """
    deciding: Callable[[Session, Any], Entry] = _DECIDE[type(action)]
    return deciding(session, action)


def allowed(session: Session) -> frozenset[type[Action]]:
    """The kinds of action that are possible now; key bindings, help and commands follow this alike."""
    possible: set[type[Action]] = {Note}
    if len(session.woven) < _ends_so_far(session):
        possible.add(Weave)
    if session.woven:
        possible.add(Unweave)
    if session.before is not None and _may_return(session, session.before):
        possible.add(Back)
    if not session.is_worked:
        possible |= {On, WholeRow, AtRow}
    elif not session.is_bound_off:
        possible.add(BindOff)
    if session.done and not session.is_bound_off:
        possible |= {Unpick, RipBack}
    return frozenset(possible)


def _ends_so_far(session: Session) -> int:
    """How many ends hang at the fabric now, woven ones included."""
    strands = session.strands
    begun = [Place(session.row, segment) for segment in range(session.done)]
    here = sum(strands.first[strands.at(place)] == place for place in begun)
    if session.is_at_turn:
        here += sum(strands.last[strands.at(place)] == place for place in begun)
    return bisect_left(strands.end_rows, session.row) + here


def apply(session: Session, entry: Entry) -> Session:
    """The session after one action's events; ``Back`` then leads here again. To follow an edited plan is no action:
    it stays where it is when the action before it is taken back."""
    if entry[:1] == (WentBack(),):
        before = session.before or session
        after = _after(replace(before, versions=session.versions), entry[1:])
        return replace(after, before=before.before, last=before.last)
    after = _after(session, entry)
    match entry:
        case (Planned(),):
            return replace(after, before=session.before, last=session.last)
        case _:
            return replace(after, before=session, last=entry)


def _after(session: Session, events: Iterable[Event]) -> Session:
    for event in events:
        session = _apply(session, event)
    return session


def _apply(session: Session, event: Event) -> Session:
    match event:
        case Worked(row, segment):
            return replace(session, row=row, done=segment + 1)
        case Cut(_, told):
            return replace(session, cut=session.cut.union(told))
        case Unpicked(row, segment):
            return _at(session, row, segment)
        case RippedBack(row):
            return _at(session, row + 1, 0)
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
            strands = Strands(session.versions[version].rows, strand_of)
            # The number of a strand that was cut and then ripped out may name another strand from now on.
            cut = session.cut.intersection(n for row in session.past.worked for n in row)
            return replace(session, version=version, limits=limits, strands=strands, cut=cut)
        case Mirrored():
            raise ValueError("whether a piece is worked mirrored stands in a journal's first entry")
        case WentBack():
            raise ValueError("going back stands first in its entry")


def _at(session: Session, row: int, done: int) -> Session:
    """The session at a position; before a row's first run that is the turn after the row below."""
    if done == 0 and row > 0:
        row -= 1
        done = len(session.rows[row].segments)
    return replace(session, row=row, done=done)


def _on(session: Session, _: On) -> Entry:
    place = session.next_place
    if place is None:
        raise Refused("Every row is worked.")
    return _worked(session, place)


def _worked(session: Session, place: Place) -> Entry:
    """The events of one run worked, with the cuts at the turn after it when it is the row's last."""
    segment = session.rows.segment(place)
    worked = Worked(place.row, place.segment, segment.yarn, segment.stitches, session.strands.at(place))
    if place.segment + 1 < len(session.rows[place.row].segments):
        return (worked,)
    cuts = tuple(strand for strand in cuts_after(session, place.row) if strand not in session.cut)
    return (worked, Cut(place.row, cuts)) if cuts else (worked,)


def cuts_after(session: Session, row: int) -> tuple[int, ...]:
    """The strands that are not needed after a row, in the order in which they hang."""
    strands = session.strands
    return tuple(
        strand for segment, strand in enumerate(strands.strand_of[row]) if strands.last[strand] == (row, segment)
    )


def _row_worked(session: Session, row: int, start: int) -> Entry:
    segments = range(start, len(session.rows[row].segments))
    return tuple(event for segment in segments for event in _worked(session, Place(row, segment)))


def _whole_row(session: Session, _: WholeRow) -> Entry:
    place = session.next_place
    if place is None:
        raise Refused("Every row is worked.")
    return _row_worked(session, place.row, place.segment)


def _at_row(session: Session, action: AtRow) -> Entry:
    place = session.next_place
    if place is None:
        raise Refused("Every row is worked.")
    if not place.row + 1 < action.row <= len(session.rows) + 1:
        last = len(session.rows) + 1
        span = f"a row from {place.row + 2} to {last}" if place.row + 2 < last else f"row {last}"
        raise Refused(f"Say {span} ({last}: every row is worked); to go down, rip back.")
    events = list(_row_worked(session, place.row, place.segment))
    for row in range(place.row + 1, action.row - 1):
        events += _row_worked(session, row, 0)
    return tuple(events)


def _back(session: Session, _: Back) -> Entry:
    before = session.before
    if before is None:
        raise Refused("There is nothing to take back.")
    if before.strands is session.strands:
        return (WentBack(),)
    if not _may_return(session, before):
        raise Refused("The plan was edited in the rows that this would bring back.")
    strand_of = session.strands.strand_of
    if not fits(session.strands, before.past):
        strand_of = plan_strands(session.rows, session.limits, before.past).strands.strand_of
    return (WentBack(), Planned(session.version, session.limits, strand_of))


def _may_return(session: Session, before: Session) -> bool:
    """Whether what was worked then is worked the same way in the plan as it is now."""
    if before.strands is session.strands:
        return True
    return not differing_rows(before.rows, session.rows, before.row, before.done)


def _unpick(session: Session, _: Unpick) -> Entry:
    place = session.last_place
    if place is None or session.is_bound_off:
        raise Refused("There is nothing to unpick." if place is None else "The piece is bound off.")
    after = _at(session, place.row, place.segment)
    return (Unpicked(place.row, place.segment), *_lost(session, after))


def _rip_back(session: Session, action: RipBack) -> Entry:
    if session.is_bound_off:
        raise Refused("The piece is bound off.")
    if not 0 <= action.row <= session.row or (action.row, session.done) == (0, 0):
        raise Refused(
            f"Say a row from 0 (the cast-on) to {session.row}." if session.done else "There is nothing to rip back."
        )
    after = _at(session, action.row, 0)
    return (RippedBack(action.row - 1), *_lost(session, after))


@dataclass(frozen=True, slots=True)
class Undone:
    """What ripping back would undo: rows begun, stitches and woven ends; what is on the needle after it."""

    rows: int
    stitches: int
    on_needle: int
    woven: int


def would_rip(session: Session, row: int) -> Undone:
    """What ripping back until row number ``row`` is the last whole one would undo. Changes nothing.

    Raises:
        Refused: it is not possible.
    """
    lost = _rip_back(session, RipBack(row))[1:]
    begun = session.rows[session.row].segments[:session.done]
    whole = sum(session.rows[index].stitches for index in range(row, session.row))
    on_needle = session.rows[row - 1].stitches if row else session.rows[0].stitches
    return Undone(session.row + 1 - row, whole + sum(s.stitches for s in begun), on_needle, len(lost))


def _lost(session: Session, after: Session) -> Entry:
    """Woven ends that do not exist any more at the position after."""
    gone = (end for end in sorted(session.woven) if not exists(end, after.row, after.done, after.strands))
    return tuple(Unwove(end) for end in gone)


def _note(session: Session, action: Note) -> Entry:
    if not 1 <= action.row <= len(session.rows):
        raise Refused(f"Say a row from 1 to {len(session.rows)}.")
    return (Noted(action.row - 1, action.text.strip()),)


def _weave(session: Session, action: Weave) -> Entry:
    state = end_state(session, action.end)
    if state == "woven":
        raise Refused("This end is woven in already.")
    if state == "not yet":
        raise Refused("This end does not exist yet.")
    return (Wove(action.end),)


def _unweave(session: Session, action: Unweave) -> Entry:
    if action.end not in session.woven:
        raise Refused("This end is not marked as woven in.")
    return (Unwove(action.end),)


def _bind_off(session: Session, _: BindOff) -> Entry:
    if not session.is_worked or session.is_bound_off:
        raise Refused("The piece is bound off." if session.is_bound_off else "There are rows to work yet.")
    return (BoundOff(),)


_DECIDE: dict[type[Action], Callable[[Session, Any], Entry]] = {
    On: _on,
    WholeRow: _whole_row,
    AtRow: _at_row,
    Back: _back,
    Unpick: _unpick,
    RipBack: _rip_back,
    Note: _note,
    Weave: _weave,
    Unweave: _unweave,
    BindOff: _bind_off,
}


def end_state(session: Session, end: End) -> EndState:
    """What can be done with an end now. Once the piece is bound off, every end that is not woven is ready."""
    if end in session.woven:
        return "woven"
    if not exists(end, session.row, session.done, session.strands):
        return "not yet"
    above = rows_above(end, session.row, session.done, session.strands)
    return "ready" if session.is_bound_off or above >= rows_until_ready(session.piece.gauge) else "too fresh"


def all_ends(session: Session) -> tuple[tuple[End, EndState], ...]:
    """Every end the piece will have, with its state now."""
    return tuple((end, end_state(session, end)) for end in ends_of(session.strands))


def ready_ends(session: Session) -> int:
    """How many ends are ready to be woven in."""
    newest = session.rows_done - 1 - rows_until_ready(session.piece.gauge)
    if session.is_bound_off:
        newest = len(session.rows)
    old_enough = bisect_right(session.strands.end_rows, newest)
    return old_enough - sum(end.place.row <= newest for end in session.woven)


def is_finished(session: Session) -> bool:
    """Bound off and every end woven in."""
    return session.is_bound_off and all(state == "woven" for _, state in all_ends(session))
