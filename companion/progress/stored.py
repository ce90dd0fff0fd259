"""What a journal holds, as values."""

from __future__ import annotations

from collections.abc import Iterable, Mapping

from companion.knitting.value import Record
from companion.progress.card import Card
from companion.progress.events import Entry

PAUSE = 5 * 60
"""Seconds without a step that are a break in themselves (5 to 10 minutes: a physical therapist's advice)."""

RECENT = 600
"""Steps by which a pace is reckoned, the newest: some evenings. Hands get faster, and rows are not alike."""

Timed = tuple[str, Entry]
"""A step and when it was written: ISO 8601, with a time zone."""


class StoredPlan(Record):
    """One version of the plan as it was read: its text, the text of every file drawn in, and the packed piece, in
    this ``size`` of a plan in sizes."""

    path: str
    title: str
    text: str
    files: Mapping[str, str]
    packed: str
    size: str = ""


class Contents(Record):
    """Everything a journal holds. ``times``: when each entry was written, in UTC, ISO 8601."""

    card: Card
    plans: Mapping[int, StoredPlan]
    entries: tuple[Entry, ...]
    times: tuple[str, ...] = ()

    @property
    def newest(self) -> Iterable[Timed]:
        """The newest steps, in order."""
        return zip(self.times[-RECENT:], self.entries[-RECENT:], strict=True)
