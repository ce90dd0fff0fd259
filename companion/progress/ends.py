"""What can be done with the ends of a piece now."""

from __future__ import annotations

import sys
from bisect import bisect_right, insort

from companion.knitting.hands.ends import EndState, ends_of, exists
from companion.knitting.hands.steps import End, SewUp
from companion.knitting.hands.weaving import Weaving, backs_of
from companion.knitting.latest import latest
from companion.knitting.strands.strands import Strands
from companion.progress.session import Session


def end_state(session: Session, end: End) -> EndState:
    """What can be done with an end now. Once the piece is bound off, every end that is not woven is ready, but for
    those that wait for a seam."""
    if end in session.woven:
        return "woven"
    if not exists(end, session.row, session.done, session.strands):
        return "not yet"
    weaving = how_woven(session, end)
    if weaving.is_for_seam and SewUp not in session.finished:
        return "for the seam"
    return "ready" if session.is_bound_off or weaving.rows <= session.rows_done else "too fresh"


def how_woven(session: Session, end: End) -> Weaving:
    """How an end is woven in."""
    return backs_of(session.piece, session.strands).weaving(end)


def all_ends(session: Session) -> tuple[tuple[End, EndState], ...]:
    """Every end the piece will have, with its state now."""
    return tuple((end, end_state(session, end)) for end in ends_of(session.strands))


def ready_ends(session: Session) -> int:
    """How many ends are ready to be woven in. Asked for at every step, so that nothing is counted twice."""
    needed = _needed(session.strands)
    needed.reach(session)
    return needed.ready(session)


class Needed:
    """From which row on the ends are ready that hang so far; for the seam those that wait for one."""

    def __init__(self, strands: Strands) -> None:
        self._strands = strands
        self._of: dict[End, int] = {}
        self._rows: list[int] = []
        self._at_seams: list[int] = []
        self._woven_rows: tuple[list[int], list[int]] = ([], [])
        self._woven_for: tuple[frozenset[End], int] = (frozenset(), 0)

    def reach(self, session: Session) -> None:
        """Look at the ends that have come about since."""
        ends = ends_of(self._strands)
        begun = bisect_right(ends, session.rows_done - 1, key=lambda end: end.place.row)
        for end in ends[len(self._of):begun]:
            weaving = how_woven(session, end)
            self._of[end] = weaving.rows
            insort(self._at_seams if weaving.is_for_seam else self._rows, weaving.rows)

    def ready(self, session: Session) -> int:
        """How many of them are ready and not woven. An end is never ready before the row it hangs in is done, so
        that those above, which were ripped out, do not count."""
        if self._woven_for[0] is not session.woven or self._woven_for[1] != len(self._of):
            self._woven_for = session.woven, len(self._of)
            self._woven_rows = ([], [])
            for end in session.woven & self._of.keys():
                insort(self._woven_rows[how_woven(session, end).is_for_seam], self._of[end])
        counted = [(self._rows, self._woven_rows[False])]
        if SewUp in session.finished:
            counted.append((self._at_seams, self._woven_rows[True]))
        upto = sys.maxsize if session.is_bound_off else session.rows_done
        return sum(bisect_right(rows, upto) - bisect_right(woven, upto) for rows, woven in counted)


@latest
def _needed(strands: Strands) -> Needed:
    """What is known of the ends of these strands so far."""
    return Needed(strands)
