"""What happened at the needles, asked with as few keys as can be: a length that ended, a strand joined after all, or
gone on with."""

from __future__ import annotations

from textual.app import App

from companion.knitting import words
from companion.knitting.rows import Place
from companion.knitting.strands import hanging
from companion.progress import life
from companion.progress.actions import Action, EndLength, GoOn, JoinNew
from companion.progress.session import Session
from companion.screens.asking import AskWords, Choose


async def what_happened(app: App[None], session: Session, terms: words.Terms) -> Action | None:
    """Ask what happened; None where it was left."""
    choices = list(_choices(session))
    if not choices:
        return None
    at = await app.push_screen_wait(Choose([words.WHAT_HAPPENED], [told for told, _ in choices]))
    if at is None:
        return None
    action = choices[at][1]
    if isinstance(action, EndLength):
        return await _after(app, session, action)
    if isinstance(action, GoOn):
        return await _which(app, session, action.place, terms)
    return action


def _choices(session: Session) -> list[tuple[str, Action]]:
    """What can be told here, each with the action it leads to; stitches and strands are asked for then."""
    possible, found = life.allowed(session), list[tuple[str, Action]]()
    strands, place = session.strands, session.next_place
    if EndLength in possible and place is not None:
        yarn = session.rows.segment(place).yarn
        found += [(words.length_ended(yarn, is_spliced=spliced), EndLength(0, spliced)) for spliced in (True, False)]
    for run in life.at_hand(session):
        is_worked = run == session.last_place
        if strands.first[strands.at(run)] != run:
            found.append((words.joined_after_all(strands, run, is_worked=is_worked), JoinNew(run)))
        if life.others(session, run):
            found.append((words.went_on(strands, run, is_worked=is_worked), GoOn(run, 0)))
    return found


async def _after(app: App[None], session: Session, action: EndLength) -> Action | None:
    place = session.next_place
    assert place is not None
    segment = session.rows.segment(place)
    question = words.ended_after(segment.yarn, segment.stitches)
    told = await app.push_screen_wait(AskWords(question, kind="number"))
    return EndLength(int(told), action.is_spliced) if told else None


async def _which(app: App[None], session: Session, place: Place, terms: words.Terms) -> Action | None:
    """Which of the strands that hang there it was; not asked where there is one."""
    others = life.others(session, place)
    if len(others) == 1:
        return GoOn(place, others[0])
    last = hanging(session.past)
    lines = [words.hangs_from(session.strands, last[strand], terms) for strand in others]
    at = await app.push_screen_wait(Choose([words.WHICH_STRAND], lines))
    return None if at is None else GoOn(place, others[at])
