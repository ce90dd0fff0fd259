"""What each deed does at the needles: the functions that the table of actions names."""

from __future__ import annotations

from collections.abc import Callable
from typing import Literal

from companion.dialogue.questions import Asking, Leave, Reading, Scroll, ToNeedles, YesNo, show
from companion.dialogue.sitting import Sitting
from companion.dialogue.telling import Telling, plan_says
from companion.knitting import words
from companion.knitting.hands.row_ends import LIGHT
from companion.knitting.hands.steps import SewOn
from companion.progress.actions import Action, BindOff, Finish, On, WholeRow
from companion.progress.deciding import may
from companion.progress.ends import ready_ends
from companion.progress.finishing import next_step
from companion.progress.mishaps import to_sew
from companion.progress.session import Session


def on_means(session: Session, *, is_row_mode: bool) -> Action | Literal["sew", "ends"]:
    """What is told now as an action, or the list in which it is done."""
    if session.act is None and session.is_worked and not session.is_bound_off:
        return BindOff()
    if session.is_bound_off:
        step = next_step(session)
        if step is None or may(session, Finish):
            return Finish()
        return "sew" if isinstance(step.doing, SewOn) else "ends"
    return WholeRow() if is_row_mode else On()


def on(sitting: Sitting) -> Asking[None] | None:
    """What is told now is done, or the list in which it is done is shown."""
    match on_means(sitting.session, is_row_mode=sitting.view.is_row_mode):
        case "sew":
            return sew(sitting)
        case "ends":
            return ends(sitting)
        case action:
            sitting.do(action)
            return None


def foresee(sitting: Sitting) -> Telling | None:
    """What will be told once On is done, worked out before anybody asks; None where On does nothing but ask."""
    action = on_means(sitting.session, is_row_mode=sitting.view.is_row_mode)
    return sitting.foresee(action) if isinstance(action, Action) else None


def doing(action: Action) -> Callable[[Sitting], None]:
    """Do this, without a question."""
    return lambda sitting: sitting.do(action)


def rip(sitting: Sitting) -> Asking[object]:
    """Rip back to a row."""
    from companion.dialogue.rows_asked import rip_back

    return sitting.do_asked(rip_back(sitting.session, sitting.terms))


def at(sitting: Sitting) -> Asking[object]:
    """Forward to a row."""
    from companion.dialogue.rows_asked import at_row

    return sitting.do_asked(at_row(sitting.session))


def note(sitting: Sitting) -> Asking[object]:
    """A note on the row."""
    from companion.dialogue.rows_asked import note

    return sitting.do_asked(note(sitting.session))


def why(sitting: Sitting) -> Asking[None]:
    """The reasons for what the next press says is done, each once, under what the plan says here; first of all what
    was said just now, where it could not be shown whole."""
    from companion.knitting.words.why import reasons

    now, terms = sitting.telling, sitting.terms
    row = [told.run for told in now.runs if not told.is_done] if sitting.view.is_row_mode and now.run else []
    lines = reasons((*now.steps, *(step for run in row for step in run.steps)), terms) or now.to_do
    says = plan_says(now.session)
    said = [sitting.notice.removesuffix(says).strip()] if sitting.is_cut else []
    yield Reading("Why", [*filter(None, [*said, says]), *lines])


def where(sitting: Sitting) -> Asking[None]:
    """The rows that fit what lies on the needle."""
    from companion.dialogue.whereabouts import where_am_i

    key_of = sitting.knitter.key_of
    return where_am_i(sitting.session, key_of("at"), key_of("rip"))


def happened(sitting: Sitting) -> Asking[None]:
    """What happened, and what is said once it is told."""
    from companion.dialogue.happened import said_after, what_happened

    before = sitting.session
    action = yield from sitting.do_asked(what_happened(before, sitting.terms))
    if action is not None:
        sitting.notice = said_after(action, before, sitting.session, sitting.terms)
        sitting.speak()


def ends(sitting: Sitting) -> Asking[None]:
    """The list of ends: those that are ready where they were offered."""
    from companion.dialogue.ends import EndsList

    yield EndsList(sitting, only_ready=sitting.is_offered)


def sew(sitting: Sitting) -> Asking[None]:
    """The list of what is sewn on."""
    from companion.dialogue.sewing import SewingList

    if to_sew(sitting.session):
        yield SewingList(sitting)
    else:
        sitting.notice = words.NOTHING_SEWN_ON


def strands(sitting: Sitting) -> Asking[None]:
    """The list of strands."""
    from companion.dialogue.strands import StrandsList

    yield StrandsList(sitting)


def techniques(sitting: Sitting) -> Asking[None]:
    """The list of techniques, as long as there are rows to come."""
    from companion.dialogue.techniques import TechniquesList

    if not sitting.session.is_worked:
        yield TechniquesList(sitting)


def looking(name: str, *instead_of: str) -> Callable[[Sitting], None]:
    """Another way to look at it, or the first one again. ``instead_of``: ways that it takes the place of."""

    def change(sitting: Sitting) -> None:
        ways = {name: not getattr(sitting.view, name)} | dict.fromkeys(instead_of, False)
        sitting.view = sitting.view._replace(**ways)

    return change


def scrolling(left: int, up: int) -> Callable[[Sitting], Asking[None]]:
    """The chart moves."""
    return lambda _: show(Scroll(left, up))


def follow(_: Sitting) -> Asking[None]:
    """The chart comes back."""
    return show(ToNeedles())


def leave(_: object) -> Asking[None]:
    """Away from here."""
    return show(Leave())


_STOP = "Everything is saved. Stop here?"


def _time_of_row(sitting: Sitting) -> str:
    """How long it takes to the end of the row; "" where too little is known."""
    from companion.knitting.words.pace import row_time

    if (found := sitting.knitting.forecast) is None:
        return ""
    return row_time(found.row, is_next=found.is_next, is_last=found.is_last, is_round=found.is_round)


def _where_to_stop(sitting: Sitting) -> str:
    """Where the next good place to stop is; "" at a good place, and where there is no more row to be worked."""
    session = sitting.session
    if not session.done or session.is_worked:
        return ""
    row, rows = session.rows[session.row], session.rows
    acts = [group[-1] for group in session.row_end[:-1]]
    if heavy := [act for act in acts if not isinstance(act, LIGHT)]:
        return words.before_stopping(row, heavy, sitting.terms)
    left = row.stitches - sum(segment.stitches for segment in row.segments[:session.done])
    following = next((rows[at] for at in rows.following(session.row)), None)
    said = words.best_stop(row, left, following)
    return f"{said} {_time_of_row(sitting)}".strip() if said else ""


def stop(sitting: Sitting) -> Asking[None]:
    """Leave the piece, asked in one question: with the best place to stop where this is none, and once a sitting
    with how to see the ends that are ready."""
    session, asked = sitting.session, list[str]()
    if not sitting.knitting.is_look_only:
        asked += filter(None, [_where_to_stop(sitting)])
    is_offering = sitting.knitter.settings.offer_at and not sitting.knitting.is_look_only
    ready = ready_ends(session) if is_offering and not sitting.is_asked_on_leaving else 0
    if ready > 0:
        sitting.is_asked_on_leaving = True
        asked.append(words.ends_offered_on_leaving(ready, sitting.terms, sitting.knitter.key_of("ends")))
    if not asked or (yield YesNo((*asked, _STOP), "stop here", "go on")):
        yield Leave()
