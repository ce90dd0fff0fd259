"""The pieces on a shelf, as text and as JSON."""

from __future__ import annotations

import json
from collections.abc import Iterator, Sequence
from datetime import datetime
from pathlib import Path

from companion.knitting import words
from companion.problems import plain
from companion.progress.card import Card

Listed = Sequence[tuple[Card, Path]]
"""Pieces, each with the file it lies in."""

_KEYS = (
    "name", "title", "state", "rows_done", "rows", "runs_done", "ready_ends", "ends_left", "areas_left", "trouble",
)  # fmt: skip
"""What is told of a piece by the name it has on its card."""


def as_text(pieces: Listed, now: datetime) -> Iterator[str]:
    """A line a piece, and below it where its plan and its own file lie; without line ends."""
    for card, file in pieces:
        yield plain(card.told_in_full(now))
        if card.trouble:
            yield plain(f"  {card.trouble}")
        if card.plan_path:
            yield plain(f"  plan: {card.plan_path}")
        yield plain(f"  file: {file}")
    if not pieces:
        yield words.NO_PIECES


def as_json(pieces: Listed) -> Iterator[str]:
    """The same as one JSON value: a list, a piece each."""
    listed = [
        {key: getattr(card, key) for key in _KEYS} | {
            "worked_at": card.worked_at and card.worked_at.isoformat(timespec="seconds"), "plan": card.plan_path,
            "file": str(file),
        }
        for card, file in pieces
    ]
    yield json.dumps(listed, indent=1) + "\n"
