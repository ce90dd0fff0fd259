"""A journal from elsewhere, gone through event by event: each must be one that can have happened there.

What comes from our own file is folded as it is. What somebody else's file says is believed only as far as it agrees
with the piece: no stitch worked out of its turn, no strand that is not there.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping

from companion.knitting.cloth.rows import Place
from companion.knitting.hands.ends import exists, is_end
from companion.knitting.hands.mistakes import REMEDIES
from companion.knitting.hands.row_ends import pressed
from companion.knitting.hands.steps import Cut as CutAct
from companion.knitting.hands.steps import cuts, name_of
from companion.knitting.piece import Piece
from companion.progress.events import (
    BoundOff,
    Broke,
    Cut,
    Entry,
    Event,
    Finished,
    JoinedNew,
    Limited,
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
from companion.progress.finishing import TOLD
from companion.progress.fold import after_events, apply, begin
from companion.progress.repairs import is_worked
from companion.progress.session import Session


def replayed(versions: Mapping[int, Piece], entries: Iterable[Entry]) -> Session:
    """The session after every entry.

    Raises:
        ValueError: an entry cannot have happened; the message names it by its number, from 1, and says why.
    """
    session: Session | None = None
    for number, entry in enumerate(entries, 1):
        try:
            session = _begun(versions, entry) if session is None else _after(session, entry)
        except (ValueError, LookupError) as error:
            raise ValueError(f"step {number}: {error}") from None
    if session is None:
        raise ValueError("there is no step")
    return session


def _begun(versions: Mapping[int, Piece], entry: Entry) -> Session:
    session, plan = begin(versions, entry), entry[0]
    assert isinstance(plan, Planned)  # or it would not have begun
    _check_plan(session.versions, plan)
    return session


def _after(session: Session, entry: Entry) -> Session:
    at = session
    events = entry
    if entry[:1] == (WentBack(),):
        if session.before is None:
            raise ValueError("there is nothing to take back")
        at, events = session.before, entry[1:]
    for event in events:
        told = _amiss(at, event)
        if told:
            raise ValueError(told)
        at = after_events(at, (event,))
    return apply(session, entry)


def _check_plan(versions: Mapping[int, Piece], plan: Planned, session: Session | None = None) -> None:
    if plan.version not in versions:
        raise ValueError("it follows a plan that is not there")
    piece = versions[plan.version]
    rows = session.as_worked(piece) if session else piece.rows
    strand_of = plan.whole(session.strands.strand_of if session else (), len(rows))
    if [len(strands) for strands in strand_of] != [len(row.segments) for row in rows]:
        raise ValueError("its strands are not those of the plan")
    yarns: dict[int, str] = {}
    for place in rows.places():
        strand, yarn = strand_of[place.row][place.segment], rows.segment(place).yarn
        if strand < 1 or yarns.setdefault(strand, yarn) != yarn:
            raise ValueError("a strand is of two yarns")
    if min(plan.limits[:3]) < 0:
        raise ValueError("a limit is below 0")
    for pair in plan.shared:
        for row, segment in pair:
            if not (0 <= row < len(rows) and 0 <= segment < len(rows[row].segments)):
                raise ValueError("a shared start is nowhere")
    if session is not None:
        for row, strands in enumerate(session.past.worked):
            for segment, strand in enumerate(strands):
                place = Place(row, segment)
                if place != session.last_place and strand_of[row][segment] != strand:
                    raise ValueError("what was worked was worked with another strand")


def _amiss(session: Session, event: Event) -> str:
    """Why the event cannot have happened now; "" when it can."""
    if isinstance(event, Planned):
        _check_plan(session.versions, event, session)
        return ""
    return "" if _can_be(session, event) else f"{type(event).__name__} cannot have happened there"


def _can_be(session: Session, event: Event) -> bool:
    rows, strands, following = session.rows, session.strands, session.next_place
    match event:
        case Worked(row, segment, yarn, stitches, strand):
            if following != (row, segment) or session.act is not None:
                return False
            run = rows.segment(Place(row, segment))
            return (run.yarn, run.stitches, strands.at(Place(row, segment))) == (yarn, stitches, strand)
        case RowEndBegun(row, done):
            if row != session.row or not session.is_at_turn or session.acts_done is not None:
                return False
            names = {name_of(act) for act in pressed(strands, row, session.cut)}
            return set(done) < names and "cut" not in done
        case RowEndDone(row, act):
            return row == session.row and session.act is not None and name_of(session.act) == act
        case Cut(row, told):
            return row == session.row and session.is_at_turn and _may_be_cut(session, told)
        case Broke(row, segment, after, _):
            return following == (row, segment) and 0 <= after < rows.segment(Place(row, segment)).stitches
        case RanOut(strand):
            return strand in strands.first
        case JoinedNew(row, segment, strand) | WentOn(row, segment, strand):
            return strand > 0 and (row, segment) in (session.last_place, following)
        case Unpicked(row, segment):
            return session.last_place == (row, segment) and not session.is_bound_off
        case RippedBack(row):
            return -1 <= row < session.row and not session.is_bound_off
        case Noted(row, _):
            return 0 <= row < len(rows)
        case Wove(end):
            is_there = is_end(end, strands) and exists(end, session.row, session.done, strands)
            return is_there and end not in session.woven
        case Unwove(end):
            return end in session.woven
        case Mistook(row, columns, yarn, way):
            known = yarn in {"", *(one.name for one in session.piece.yarns)}
            return known and way in REMEDIES and all(is_worked(session, row, column) for column in columns)
        case MissedCross(row, segment):
            return 0 <= row <= session.row and 0 < segment < len(rows[row].segments)
        case BoundOff():
            return session.is_worked and not session.is_bound_off and session.act is None
        case Sewed(row, column):
            return 0 <= row < len(rows) and 1 <= column <= session.piece.fabric.columns
        case Unsewed(row, column):
            return (row, column) in session.sewn
        case Finished(step):
            return step in TOLD
        case Limited() | Trapping():
            return True
        case _:
            return False


def _may_be_cut(session: Session, told: tuple[int, ...]) -> bool:
    """Whether these strands are cut at the row's end now. The one in hand is cut when it has bound off a part, and
    once more when that was undone and is done again."""
    strands = session.strands
    in_hand = strands.strand_of[session.row][-1:] if not session.rows.following(session.row) else ()
    has_bound_off = told == in_hand and "bind off" in (session.acts_done or ())
    if session.act is not None and not has_bound_off:
        return isinstance(session.act, CutAct) and told == cuts(session.act)
    return strands.first.keys() >= set(told) and session.cut.isdisjoint(set(told).difference(in_hand))
