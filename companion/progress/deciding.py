"""What an action makes happen, and which actions are possible. Nothing here changes a session: ``apply`` does.

An illegal action raises ``Refused``, in the knitter's words.
"""

from __future__ import annotations

from bisect import bisect_left
from collections.abc import Callable, Iterable, Iterator
from typing import Any, NamedTuple

from companion.knitting.cloth.rows import Place
from companion.knitting.hands.row_ends import LIGHT, idle, pressed
from companion.knitting.hands.steps import AtEnd, cuts, name_of
from companion.knitting.hands.steps import Cut as CutAct
from companion.knitting.hands.trapping import traps
from companion.knitting.strands.strands import Past
from companion.progress import actions, mishaps, repairs
from companion.progress.actions import (
    Action,
    AtRow,
    Back,
    Finish,
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
from companion.progress.alike import differing_rows, fits
from companion.progress.ends import end_state
from companion.progress.events import (
    BoundOff,
    Cut,
    Entry,
    Event,
    Finished,
    Limited,
    Noted,
    Planned,
    RanOut,
    RippedBack,
    RowEndBegun,
    RowEndDone,
    Trapping,
    Unpicked,
    Unwove,
    WentBack,
    Worked,
    Wove,
)
from companion.progress.finishing import TOLD, next_step
from companion.progress.fold import after_events
from companion.progress.replanning import planned, reaches, so_far
from companion.progress.session import Session
from companion.progress.typed import row_named


def decide(session: Session, action: Action) -> Entry:
    """The events that an action makes happen. Changes nothing.

    Raises:
        Refused: the action is not possible now.
    """
    deciding: Callable[[Session, Any], Entry] = _DECIDE[type(action)]
    return deciding(session, action)


def allowed(session: Session) -> frozenset[type[Action]]:
    """The kinds of action that are possible now; key bindings, help and commands follow this alike."""
    possible: set[type[Action]] = {Note, TrapTails}
    if len(session.woven) < _ends_so_far(session):
        possible.add(Weave)
    if session.woven:
        possible.add(Unweave)
    if session.before is not None and _may_return(session, session.before):
        possible.add(Back)
    if session.act is not None:
        possible |= {On, WholeRow, AtRow}
    if not session.is_worked:
        possible |= {On, WholeRow, AtRow, Replan}
    elif not session.is_bound_off:
        possible.add(actions.BindOff)
    elif (step := next_step(session)) is not None and step.step in TOLD:
        possible.add(Finish)
    if session.done and not session.is_bound_off:
        possible |= {Unpick, RipBack}
    return frozenset(possible | mishaps.allowed(session) | repairs.allowed(session))


def _ends_so_far(session: Session) -> int:
    """How many ends hang at the fabric now, woven ones included."""
    strands = session.strands
    begun = [Place(session.row, segment) for segment in range(session.done)]
    here = sum(strands.first[strands.at(place)] == place and place not in strands.other_half for place in begun)
    here += 2 * sum(broken.place in begun for broken in strands.renewed)
    if session.is_at_turn:
        here += sum(strands.last[strands.at(place)] == place for place in begun)
    if begun and session.row == 0:
        here += strands.cast_on_ends
    return bisect_left(strands.end_rows, session.row) + here


def _on(session: Session, _: On) -> Entry:
    if session.act is not None:
        return tuple(_acts(session, [session.act]))
    place = session.next_place
    if place is None:
        raise Refused("Every row is worked.")
    return (*_worked(session, [place]), *_row_end_begun(session, place))


def _acts(session: Session, acts: Iterable[AtEnd]) -> Iterator[Event]:
    """The events of acts of a row's end."""
    for act in acts:
        if not isinstance(act, CutAct):
            yield RowEndDone(session.row, name_of(act))
        if strands := cuts(act):
            yield Cut(session.row, strands)


def _row_end_begun(session: Session, place: Place, *, is_whole: bool = False) -> Iterator[Event]:
    """After the last run of a row: that acts of its end are to be done. ``is_whole``: the row is worked at once, and
    with it all that does not cut, bind off, divide or join."""
    if place.segment + 1 < len(session.rows[place.row].segments):
        return
    acts = pressed(session.strands, place.row, session.cut)
    if acts and not (is_whole and all(isinstance(act, LIGHT) for act in acts)):
        yield RowEndBegun(place.row)


def _worked(session: Session, places: Iterable[Place], *, is_past: bool = False) -> Iterator[Event]:
    """The events of runs worked one after the other. ``is_past``: so are all ends of rows they lead to, with what is
    cut there."""
    cut = session.cut
    for place in places:
        segment = session.rows.segment(place)
        yield Worked(place.row, place.segment, segment.yarn, segment.stitches, session.strands.at(place))
        for trap in traps(session.strands, place) if session.is_trapping else ():
            if trap.end not in session.woven:
                yield Wove(trap.end)
        if is_past and place.segment + 1 == len(session.rows[place.row].segments):
            acts = pressed(session.strands, place.row, cut)
            if strands := tuple(strand for act in acts for strand in cuts(act)):
                cut = cut.union(strands)
                yield Cut(place.row, strands)


def _rest_of_row(session: Session, place: Place) -> list[Place]:
    return [Place(place.row, segment) for segment in range(place.segment, len(session.rows[place.row].segments))]


def _whole_row(session: Session, _: WholeRow) -> Entry:
    if session.act is not None:
        return tuple(_acts(session, [session.act]))
    place = session.next_place
    if place is None:
        raise Refused("Every row is worked.")
    places = _rest_of_row(session, place)
    return (*_worked(session, places), *_row_end_begun(session, places[-1], is_whole=True))


def _at_row(session: Session, action: AtRow) -> Entry:
    if session.is_worked and session.act is None:
        raise Refused("Every row is worked.")
    place = session.at
    if not place.row + 1 < action.row <= len(session.rows) + 1:
        first, last = (row_named(n, session.rows) for n in (place.row + 2, len(session.rows) + 1))
        span = f"a row from {first} to {last}" if place.row + 1 < len(session.rows) else f"row {last}"
        raise Refused(f"Say {span} ({last}: every row is worked); to go down, rip back.")
    places = _rest_of_row(session, place)
    for row in range(place.row + 1, action.row - 1):
        places += _rest_of_row(session, Place(row, 0))
    acts = _left(session)
    return (*acts, *_worked(after_events(session, acts), places, is_past=True))


def _left(session: Session) -> Entry:
    """The events of all acts that are still to be done at the end of the row just worked."""
    return tuple(_acts(session, (group[-1] for group in session.row_end[:-1])))


def _trap_tails(session: Session, action: TrapTails) -> Entry:
    if action.is_on == session.is_trapping:
        raise Refused("That is so already.")
    return (Trapping(action.is_on),)


def _replan(session: Session, action: Replan) -> Entry:
    if session.is_worked:
        raise Refused("Every row is worked.")
    if action.limits == session.limits:
        raise Refused("These limits are in force already.")
    return mishaps.followed(session, (Limited(action.limits), planned(session, limits=action.limits)))


def _back(session: Session, _: Back) -> Entry:
    before = session.before
    if before is None:
        raise Refused("There is nothing to take back.")
    if not _is_planned_since(session, before):
        return (WentBack(),)
    if not _may_return(session, before):
        raise Refused("The plan was edited in the rows that this would bring back.")
    ripped = any(last >= (before.row, before.done) for _, last in reaches(before))
    if not ripped and fits(session.strands, Past(so_far(before, session.rows), before.cut)):
        return (WentBack(), Planned.of(session.version, session.limits, session.strands, before.strands.strand_of))
    in_force = (session.version, session.piece)
    return (WentBack(), planned(before, version=in_force, limits=session.limits))


def _is_planned_since(session: Session, before: Session) -> bool:
    """Whether another plan is followed than the one that the last action left: the plan file was edited since."""
    left = before
    if any(isinstance(event, Planned) for event in session.last):
        left = after_events(before, session.last)
    return _plan(session) != _plan(left)


def _plan(session: Session) -> tuple[object, ...]:
    """Which plan is followed, and how."""
    return session.version, session.limits, session.strands.strand_of, session.strands.shared


def _may_return(session: Session, before: Session) -> bool:
    """Whether what was worked then is worked the same way in the plan as it is now."""
    if not _is_planned_since(session, before):
        return True
    return not differing_rows(before.piece.rows, session.piece.rows, before.row, before.done)


def _unpick(session: Session, _: Unpick) -> Entry:
    place = session.last_place
    if place is None or session.is_bound_off:
        raise Refused("There is nothing to unpick." if place is None else "The piece is bound off.")
    return mishaps.undone(session, Unpicked(place.row, place.segment))


def _rip_back(session: Session, action: RipBack) -> Entry:
    if session.is_bound_off:
        raise Refused("The piece is bound off.")
    if not 0 <= action.row <= session.row or (action.row, session.done) == (0, 0):
        raise Refused(
            f"Say a row from 0 (the cast-on) to {row_named(session.row, session.rows)}."
            if session.done
            else "There is nothing to rip back."
        )
    return mishaps.undone(session, RippedBack(action.row - 1))


class Undone(NamedTuple):
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
    lost = [event for event in _rip_back(session, RipBack(row)) if isinstance(event, Unwove)]
    begun = session.rows[session.row].segments[:session.done]
    whole = sum(session.rows[index].stitches for index in range(row, session.row))
    on_needle = session.rows[row - 1].stitches if row else session.rows[0].stitches
    return Undone(session.row + 1 - row, whole + sum(s.stitches for s in begun), on_needle, len(lost))


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
    strand = session.strands.at(action.end.place)
    if action.end.kind == "finish" and not action.end.after and strand not in session.cut:
        return (RanOut(strand), Wove(action.end))
    return (Wove(action.end),)


def _unweave(session: Session, action: Unweave) -> Entry:
    if action.end not in session.woven:
        raise Refused("This end is not marked as woven in.")
    return (Unwove(action.end),)


def _bind_off(session: Session, _: actions.BindOff) -> Entry:
    if not session.is_worked or session.is_bound_off:
        raise Refused("The piece is bound off." if session.is_bound_off else "There are rows to work yet.")
    acts = _left(session)
    left = idle(session.strands, len(session.rows), after_events(session, acts).cut)
    return (*acts, *([Cut(session.row, left)] if left else []), BoundOff())


_NOT_YET: dict[str, str] = {
    "bind off": "The piece is not bound off yet.",
    "weave": "There are ends to weave in yet.",
    "sew": "There is something to sew on yet.",
    "seam ends": "There are ends at the seams to weave in yet.",
}
"""What keeps a step of finishing from being done."""


def _finish(session: Session, _: Finish) -> Entry:
    step = next_step(session)
    if step is None:
        raise Refused("The piece is finished.")
    if step.step not in TOLD:
        raise Refused(_NOT_YET[step.step])
    return (Finished(step.step),)


_DECIDE: dict[type[Action], Callable[[Session, Any], Entry]] = {
    On: _on,
    WholeRow: _whole_row,
    AtRow: _at_row,
    Back: _back,
    Unpick: _unpick,
    RipBack: _rip_back,
    Replan: _replan,
    TrapTails: _trap_tails,
    Note: _note,
    Weave: _weave,
    Unweave: _unweave,
    actions.BindOff: _bind_off,
    Finish: _finish,
    **mishaps.DECIDE,
    **repairs.DECIDE,
}
