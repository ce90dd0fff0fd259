"""What a journal tells of how a piece was worked: what was undone on the needles, what was noted, how long it took.

What was taken back did not happen, but the time at the needles passed all the same.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from datetime import datetime
from itertools import pairwise

from companion.knitting.cloth.rows import Row
from companion.knitting.value import Record
from companion.progress import events as did
from companion.progress.card import Card, card_of
from companion.progress.pace import is_setting, seconds_between, time_of
from companion.progress.session import Session


class Recount(Record):
    """``unpicked``: so many runs; ``rips``: so often rows were ripped back, ``ripped`` of them together, one that was
    begun counted as one. ``notes``: each with its row. ``seconds``: at the needles, pauses left out."""

    card: Card
    unpicked: int
    rips: int
    ripped: int
    notes: Sequence[tuple[Row, str]]
    seconds: float

    @property
    def minutes(self) -> int:
        """To the nearest one."""
        return round(self.seconds / 60)


def recount(
    name: str, session: Session, entries: Sequence[did.Entry], times: Sequence[str], plan_path: str = ""
) -> Recount:
    """Of a piece of this name that is where ``session`` says; ``times``: when each of its entries was written.

    Raises:
        ValueError: the last time is none.
    """
    events = [event for entry in _kept(entries) for event in entry]
    rips = list(_ripped(events))
    notes = [(session.rows[row], text) for row, text in sorted(session.notes.items()) if text]
    card = card_of(session, name, plan_path, datetime.fromisoformat(times[-1]))
    unpicked = sum(isinstance(event, did.Unpicked) for event in events)
    return Recount(card, unpicked, len(rips), sum(rips), notes, _seconds(times))


def _kept(entries: Iterable[did.Entry]) -> list[did.Entry]:
    """What was not taken back."""
    kept = list[did.Entry]()
    for entry in entries:
        if isinstance(entry[0], did.WentBack):
            del kept[-1:]
        elif not is_setting(entry):
            kept.append(entry)
    return kept


def _ripped(events: Iterable[did.Event]) -> Iterator[int]:
    """How many rows were undone each time that rows were ripped back."""
    row = -1  # the one in which the last run was worked
    for event in events:
        match event:
            case did.Worked():
                row = event.row
            case did.Unpicked():
                row = event.row if event.segment else event.row - 1
            case did.RippedBack():
                yield max(0, row - event.row)
                row = event.row


def _seconds(times: Iterable[str]) -> float:
    """Between steps that follow each other without a pause."""
    between = (seconds_between(time_of(one), time_of(other)) for one, other in pairwise(times))
    return sum(seconds for seconds in between if seconds is not None)
