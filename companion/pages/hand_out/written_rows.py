"""The written rows, each with a box to tick: the very lines that the command for written rows prints."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from companion.pages import written
from companion.pages.hand_out.markup import Telling, boxed, paragraphs, telling
from companion.pages.hand_out.request import HandOut


def written_rows(hand_out: HandOut) -> Iterator[str]:
    """The rows as HTML."""
    piece, strands, terms = hand_out.piece, hand_out.strands, hand_out.terms
    told = telling(yarn.name for yarn in piece.yarns)
    yield paragraphs(map(told, written.how_to_read(piece, strands, terms)))
    first, last = hand_out.first, len(piece.rows) if hand_out.last is None else hand_out.last + 1
    before = [] if first else list(written.cast_on(piece, strands))
    rows = (written.row(piece, strands, index, terms) for index in range(first, last))
    items = [_item([], line, told) for line in before] + [_item(said, line, told) for *said, line in rows]
    done = hand_out.session.rows_done - first
    yield boxed(items, done + len(before) if done > 0 else 0)


def _item(said: Sequence[str], line: str, told: Telling) -> str:
    """A row, under what the plan says there. Which row it is stands out."""
    row, colon, rest = told(line).partition(": ")
    return f"{''.join(f'<i>{told(one)}</i><br>' for one in said)}<b>{row}{colon}</b>{rest}"
