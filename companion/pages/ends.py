"""The ledger of ends as text: each end with its place and state, and how it is woven in."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Sequence

from companion.knitting import words
from companion.knitting.hands.ends import End, EndState
from companion.knitting.hands.weaving import backs_of
from companion.knitting.piece import Piece
from companion.knitting.strands.strands import Strands
from companion.knitting.words import US, Terms
from companion.problems import plain

Ledger = Sequence[tuple[End, EndState]]


def ledger(piece: Piece, strands: Strands, ends: Ledger, terms: Terms = US, shows_by: float = 0) -> Iterator[str]:
    """Every line, without line ends. ``shows_by``: behind a colour so much lighter (CIE L*) an end may show."""
    states = Counter(state for _, state in ends)
    yield plain(piece.title)
    yield ""
    counted = ", ".join(f"{number} {state}" for state, number in states.items())
    yield f"{words.how_many(len(ends), 'end')} to {terms.weave_in}: {counted}."
    yield words.TURNED_OVER
    backs = backs_of(piece, strands)
    for end, state in ends:
        weaving = backs.weaving(end)
        yield ""
        yield plain(f"{words.end_heading(strands, end)}: {words.yarns_beside(weaving)} ({state})")
        yield plain("  " + " ".join(words.how_to_weave(weaving, terms, shows_by)))
