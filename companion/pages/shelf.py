"""The pieces on a shelf, as text."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from datetime import datetime
from pathlib import Path

from companion.knitting import words
from companion.problems import plain
from companion.progress.card import Card

Listed = Sequence[tuple[Card, Path]]
"""Pieces, each with the file it lies in."""


def as_text(pieces: Listed, now: datetime) -> Iterator[str]:
    """A line a piece, and below it where its plan and its own file lie; those that were opened and not begun come
    last, under a heading. Without line ends."""
    opened = [one for one in pieces if one[0].state == "not begun"]
    yield from _lines([one for one in pieces if one not in opened], now)
    if opened:
        yield words.OPENED
        yield from _lines(opened, now)
    if not pieces:
        yield words.NO_PIECES


def _lines(pieces: Listed, now: datetime) -> Iterator[str]:
    for card, file in pieces:
        yield plain(card.told_in_full(now))
        if card.trouble:
            yield plain(f"  {card.trouble}")
        if card.plan_path:
            yield plain(f"  plan: {card.plan_path}")
        yield plain(f"  file: {file}")
