"""What happened at the needles, asked with as few keys as can be: a length that ended, a strand joined after all, or
gone on with."""

from __future__ import annotations

from companion.dialogue.marking import Marking
from companion.dialogue.questions import Asking, Choice, Words
from companion.knitting import words
from companion.knitting.cloth.rows import Place
from companion.knitting.hands.mistakes import (
    REMEDIES,
    Mistake,
    laddering,
    place_of,
    ripping,
    sewing_over,
    to_sew_over,
)
from companion.progress import mishaps
from companion.progress.actions import Action, EndLength, GoOn, JoinNew, Mend, MissCross
from companion.progress.deciding import allowed
from companion.progress.session import Session


def what_happened(session: Session, terms: words.Terms) -> Asking[Action | None]:
    """Ask what happened; None where it was left."""
    choices = list(_choices(session))
    if not choices:
        return None
    at = yield Choice((words.WHAT_HAPPENED,), tuple(line for line, _ in choices))
    if at is None:
        return None
    action = choices[at][1]
    if action is None:
        return (yield from _mistake(session, terms))
    if isinstance(action, EndLength):
        return (yield from _after(session, action))
    if isinstance(action, GoOn):
        return (yield from _which(session, action.place, terms))
    return action


def said_after(action: Action, before: Session, after: Session, terms: words.Terms) -> str:
    """What is said once it is told."""
    if isinstance(action, MissCross):
        hole = action.place
        end = mishaps.closes(after).get(hole)
        return words.no_tail_near(after.rows, hole) if end is None else words.close_hole(after.rows, hole)
    if isinstance(action, Mend) and action.way == "rip":
        return words.now_unpick(ripping(action.mistake, before.rows, before.row, before.done), before.rows, terms)
    if after.strands is before.strands:
        return "Told."
    return words.planned_anew(before.strands.total, after.strands.total, terms)


def _choices(session: Session) -> list[tuple[str, Action | None]]:
    """What can be told here, each with the action it leads to; stitches and strands are asked for then, and a mistake
    (None) is marked."""
    possible, found = allowed(session), list[tuple[str, Action | None]]()
    strands, place = session.strands, session.next_place
    if EndLength in possible and place is not None:
        yarn = session.rows.segment(place).yarn
        found += [(words.length_ended(yarn, is_spliced=spliced), EndLength(0, spliced)) for spliced in (True, False)]
    for run in mishaps.at_hand(session):
        is_worked = run == session.last_place
        if strands.first[strands.at(run)] != run:
            found.append((words.joined_after_all(strands, run, is_worked=is_worked), JoinNew(run)))
        if mishaps.others(session, run):
            found.append((words.went_on(strands, run, is_worked=is_worked), GoOn(run, 0)))
    if Mend in possible:
        found.append((words.MISTAKE_BELOW, None))
    return found


def _mistake(session: Session, terms: words.Terms) -> Asking[Action | None]:
    """Have the wrong stitches marked, ask what is wrong with them, and what is to be done."""
    marked = yield Marking(session)
    if marked is None:
        return None
    row, columns = marked
    planned = {area.yarn for area in to_sew_over(Mistake(row, columns), session.piece.rows)}
    others = [yarn.name for yarn in session.piece.yarns if yarn.name not in planned]
    lines = [*map(words.worked_in, others), words.WRONG_STITCH]
    run = place_of(Mistake(row, columns), session.rows)
    if len(columns) == 1 and mishaps.is_change(session, run) and run not in session.missed:
        lines.append(words.cross_missed(session.rows, run))
    at = yield Choice((words.WHAT_HAPPENED,), tuple(lines))
    if at is None:
        return None
    if at > len(others):
        return MissCross(run)
    mistake = Mistake(row, columns, others[at] if at < len(others) else "")
    ways = (
        words.to_sew_over(sewing_over(mistake), terms),
        words.to_ladder(laddering(mistake, session.strands, session.row, session.done), session.rows, terms),
        words.to_leave(hangs_elsewhere=mishaps.hangs_elsewhere(session, mistake)),
        words.to_rip(ripping(mistake, session.rows, session.row, session.done), session.rows),
    )
    way = yield Choice((words.WHAT_TO_DO,), ways)
    return None if way is None else Mend(mistake, REMEDIES[way])


def _after(session: Session, action: EndLength) -> Asking[Action | None]:
    """After how many of the run's stitches its length ended."""
    place = session.next_place
    assert place is not None
    segment = session.rows.segment(place)
    after = yield Words(words.ended_after(segment.yarn, segment.stitches), is_number=True)
    return EndLength(int(after), action.is_spliced) if after else None


def _which(session: Session, place: Place, terms: words.Terms) -> Asking[Action | None]:
    """Which of the strands that hang there it was; not asked where there is one."""
    others = mishaps.others(session, place)
    if len(others) == 1:
        return GoOn(place, others[0])
    strands = session.strands
    last = (strands.latest(strand, place) for strand in others)
    lines = tuple(words.hangs_from(strands, hung, terms) for hung in last if hung)
    at = yield Choice((words.WHICH_STRAND,), lines)
    return None if at is None else GoOn(place, others[at])
