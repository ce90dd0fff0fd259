"""Which event may follow in which state: the one table that deciding, ``allowed`` and the check of pieces from
elsewhere read.

An event has its phases, and whatever else must be so. Why it cannot happen is said in the knitter's words.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from typing import TypeVar

from companion.knitting.cloth.rows import Place, Rows
from companion.knitting.cloth.segments import divided
from companion.knitting.hands import steps as do
from companion.knitting.hands.ends import ends_so_far
from companion.knitting.hands.joins_and_cuts import bound_off_at
from companion.knitting.hands.mistakes import Mistake, laddering, sewing_over, to_sew_over
from companion.knitting.hands.row_ends import pressed
from companion.knitting.value import Record
from companion.knitting.words.places import rows_noun
from companion.progress import events as did
from companion.progress.actions import Refused
from companion.progress.alike import differing_rows, meet_alike
from companion.progress.ends import end_state
from companion.progress.finishing import SAID, next_step
from companion.progress.fold import after_events, returned
from companion.progress.mishaps import at_hand, changes, could_be, is_worked, left_to_sew, newly, others, to_sew
from companion.progress.replanning import so_far
from companion.progress.session import Phase, Session
from companion.progress.typed import row_named

_Event = TypeVar("_Event", bound=did.Event)

_NEVER = "It cannot have happened there."
_TOLD = "That is told already."
_WORKED = "Every row is worked."
_OFF = "The piece is bound off."
_ELSEWHERE = "Only the run worked last and the one in work can be told to be worked otherwise."


class Rule(Record):
    """Events of a kind happen in the phases ``first`` to ``last``; before and after them ``early`` and ``late`` is
    said. ``some``: whether there is anything in them that one could happen to."""

    first: Phase = Phase.NOT_BEGUN
    last: Phase = Phase.BOUND_OFF
    early: str = _NEVER
    late: str = _NEVER
    some: Callable[[Session], bool] = lambda _: True


def why_not(session: Session, event: did.Event) -> str:
    """Why the event cannot happen now; "" when it can."""
    return out_of_time(session, type(event)) or _amiss(session, event)


def out_of_time(session: Session, kind: type[did.Event]) -> str:
    """Why no event of the kind can happen in the phase that the piece is in; "" when one can."""
    rule = RULES[kind]
    return rule.early if session.phase < rule.first else rule.late if session.phase > rule.last else ""


def is_possible(session: Session, kind: type[did.Event]) -> bool:
    """Whether some event of the kind can happen now."""
    return not out_of_time(session, kind) and RULES[kind].some(session)


def lawful(session: Session, event: _Event) -> _Event:
    """The event, which can happen now.

    Raises:
        Refused: it cannot.
    """
    if told := why_not(session, event):
        raise Refused(told)
    return event


def check(session: Session, entry: did.Entry) -> None:
    """Go through an entry of a journal from elsewhere, event by event: it is believed only as far as it agrees with
    the piece, no stitch worked out of its turn, no strand that is not there.

    Raises:
        ValueError: one of its events cannot have happened there; the message says why.
    """
    for event in entry:
        if told := why_not(session, event):
            raise ValueError(f"{type(event).__name__}: {told.removesuffix('.')}")
        session = returned(session) if isinstance(event, did.WentBack) else after_events(session, (event,))


def may_return(session: Session) -> bool:
    """Whether there is something to take back that was worked the same way in the plan as it is now."""
    before = session.before
    if before is None:
        return False
    return not is_planned_since(session) or not differing_rows(
        before.piece.rows.divided_at(before.rows.meetings), session.piece.rows, before.row, before.done
    )


def is_planned_since(session: Session) -> bool:
    """Whether another plan is followed than the one that the last action left: the plan file was edited since."""
    left = session.before or session
    if any(isinstance(event, did.Planned) for event in session.last):
        left = after_events(left, session.last)
    return _plan(session) != _plan(left)


def _plan(session: Session) -> tuple[object, ...]:
    """Which plan is followed, and how."""
    strands = session.strands
    return session.version, session.limits, strands.strand_of, strands.shared, strands.rows.meetings


def _unless(is_so: bool, said: str = _NEVER) -> str:
    return "" if is_so else said


def _amiss(session: Session, event: did.Event) -> str:
    """What keeps an event from happening in its phases."""
    rows, strands, here, following = session.rows, session.strands, (session.row, session.done), session.next_place
    match event:
        case did.Planned():
            return _planned(session, event)
        case did.Limited(limits):
            return _unless(limits != session.limits, "These limits are in force already.")
        case did.Worked(row, segment, yarn, stitches, strand) if following == (row, segment) and session.act is None:
            run = rows.segment(following)
            return _unless((yarn, stitches, strand) == (run.yarn, run.stitches, strands.at(following)))
        case did.RowEndBegun(row, done):
            names = {do.name_of(act) for act in pressed(strands, row, session.cut)} if row == session.row else set()
            return _unless(session.acts_done is None and set(done) < names and "cut" not in done)
        case did.RowEndDone(row, act):
            return _unless(row == session.row and session.act is not None and do.name_of(session.act) == act != "cut")
        case did.Cut(row, gone):
            return _unless(row == session.row and _may_be_cut(session, gone))
        case did.Broke(row, segment, after, _) if following == (row, segment):
            most = rows.segment(following).stitches - 1
            if not 0 <= after <= most:
                return f"Say a number from 0 (before the first stitch) to {most}."
            return _unless(after not in _breaks(session), _TOLD)
        case did.RanOut(strand):
            return _unless(strand in strands.first and strands.first[strand] < here)
        case did.JoinedNew(row, segment, strand) if (row, segment) in at_hand(session):
            place = Place(row, segment)
            if strands.first[strands.at(place)] == place:
                return newly(session, place)
            return _unless(strand > 0 and not any(strand in worked for worked in so_far(session, rows)))
        case did.WentOn(row, segment, strand) if (row, segment) in at_hand(session):
            return _unless(strand in others(session, Place(row, segment)), "No such strand of this yarn hangs there.")
        case did.JoinedNew() | did.WentOn():
            return _ELSEWHERE
        case did.Unpicked(row, segment):
            return _unless(session.last_place == (row, segment))
        case did.RippedBack(row):
            said = f"Say a {rows_noun(rows)} from 0 (the cast-on) to {row_named(session.row, rows)}."
            return _unless(-1 <= row < session.row, said)
        case did.Noted(row, _):
            return _unless(0 <= row < len(rows), f"Say a {rows_noun(rows)} from 1 to {len(rows)}.")
        case did.Wove(end):
            state = end_state(session, end)
            if state == "woven":
                return "This end is woven in already."
            return _unless(state != "not yet", "This end does not exist yet.")
        case did.Unwove(end):
            return _unless(end in session.woven, "This end is not marked as woven in.")
        case did.Trapping(is_on):
            return _unless(is_on != session.is_trapping, "That is so already.")
        case did.Mistook():
            return _mistook(session, event)
        case did.MissedCross(row, segment):
            if Place(row, segment) not in changes(session):
                return "There is no change there that is worked."
            return _unless((row, segment) not in session.missed, _TOLD)
        case did.BoundOff():
            return _unless(session.act is None)
        case did.Sewed(row, column):
            if (row, column) in session.sewn:
                return "This area is sewn on already."
            begins = {area.first for area in to_sew(session)}
            return _unless((row, column) in begins, "No area to be sewn on begins there.")
        case did.Unsewed(row, column):
            return _unless((row, column) in session.sewn, "This area is not marked as sewn on.")
        case did.Finished(step):
            now = next_step(session)
            if now is None:
                return "The piece is finished."
            return _NOT_YET.get(type(now.doing), _unless(type(now.doing) is SAID.get(step)))
        case did.WentBack():
            said = "The plan was edited in the rows that this would bring back."
            return _unless(may_return(session), said if session.before else "There is nothing to take back.")
        case _:
            return _NEVER


def _planned(session: Session, plan: did.Planned) -> str:
    if plan.version not in session.versions:
        return "It follows a plan that is not there."
    piece = session.versions[plan.version]
    if not _can_meet(piece.rows, plan):
        return "Strands meet where no run is."
    rows = session.as_worked(piece, plan.met(session.rows.meetings))
    strand_of = plan.whole(session.strands.strand_of, len(rows))
    if [len(strands) for strands in strand_of] != [len(row.segments) for row in rows]:
        return "Its strands are not those of the plan."
    first = dict[int, Place]()
    for place in rows.places():
        strand = strand_of[place.row][place.segment]
        if strand < 1 or rows.segment(first.setdefault(strand, place)).yarn != rows.segment(place).yarn:
            return "A strand is of two yarns."
    if min(plan.limits[:3]) < 0:
        return "A limit is below 0."
    if not {place for pair in plan.shared for place in pair} <= set(first.values()):
        return "A shared start is nowhere."
    if not meet_alike(session.rows, rows, session.row, session.done):
        return "In what was worked strands met elsewhere."
    for row, strands in enumerate(session.past.worked):
        for segment, strand in enumerate(strands):
            if Place(row, segment) != session.last_place and strand_of[row][segment] != strand:
                return "What was worked was worked with another strand."
    return ""


def _can_meet(undivided: Rows, plan: did.Planned) -> bool:
    """Whether every meeting of a plan lies in one of its rows, inside a run, each gap once."""
    told = range(plan.start, plan.start + len(plan.strand_of))
    for row, gaps in plan.meetings:
        if row not in told or row not in range(len(undivided)) or gaps != tuple(sorted({*gaps})):
            return False
        runs = undivided[row].segments
        if len(tuple(divided(runs, gaps))) != len(runs) + len(gaps) or not gaps:
            return False
    return len(dict(plan.meetings)) == len(plan.meetings)


def _may_be_cut(session: Session, gone: tuple[int, ...]) -> bool:
    """Whether strands are cut at the row's end now: those of its cut, or such as hang and are not needed any more.
    Those that have bound off a part are cut then, and once more when that was undone and is done again."""
    strands, here = session.strands, (session.row, session.done)
    off = bound_off_at(strands, session.row)
    in_hand = do.cuts(off) if off else ()
    if session.act is not None and (gone != in_hand or do.BindOff not in (session.acts_done or ())):
        return isinstance(session.act, do.Cut) and gone == do.cuts(session.act)
    are_idle = all(one in strands.last and strands.last[one] < here for one in gone)
    return are_idle and 0 < len(gone) == len(set(gone)) and session.cut.isdisjoint({*gone}.difference(in_hand))


def _breaks(session: Session) -> set[int]:
    """After which of its stitches a length was told to end in the run in work."""
    return {broken.after for broken in session.strands.breaks if broken.place == session.next_place}


def _can_break(session: Session) -> bool:
    place = session.next_place
    return place is not None and len(_breaks(session)) < session.rows.segment(place).stitches


def _can_join(session: Session) -> bool:
    strands = session.strands
    return any(strands.first[strands.at(place)] != place for place in at_hand(session))


def _mistook(session: Session, event: did.Mistook) -> str:
    mistake, way, columns = Mistake(event.row, event.columns, event.yarn), event.way, event.columns
    if not columns or not all(is_worked(session, event.row, column) for column in columns):
        return "Only stitches that are worked can be marked as wrong."
    if columns != tuple(sorted(set(columns))):
        return "A stitch is marked once, from the right edge."
    if event.yarn and event.yarn not in {yarn.name for yarn in session.piece.yarns}:
        return "The plan has no yarn of that name."
    if any(area.yarn == event.yarn for area in to_sew_over(mistake, session.piece.rows)):
        return "That is the yarn the plan has there."
    if mistake in session.mended:
        return _TOLD
    if session.is_bound_off and way in ("ladder", "rip"):
        return _OFF
    if way == "sew" and sewing_over(mistake).why_not:
        return "It cannot be sewn over."
    if way == "ladder" and laddering(mistake, session.strands, session.row, session.done).why_not:
        return "Its columns cannot be dropped."
    return ""


_NOT_YET: Mapping[type[do.Finishing], str] = {
    do.WeaveIn: "There are ends to weave in yet.",
    do.SewOn: "There is something to sew on yet.",
    do.WeaveAtSeams: "There are ends at the seams to weave in yet.",
}
"""What keeps a step of finishing from being done."""


def _can_finish(session: Session) -> bool:
    step = next_step(session)
    return step is not None and type(step.doing) in SAID.values()


_IN_ROW, _ROW_END, _ALL_WORKED = Phase.IN_ROW, Phase.AT_ROW_END, Phase.WORKED

RULES: Mapping[type[did.Event], Rule] = {
    did.Planned: Rule(),
    did.Mirrored: Rule(),
    did.Limited: Rule(last=_ROW_END, late=_WORKED),
    did.Worked: Rule(last=_ROW_END, late=_WORKED),
    did.RowEndBegun: Rule(_ROW_END, _ALL_WORKED),
    did.RowEndDone: Rule(_ROW_END, _ALL_WORKED, some=lambda session: session.act is not None),
    did.Cut: Rule(_ROW_END, _ALL_WORKED),
    did.Broke: Rule(last=_ROW_END, late=_WORKED, some=_can_break),
    did.RanOut: Rule(_IN_ROW),
    did.JoinedNew: Rule(last=_ALL_WORKED, late=_ELSEWHERE, some=_can_join),
    did.WentOn: Rule(
        last=_ALL_WORKED, late=_ELSEWHERE,
        some=lambda session: any(True for place in at_hand(session) for _ in could_be(session, place)),
    ),
    did.Unpicked: Rule(_IN_ROW, _ALL_WORKED, "There is nothing to unpick.", _OFF),
    did.RippedBack: Rule(_IN_ROW, _ALL_WORKED, "There is nothing to rip back.", _OFF),
    did.Noted: Rule(),
    did.Wove: Rule(some=lambda session: len(session.woven) < ends_so_far(session.strands, session.row, session.done)),
    did.Unwove: Rule(some=lambda session: bool(session.woven)),
    did.Trapping: Rule(),
    did.Mistook: Rule(_IN_ROW, early="Only stitches that are worked can be marked as wrong."),
    did.MissedCross: Rule(some=lambda session: any(place not in session.missed for place in changes(session))),
    did.BoundOff: Rule(_ALL_WORKED, _ALL_WORKED, "There are rows to work yet.", _OFF),
    did.Sewed: Rule(
        Phase.BOUND_OFF, early="Areas are sewn on when the piece is bound off.",
        some=lambda session: bool(left_to_sew(session)),
    ),
    did.Unsewed: Rule(some=lambda session: bool(session.sewn)),
    did.Finished: Rule(Phase.BOUND_OFF, early="The piece is not bound off yet.", some=_can_finish),
    did.WentBack: Rule(some=may_return),
}  # fmt: skip
