"""What a journal holds, as values."""

from __future__ import annotations

from collections.abc import Mapping
from typing import NamedTuple

from companion.progress.card import Card
from companion.progress.events import Entry


class StoredPlan(NamedTuple):
    """One version of the plan as it was read: its text, the text of every file drawn in, and the packed piece."""

    path: str
    title: str
    text: str
    files: Mapping[str, str]
    packed: str


class Contents(NamedTuple):
    """Everything a journal holds. ``times``: when each entry was written, in UTC, ISO 8601."""

    card: Card
    plans: Mapping[int, StoredPlan]
    entries: tuple[Entry, ...]
    times: tuple[str, ...] = ()
