"""How fast a piece is worked and how long the rest takes, from the times in its journal; no clock is looked at.

A pace is seconds a stitch with all that the hands do on the way: changes, cuts, turns. What is left has them as well.
So it is a median neither of presses, of which one of two stitches is nearly all change, nor of rows, of which 200
stitches may be one: what was worked is taken together in blocks of some forty stitches, each with its share of
changes, and the pace is that of the middle stitch when the blocks are put in order. What is odd spoils its own block
alone: a word with somebody, a knot in the yarn, a step that was told too late.

Whoever presses three times once three runs are worked has worked all three since the press before: a press that comes
faster than hands can knit belongs to that one. Where the two together are still too fast nothing was knitted, as when
a row is marked that was worked long ago. Time is known between two steps of work that follow each other, at most
``PAUSE`` apart. Nothing is known of what is worked after anything else (gone to a row, ripped back, unpicked, woven
in, taken back), and after a time that is missing, or that lies before the one before it.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from datetime import datetime
from itertools import pairwise

from companion.knitting.cloth.rows import Rows
from companion.knitting.latest import latest
from companion.knitting.value import Record
from companion.progress import events as did
from companion.progress.session import Session
from companion.progress.stored import PAUSE, RECENT, Timed

FASTEST = 0.5
"""Seconds a stitch that nobody is faster than: the world's record is 118 stitches a minute (from memory)."""

LEAST = 200
"""Stitches whose time must be known."""

BLOCK = 40
"""Stitches that are taken together, or more: two rows of a narrow piece, some changes of a wide one."""


class Forecast(Record):
    """How long it takes, in seconds: to the end of the row in work or, at a turn, of the next one; to the last stitch
    of all. ``stitches_an_hour``: the pace. ``is_next``: nothing of that row is worked yet; ``is_last``: there is none
    after it; ``is_round``: it is a round."""

    row: float
    piece: float
    stitches_an_hour: float
    is_next: bool
    is_last: bool
    is_round: bool


def forecast(session: Session, steps: Sequence[Timed]) -> Forecast | None:
    """How long what is left takes; None where too little is known, and where no row is left. ``steps``: the newest of
    the journal in order, of which the last ``RECENT`` count."""
    place = session.next_place
    pace = None if place is None else pace_of(steps)
    if place is None or pace is None:
        return None
    row, after = session.rows[place.row], _stitches_after(session.rows)[place.row]
    left = sum(segment.stitches for segment in row.segments[place.segment:])
    is_last = place.row + 1 == len(session.rows)
    return Forecast(pace * left, pace * (left + after), 3600 / pace, place.segment == 0, is_last, row.is_round)


def pace_of(steps: Sequence[Timed]) -> float | None:
    """Seconds a stitch; None where the time of fewer than ``LEAST`` stitches is known."""
    spells = list(_spells(_presses(steps[-RECENT:])))
    if sum(stitches for _, stitches in spells) < LEAST:
        return None
    return _middle(list(_blocks(spells)))


_Press = tuple[float | None, int]
"""A step of work: seconds since the step before, None where they are not known, and the stitches that were worked."""


_END: _Press = (None, 0)


def _presses(steps: Iterable[Timed]) -> list[_Press]:
    """The steps of work that were not taken back."""
    kept: list[_Press | None] = []  # what was done and can be taken back; None: no work
    before: datetime | None = None
    for at, entry in steps:
        now, stitches = time_of(at), _stitches(entry)
        if stitches is not None:
            kept.append((seconds_between(before, now), stitches))
        elif isinstance(entry[0], did.WentBack):
            del kept[-1:]
        elif not is_setting(entry):
            kept.append(None)
        before = None if stitches is None else now
    return [press for press in kept if press]


def _stitches(entry: did.Entry) -> int | None:
    """The stitches that a step of work adds: none where a row's end was done. None: it is no such step, or one over
    several rows, which says where the knitter is."""
    if len(entry) == 1 and isinstance(entry[0], did.Worked):  # nearly all are
        return entry[0].stitches
    worked = [event for event in entry if isinstance(event, did.Worked)]
    is_work = any(isinstance(event, (did.Worked, did.RowEndDone, did.Cut)) for event in entry)
    is_all = all(isinstance(event, _OF_WORK) for event in entry)
    if not (is_work and is_all) or any(one.row != other.row for one, other in pairwise(worked)):
        return None
    return sum(event.stitches for event in worked)


_OF_WORK = (did.Worked, did.Wove, did.RowEndBegun, did.RowEndDone, did.Cut)
"""A tail that is laid in is woven in by the stitches that trap it."""


def is_setting(entry: did.Entry) -> bool:
    """What stays when the step before it is taken back."""
    return len(entry) == 1 and isinstance(entry[0], did.Planned | did.Trapping)


def time_of(at: str) -> datetime | None:
    """When a step was written; None where that is not known."""
    try:
        found = datetime.fromisoformat(at)
    except ValueError:
        return None
    return found if found.tzinfo else None


def seconds_between(before: datetime | None, now: datetime | None) -> float | None:
    """Seconds of work between two steps; None where they are not known."""
    seconds = (now - before).total_seconds() if now and before else -1
    return seconds if 0 <= seconds <= PAUSE else None


def _spells(presses: Iterable[_Press]) -> Iterator[tuple[float, int]]:
    """Seconds and stitches of what was worked, each press together with those that came too fast after it."""
    seconds, stitches = None, 0
    for more_seconds, more in (*presses, _END):
        if more_seconds is not None and more_seconds < FASTEST * max(1, more):
            seconds = None if seconds is None else seconds + more_seconds
            stitches += more
            continue
        if seconds is not None and seconds >= FASTEST * stitches:
            yield seconds, stitches
        seconds, stitches = more_seconds, more


def _blocks(spells: Sequence[tuple[float, int]]) -> Iterator[tuple[float, int]]:
    """Seconds a stitch, and stitches, of every block, from the newest; what the oldest leave over is left out."""
    seconds, stitches = 0.0, 0
    for more_seconds, more in reversed(spells):
        seconds, stitches = seconds + more_seconds, stitches + more
        if stitches >= BLOCK:
            yield seconds / stitches, stitches
            seconds, stitches = 0.0, 0


def _middle(blocks: Sequence[tuple[float, int]]) -> float:
    """The pace that as many stitches are slower than as are faster."""
    half = sum(stitches for _, stitches in blocks) / 2
    ordered, passed = sorted(blocks), 0
    for number, (pace, stitches) in enumerate(ordered):
        passed += stitches
        if passed == half:
            return (pace + ordered[number + 1][0]) / 2
        if passed > half:
            return pace
    raise ValueError("no blocks")


@latest
def _stitches_after(rows: Rows) -> Sequence[int]:
    """How many stitches the rows after each have together."""
    after = [0]
    for row in range(len(rows) - 1, 0, -1):
        after.append(after[-1] + rows[row].stitches)
    return after[::-1]
