"""The written rows, each with a box to tick: the very lines that the command for written rows prints."""

from __future__ import annotations

from collections.abc import Iterator

from companion.pages import written
from companion.pages.hand_out.markup import boxed, paragraphs, telling
from companion.pages.hand_out.request import HandOut


def written_rows(hand_out: HandOut) -> Iterator[str]:
    """The rows as HTML."""
    piece, strands, terms = hand_out.piece, hand_out.strands, hand_out.terms
    told = telling(yarn.name for yarn in piece.yarns)
    yield paragraphs(map(told, written.how_to_read(piece, strands, terms)))
    last = len(piece.rows) if hand_out.last is None else hand_out.last + 1
    lines = list(written.rows(piece, strands, hand_out.first + 1, last, terms))
    before = len(lines) - (last - hand_out.first)  # a line of the cast-on
    done = hand_out.session.rows_done - hand_out.first
    yield boxed((_line(told(line)) for line in lines), done + before if done > 0 else 0)


def _line(line: str) -> str:
    """Which row it is stands out."""
    row, colon, rest = line.partition(": ")
    return f"<b>{row}{colon}</b>{rest}"
