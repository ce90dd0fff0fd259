"""The list of strands, in order of joining, told by place."""

from __future__ import annotations

from companion.knitting import words
from companion.progress.session import Session
from companion.screens.picking import PickingScreen


class StrandsScreen(PickingScreen):
    """Every strand of the piece: where it is joined, its rows, its stitches."""

    def __init__(self, session: Session, terms: words.Terms) -> None:
        super().__init__()
        self._session = session
        self._terms = terms

    def fill(self) -> None:
        """All strands; the totals on top."""
        strands = self._session.strands
        lines = [words.strand_line(strands, summary, self._terms) for summary in strands.summaries]
        self.put(words.strand_totals(strands.total), lines)
