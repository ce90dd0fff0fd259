"""An alphabet for knitting: strokes two stitches wide, since a stitch is wider than high and a stroke of one would
need a strand for every speck of it. Drawn for this project."""

from __future__ import annotations

from companion.board.motifs import Motif

SIGNS = ""
"""Every character that can be written."""


def written(text: str, yarn: str) -> Motif:
    """A line of text as a motif in one yarn, letters as capitals.

    Raises:
        Problems: a character is not in the alphabet, or nothing is to be written.
    """
    raise NotImplementedError
