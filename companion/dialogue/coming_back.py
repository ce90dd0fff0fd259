"""Where the hands are when a knitter comes back: to a piece that lay, or to stitches once what lay above is undone.

At a row's start she then holds the work as that row is worked: what she comes back to is turned already, and a
cast-on that is left is on the needle.
"""

from __future__ import annotations

from collections.abc import Iterable

from companion.knitting import words
from companion.knitting.hands.runs import run_steps
from companion.progress.events import Entry, Mistook, RippedBack, Unpicked, Worked
from companion.progress.session import Session


def is_ready(session: Session, came_back: Iterable[Entry]) -> bool:
    """Whether the hands hold a row's start ready for its first stitch. ``came_back``: the entries, the very ones,
    after which she came back to the piece, or said at which row's start she is."""
    entries, at = tuple(map(id, came_back)), session
    while at is not None and (at.row, at.done) == (session.row, session.done):
        kinds = {type(event) for event in at.last}
        if session.done and id(at.last) in entries and at.act is None:
            return session.is_at_turn
        if kinds & {Unpicked, RippedBack}:
            return not session.runs_done and Mistook not in kinds  # after that more is unpicked from the same side
        if at.before is None or Worked in kinds:
            return False
        at = at.before
    return False


def where_held(session: Session, terms: words.Terms) -> str:
    """Which side faces her, how many stitches are on which needle, what is in her hand."""
    row, done = session.rows[session.at.row], session.at.segment
    run = run_steps(session.strands, session.at, session.catching) if done < len(row.segments) else None
    is_cut = done > 0 and session.strands.strand_of[session.row][done - 1] in session.told
    left, is_joined = (run.left, run.is_joined) if run else (0, False)
    return words.where_you_are(row, done, left, terms, is_cut=is_cut, is_joined=is_joined)


def greeting(session: Session, terms: words.Terms) -> str:
    """Where the knitter is, in the row that the top line tells, and how to tell the sides apart."""
    if not session.done or session.is_bound_off:
        return ""
    side, is_cut = session.rows[session.at.row].side, session.strands.cast_on_ends > 0
    return f"{where_held(session, terms)} {words.sides_cue(side, terms, session.piece.cast_on, is_cut=is_cut)}"
