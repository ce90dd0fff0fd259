"""A plan that was edited while its piece is on the needles: what is worked decides, nothing is guessed.

Compared are the stitches up to the position, by yarn and texture. Limits, colours, titles and what is sewn on
afterwards do not count. The stored plan is followed until an edited one is found to be the same so far.
"""

from __future__ import annotations

import os
from collections.abc import Mapping
from itertools import accumulate
from pathlib import Path
from typing import TYPE_CHECKING, Literal

from companion.knitting.cloth.rows import Rows
from companion.knitting.piece import Piece
from companion.knitting.value import Record
from companion.knitting.words import places as words
from companion.plan.files import plan_text, text_beside
from companion.plan.packed import pack, unpack
from companion.problems import Problem, Problems, count_of, quoted
from companion.progress.actions import AtRow, On, Refused
from companion.progress.alike import differing_rows, is_same_work
from companion.progress.deciding import decide
from companion.progress.events import Entry, Planned, RippedBack, Wove
from companion.progress.fold import after_events
from companion.progress.legality import why_not
from companion.progress.replanning import planned, undone
from companion.progress.session import Session
from companion.progress.stored import StoredPlan
from companion.progress.typed import row_named

if TYPE_CHECKING:
    from companion.plan.loaded import Loaded

FOLLOWED = "What is worked counts as worked like the edited plan, which is followed from here."

Comparison = Literal["unchanged", "adopted", "differs", "gone", "not readable", "not compared"]


class PlanState(Record):
    """How the plan file on the disk stands to the plan that the piece follows, as found on opening.

    ``unchanged``: nothing to say. ``adopted``: edited, the same so far, now followed. ``differs``: edited in the
    rows ``rows`` (numbers from 1, 0 the cast-on) that are worked already; the stored plan is followed, ``loaded`` is
    the edited one for starting over as a new piece, ``version`` the same to be followed by this one where that can
    be (None: it cannot), ``path`` where it lies. ``gone`` and ``not readable`` (``problems`` tell why): the stored
    plan is followed. ``not compared``: look-only. ``sentence`` is "" where there is nothing to say.
    """

    kind: Comparison = "unchanged"
    sentence: str = ""
    rows: tuple[int, ...] = ()
    problems: tuple[Problem, ...] = ()
    loaded: Loaded | None = None
    version: Version | None = None
    path: str = ""

    @property
    def is_followed(self) -> bool:
        """The file is the plan that the piece follows."""
        return self.kind in ("unchanged", "adopted")


class Version(Record):
    """A version of the plan that is new to the session. ``planned`` is None where it changes nothing in the piece."""

    number: int
    piece: Piece
    stored: StoredPlan
    is_stored: bool
    planned: Planned | None


def stored_plan(loaded: Loaded, path: str) -> StoredPlan:
    """A plan as the journal keeps it."""
    return StoredPlan(path, loaded.piece.title, loaded.text, dict(loaded.files), pack(loaded.piece), loaded.size)


def piece_of(plan: StoredPlan) -> tuple[Piece, bool]:
    """The piece of a stored plan, and whether its cache was of use.

    Raises:
        Problems: neither its cache nor its text can be read any more.
    """
    try:
        return unpack(plan.packed), True
    except ValueError:
        from companion.plan.read import load_text

        return load_text(plan.text, plan.path, plan.files, size=plan.size).piece, False


def compare(session: Session, plans: Mapping[int, StoredPlan], file: str) -> tuple[PlanState, Version | None]:
    """How the plan file stands to the plan in force, and what to store and follow from now on (None: nothing).

    ``plans`` are all versions stored. Opens the plan file and what it draws in, changes nothing.
    """
    path = Path(file)
    if not os.path.lexists(path):
        told = f"The plan file {quoted(str(path), 200)} is not there now; the plan kept with the piece is followed."
        return PlanState("gone", told), None
    known = _known(path, plans, session.version)
    if known == session.version:
        return PlanState(), None
    from companion.plan.outline import for_hands

    try:
        if known is not None:
            stored, (piece, _), loaded = plans[known], piece_of(plans[known]), None
        else:
            from companion.plan.read import load

            loaded = load(path, plans[session.version].size)
            stored, piece = stored_plan(loaded, str(path)), loaded.piece
        piece = for_hands(piece, is_mirrored=session.piece.is_mirrored)
    except Problems as found:
        return _not_readable(path, found), None
    number = max(plans) + 1 if known is None else known
    state, version = _judged(session, Version(number, piece, stored, known is not None, None), loaded)
    return state._replace(path=file if state.loaded else ""), version


def _known(path: Path, plans: Mapping[int, StoredPlan], in_force: int) -> int | None:
    """The stored version that the disk holds word for word; the one in force before others."""
    try:
        text = plan_text(path)
        for number in sorted(plans, key=lambda number: (number != in_force, -number)):
            plan = plans[number]
            if plan.text == text and all(
                text_beside(path.parent, name, name) == kept for name, kept in plan.files.items()
            ):
                return number
    except Problems:
        pass
    return None


def _not_readable(path: Path, found: Problems) -> PlanState:
    what = count_of(found.problems)
    told = f"The plan file {quoted(str(path), 200)} has {what}; until then the plan kept with the piece is followed."
    return PlanState("not readable", told, problems=found.problems)


def _judged(session: Session, version: Version, loaded: Loaded | None) -> tuple[PlanState, Version | None]:
    old, new = session.piece, version.piece
    if new == old:
        return PlanState(), None if version.is_stored else version
    worked = old.rows.divided_at(session.rows.meetings)
    rows = tuple(index + 1 for index in differing_rows(worked, new.rows, session.row, session.done))
    if session.is_bound_off:
        rows += tuple(range(len(old.rows) + 1, len(new.rows) + 1))
    if rows:
        from companion.plan.cautions import in_words
        from companion.plan.loaded import Loaded

        longer = new.rows if len(new.rows) > len(old.rows) else old.rows
        which = in_words(rows, lambda row: row_named(row, longer))
        told = (
            f"The plan file was edited in what is worked already: {which}. "
            "The plan kept with the piece is followed; the edited one can be started as a new piece."
        )
        edited = loaded or Loaded(new, version.stored.text, version.stored.files, size=version.stored.size)
        can_be = can_be_knitted_like(session, new)
        if not can_be and session.runs_done and 0 < session.row <= len(new.rows):
            start = f"the start of {words.row_named(session.rows[session.row])}"
            told += (
                f" Or go on with the stored plan, unpick to {start}, leave and come back: then the edited one can be "
                "followed."
            )
        return PlanState("differs", told, rows, (), edited, version if can_be else None), None
    limits = new.carry if new.carry != old.carry else session.limits
    is_same = limits == session.limits and old.cast_on == new.cast_on and is_same_work(old.fabric, new.fabric)
    told = "The plan file was edited; the stitches are the same, the rest is taken over." if is_same else (
        "The plan file was edited; what is worked is the same, so the "
        f"{words.rows_noun(session.rows)}s to come follow the edited plan."
    )
    if is_same:
        follow = Planned.of(version.number, limits, session.strands, session.strands)
    else:
        follow = planned(session, version=(version.number, new), limits=limits)
        told += _let_go(session, version, follow)
    adopted = Version(version.number, new, version.stored, version.is_stored, follow)
    return PlanState("adopted", told), adopted


def can_be_knitted_like(session: Session, piece: Piece) -> bool:
    """Whether something is worked and not bound off, and this piece has every row of it, and as many stitches of runs
    in the row in work."""
    whole, rows = session.rows_done, piece.rows
    if session.is_bound_off:
        return False
    if session.is_at_turn or not session.done:
        return 0 < whole <= len(rows)
    return session.row < len(rows) and _runs_worked(session, rows) is not None


def knitted_like(session: Session, version: Version) -> Entry:
    """What happened when all that is worked was worked like this version of the plan, which the session knows: the
    same rows and stitches, by its strands. Ends that are woven in stay so where the rows they lie in are the same.

    Raises:
        Refused: it has not so many rows, or its runs are others in the row in work.
    """
    if not can_be_knitted_like(session, version.piece):
        raise Refused("What is worked cannot have been worked like that plan.")
    limits = version.piece.carry if version.piece.carry != session.piece.carry else session.limits
    entry: Entry = undone(session, RippedBack(-1))
    entry += (planned(after_events(session, entry), version=(version.number, version.piece), limits=limits),)
    after = after_events(session, entry)
    whole = session.rows_done - (session.act is not None)  # what is to be done at a row's end is still to be done
    runs = 0
    if session.act is not None:
        runs = len(after.rows[session.row].segments)
    elif not session.is_at_turn:
        runs = _runs_worked(session, after.rows) or 0
    for action in (*([AtRow(whole + 1)] if whole else []), *[On()] * runs):
        events = decide(after, action)
        entry, after = entry + events, after_events(after, events)
    for end in sorted(session.woven - after.woven):
        is_there = session.rows[end.place.row].segments == after.rows[end.place.row].segments
        if is_there and not why_not(after, Wove(end)):
            entry += (Wove(end),)
    return entry


def _runs_worked(session: Session, rows: Rows) -> int | None:
    """How many runs of these rows the stitches are that are worked of the row in work; None: they end inside one, or
    are all of it."""
    worked = sum(segment.stitches for segment in session.rows[session.row].segments[:session.done])
    ends = [0, *accumulate(segment.stitches for segment in rows[session.row].segments)][:-1]
    return ends.index(worked) if worked in ends else None


def _let_go(session: Session, version: Version, follow: Planned) -> str:
    """What is said of lengths that were told to end where they cannot end in this version."""
    after = after_events(session.changed(versions={**session.versions, version.number: version.piece}), (follow,))
    gone = len(session.strands.breaks) - len(after.strands.breaks)
    which = "a length" if gone == 1 else f"{gone} lengths"
    return f" What was told of {which} that ended no longer fits and is let go; tell it anew." if gone else ""
