"""What is said of a tube that is worked flat for some rows: how, and how it is sewn up."""

from __future__ import annotations

from collections.abc import Sequence

from companion.knitting.cloth.tubes import TubeSeam
from companion.knitting.words.terms import sentence, stitches_in_full

_FROM_EDGE = {1: "half a stitch", 2: "a whole stitch"}


def worked_flat(seam: TubeSeam) -> str:
    """Above the written rows: which of them are not worked round, and what they have more stitches for."""
    more = stitches_in_full(seam.stitches)
    flat = "is worked flat" if seam.first == seam.last else "are worked flat, turning after every row"
    return f"{sentence(_rows(seam))} {flat}, with {more} more for the seam, at the left edge as the right side looks."


def sew_tube(seams: Sequence[TubeSeam]) -> str:
    """After the last row: "Sew the side edges of rows 11 to 30 together, half a stitch from each edge"."""
    parts = [f"{_rows(seam)} together, {_FROM_EDGE[seam.stitches]} from each edge" for seam in seams]
    return f"Sew the side edges of {'; those of '.join(parts)}"


def _rows(seam: TubeSeam) -> str:
    first, last = seam.first + 1, seam.last + 1
    return f"row {first}" if first == last else f"rows {first} to {last}"
