"""What an action makes happen, and which actions are possible. Nothing here changes a session: ``apply`` does.

What may happen when, ``legality`` says: an illegal action raises ``Refused``, in the knitter's words.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Mapping
from typing import Any

from companion.knitting.cloth.rows import Place
from companion.knitting.hands import steps as do
from companion.knitting.hands.joins_and_cuts import idle
from companion.knitting.hands.mistakes import ripping
from companion.knitting.hands.row_ends import LIGHT, pressed
from companion.knitting.hands.trapping import laid_in
from companion.knitting.strands.strands import Past
from companion.knitting.value import Record
from companion.knitting.words.places import rows_noun
from companion.progress import actions as ask
from companion.progress import events as did
from companion.progress.alike import fits, meet_alike
from companion.progress.finishing import SAID, next_step
from companion.progress.fold import after_events
from companion.progress.legality import is_planned_since, is_possible, lawful, out_of_time
from companion.progress.mishaps import hangs_elsewhere, newly
from companion.progress.replanning import followed, planned, reaches, so_far, undone, with_run
from companion.progress.session import Session
from companion.progress.typed import row_named


def decide(session: Session, action: ask.Action) -> did.Entry:
    """The events that an action makes happen. Changes nothing.

    Raises:
        Refused: the action is not possible now.
    """
    return _DECIDE[type(action)].decide(session, action)


def allowed(session: Session) -> frozenset[type[ask.Action]]:
    """The kinds of action that are possible now; key bindings, help and commands follow this alike."""
    return frozenset(kind for kind in _DECIDE if may(session, kind))


def may(session: Session, kind: type[ask.Action]) -> bool:
    """Whether some action of this kind is possible now."""
    return any(is_possible(session, event) for event in _DECIDE[kind].leads_to)


def _place_in_work(session: Session) -> Place:
    """The run to be worked now.

    Raises:
        Refused: every row is worked.
    """
    place = session.next_place
    if place is None:
        raise ask.Refused(out_of_time(session, did.Worked))
    return place


def _on(session: Session, _: ask.On) -> did.Entry:
    if session.act is not None:
        return tuple(_acts(session, [session.act]))
    place = _place_in_work(session)
    return (*_worked(session, [place]), *_row_end_begun(session, place))


def _whole_row(session: Session, _: ask.WholeRow) -> did.Entry:
    if session.act is not None:
        return tuple(_acts(session, [session.act]))
    places = _rest_of_row(session, _place_in_work(session))
    return (*_worked(session, places), *_row_end_begun(session, places[-1], is_whole=True))


def _at_row(session: Session, action: ask.AtRow) -> did.Entry:
    if session.act is None:
        _place_in_work(session)
    place, rows = session.at, len(session.rows)
    if not place.row + 1 < action.row <= rows + 1:
        first, last = (row_named(n, session.rows) for n in (place.row + 2, rows + 1))
        noun = rows_noun(session.rows)
        span = f"a {noun} from {first} to {last}" if place.row + 1 < rows else f"{noun} {last}"
        raise ask.Refused(f"Say {span} ({last}: every {noun} is worked); to go down, rip back.")
    places = _rest_of_row(session, place)
    for row in range(place.row + 1, action.row - 1):
        places += _rest_of_row(session, Place(row, 0))
    acts = _left(session)
    return (*acts, *_worked(after_events(session, acts), places, is_past=True))


def _rest_of_row(session: Session, place: Place) -> list[Place]:
    return [Place(place.row, segment) for segment in range(place.segment, len(session.rows[place.row].segments))]


def _worked(session: Session, places: Iterable[Place], *, is_past: bool = False) -> Iterator[did.Event]:
    """The events of runs worked one after the other. ``is_past``: so are all ends of rows they lead to, with what is
    cut there."""
    cut = session.cut
    for place in places:
        segment = session.rows.segment(place)
        yield did.Worked(*place, segment.yarn, segment.stitches, session.strands.at(place))
        for _, step in laid_in(session.strands, place) if session.is_trapping else ():
            if step.end not in session.woven:
                yield did.Wove(step.end)
        if is_past and place.segment + 1 == len(session.rows[place.row].segments):
            acts = pressed(session.strands, place.row, cut)
            if strands := tuple(strand for act in acts for strand in do.cuts(act)):
                cut = cut.union(strands)
                yield did.Cut(place.row, strands)


def _row_end_begun(session: Session, place: Place, *, is_whole: bool = False) -> Iterator[did.Event]:
    """After the last run of a row: that acts of its end are to be done. ``is_whole``: the row is worked at once, and
    with it all that does not cut, bind off, divide or join."""
    if place.segment + 1 < len(session.rows[place.row].segments):
        return
    acts = pressed(session.strands, place.row, session.cut)
    if acts and not (is_whole and all(isinstance(act, LIGHT) for act in acts)):
        yield did.RowEndBegun(place.row)


def _left(session: Session) -> did.Entry:
    """The events of all acts that are still to be done at the end of the row just worked."""
    return tuple(_acts(session, (group[-1] for group in session.row_end[:-1])))


def _acts(session: Session, acts: Iterable[do.AtEnd]) -> Iterator[did.Event]:
    """The events of acts of a row's end."""
    for act in acts:
        if not isinstance(act, do.Cut):
            yield did.RowEndDone(session.row, do.name_of(act))
        if strands := do.cuts(act):
            yield did.Cut(session.row, strands)


def _replan(session: Session, action: ask.Replan) -> did.Entry:
    limited = lawful(session, did.Limited(action.limits))
    return followed(session, (limited, planned(session, limits=action.limits)))


def _back(session: Session, _: ask.Back) -> did.Entry:
    entry, before = (lawful(session, did.WentBack()),), session.before
    if before is None or not is_planned_since(session):
        return entry
    ripped = any(last >= (before.row, before.done) for _, last in reaches(before))
    is_alike = meet_alike(before.rows, session.rows, before.row, before.done)
    if not ripped and is_alike and fits(session.strands, Past(so_far(before, session.rows), before.cut)):
        plan = did.Planned.of(session.version, session.limits, session.strands, before.strands)
    else:
        plan = planned(before, version=(session.version, session.piece), limits=session.limits)
    return (*entry, plan)


def _rip_back(session: Session, action: ask.RipBack) -> did.Entry:
    return undone(session, lawful(session, did.RippedBack(action.row - 1)))


class Undone(Record):
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
    lost = [event for event in _rip_back(session, ask.RipBack(row)) if isinstance(event, did.Unwove)]
    begun = session.rows[session.row].segments[:session.done]
    whole = sum(session.rows[index].stitches for index in range(row, session.row))
    on_needle = session.rows[row - 1].stitches if row else session.rows[0].stitches
    return Undone(session.row + 1 - row, whole + sum(s.stitches for s in begun), on_needle, len(lost))


def _end_length(session: Session, action: ask.EndLength) -> did.Entry:
    place = _place_in_work(session)
    broke = lawful(session, did.Broke(*place, action.after, action.is_spliced))
    if action.after or action.is_spliced:
        return (broke,)
    strand = session.strands.at(place)
    if session.strands.first[strand] == place:
        raise ask.Refused(newly(session, place))
    ended = did.RanOut(strand)
    return followed(session, (ended, planned(after_events(session, (ended,)), without={strand})))


def _join_new(session: Session, action: ask.JoinNew) -> did.Entry:
    newest = max((n for row in so_far(session, session.rows) for n in row), default=0)
    return _reassigned(session, action.place, did.JoinedNew(*action.place, newest + 1))


def _go_on(session: Session, action: ask.GoOn) -> did.Entry:
    return _reassigned(session, action.place, did.WentOn(*action.place, action.strand))


def _reassigned(session: Session, place: Place, event: did.JoinedNew | did.WentOn) -> did.Entry:
    """A run is another strand's: the rest is planned anew, and ends that are none any more are not woven in."""
    lawful(session, event)
    worked = session.past.worked
    if place == session.last_place:
        *rows, last = worked
        worked = (*rows, last[:-1]) if last[:-1] else tuple(rows)
    worked = with_run(worked, place, event.strand)
    if session.is_begun and place == session.last_place and session.next_place is not None:
        worked = with_run(worked, session.next_place, session.strands.at(session.next_place))
    without = {session.strands.at(place), event.strand}
    return followed(session, (event, planned(after_events(session, (event,)), worked=worked, without=without)))


def _mend(session: Session, action: ask.Mend) -> did.Entry:
    mistake, way = action.mistake, action.way
    told = lawful(session, did.Mistook(*mistake, way))
    if way == "leave" and hangs_elsewhere(session, mistake):
        return followed(session, (told, planned(after_events(session, (told,)))))
    if way == "rip":
        rip = ripping(mistake, session.rows, session.row, session.done)
        if rip.rows:
            return (told, *undone(session, did.RippedBack(rip.whole - 1)))
    return (told,)


def _weave(session: Session, action: ask.Weave) -> did.Entry:
    wove, end = lawful(session, did.Wove(action.end)), action.end
    strand = session.strands.at(end.place)
    if end.kind == "finish" and not end.after and strand not in session.cut:
        return (did.RanOut(strand), wove)
    return (wove,)


def _bind_off(session: Session, _: ask.BindOff) -> did.Entry:
    acts = _left(session)
    after = after_events(session, acts)
    off, left = lawful(after, did.BoundOff()), idle(session.strands, len(session.rows), after.cut)
    return (*acts, *([did.Cut(session.row, left)] if left else []), off)


def _finish(session: Session, _: ask.Finish) -> did.Entry:
    now = next_step(session)
    said: did.Said = next((name for name, kind in SAID.items() if now and kind is type(now.doing)), "wash")
    return (lawful(session, did.Finished(said)),)


class _Way(Record):
    """What decides on an action, and the kinds of event of which one must be possible."""

    decide: Callable[[Session, Any], did.Entry]
    leads_to: tuple[type[did.Event], ...]


def _one(event: type[did.Event], fields: Callable[[Any], tuple[Any, ...]]) -> _Way:
    """The way of an action that makes one event happen, with these fields."""
    return _Way(lambda session, action: (lawful(session, event(*fields(action))),), (event,))


_DECIDE: Mapping[type[ask.Action], _Way] = {
    ask.On: _Way(_on, (did.Worked, did.RowEndDone)),
    ask.WholeRow: _Way(_whole_row, (did.Worked, did.RowEndDone)),
    ask.AtRow: _Way(_at_row, (did.Worked, did.RowEndDone)),
    ask.Back: _Way(_back, (did.WentBack,)),
    ask.Unpick: _Way(lambda at, _: undone(at, lawful(at, did.Unpicked(*(at.last_place or (0, 0))))), (did.Unpicked,)),
    ask.RipBack: _Way(_rip_back, (did.RippedBack,)),
    ask.EndLength: _Way(_end_length, (did.Broke,)),
    ask.JoinNew: _Way(_join_new, (did.JoinedNew,)),
    ask.GoOn: _Way(_go_on, (did.WentOn,)),
    ask.Replan: _Way(_replan, (did.Limited,)),
    ask.Note: _one(did.Noted, lambda action: (action.row - 1, action.text.strip())),
    ask.Weave: _Way(_weave, (did.Wove,)),
    ask.Unweave: _one(did.Unwove, lambda action: (action.end,)),
    ask.TrapTails: _one(did.Trapping, lambda action: (action.is_on,)),
    ask.Mend: _Way(_mend, (did.Mistook,)),
    ask.MissCross: _one(did.MissedCross, lambda action: action.place),
    ask.BindOff: _Way(_bind_off, (did.BoundOff,)),
    ask.Sew: _one(did.Sewed, lambda action: action.cell),
    ask.Unsew: _one(did.Unsewed, lambda action: action.cell),
    ask.Finish: _Way(_finish, (did.Finished,)),
}
