"""Acts for large letters as they are shown: words, a number of stitches and yarns, each of them data."""

from __future__ import annotations

from collections.abc import Iterable

from companion.knitting import words
from companion.knitting.cloth.fabric import Yarn
from companion.knitting.piece import Piece
from companion.knitting.value import Record


class ActTold(Record):
    """One act: ``text`` "KNIT", "CUT 2"; ``stitches`` of a run (0: none); ``yarns``: those it is done with, or to;
    ``is_main``: it is drawn largest, or of a row that has little room alone; ``waits``: a sentence is enough
    there, the sooner the greater the number; 0: it is not."""

    text: str
    stitches: int
    yarns: tuple[Yarn, ...]
    is_main: bool
    waits: int


def acts_told(acts: Iterable[words.Large], piece: Piece) -> tuple[ActTold, ...]:
    """Acts in the piece's own yarns."""
    return tuple(
        ActTold(one.text, one.stitches, tuple(map(piece.yarn, one.yarns)), one.is_main, one.waits) for one in acts
    )
