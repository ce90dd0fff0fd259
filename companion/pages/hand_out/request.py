"""What a hand-out is made of: a piece with its strands, and how it is wanted."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from companion.knitting.cloth.rows import Rows
from companion.knitting.piece import Piece
from companion.knitting.strands.strands import Strands
from companion.knitting.value import Record
from companion.knitting.words import Terms
from companion.pages.hand_out.inks import Inks
from companion.progress.session import Phase, Session


class HandOut(Record):
    """``session``: the piece, begun or not; ``parts``: which parts are wanted, by name; rows ``first`` to ``last`` of
    chart and written rows (places in working order, from 0; None: all). ``now``: where the knitter of a piece in work
    is, in sentences. ``shows_by``: behind a colour so much lighter (CIE L*) an end may show. ``mark``: what names of
    places in the file begin with, where it has other hand-outs, too."""

    session: Session
    terms: Terms
    parts: Sequence[str]
    inks: Inks = "tints"
    first: int = 0
    last: int | None = None
    now: Sequence[str] = ()
    shows_by: float = 15
    mark: str = ""

    @property
    def piece(self) -> Piece:
        """The piece as its plan has it, with tails laid in or not as its knitter does."""
        piece, is_trapping = self.session.piece, self.session.is_trapping
        return piece if piece.is_trapping == is_trapping else replace(piece, is_trapping=is_trapping)

    @property
    def strands(self) -> Strands:
        """Its strands, as planned or worked."""
        return self.session.strands

    @property
    def rows(self) -> Rows:
        """Its rows, with the mistakes that are left in them."""
        return self.session.rows

    @property
    def row_in_work(self) -> int | None:
        """The row that is held, from 0; None where none is."""
        is_held = Phase.NOT_BEGUN < self.session.phase < Phase.WORKED
        return self.session.at.row if is_held else None
