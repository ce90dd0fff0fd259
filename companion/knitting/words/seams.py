"""Seams in words: what side edges are sewn to, and the flat rows of a tube."""

from __future__ import annotations

from collections.abc import Sequence

from companion.knitting.cloth.tubes import TubeSeam
from companion.knitting.words.terms import Terms, sentence, stitches_in_full


def sew_up(edges: int, terms: Terms) -> str:
    """What so many side edges of a piece are sewn to: a front's to those of the back, and the other way round."""
    side_edges = "side edge" if edges == 1 else "side edges"
    if terms.worn:
        other = f"{'that' if edges == 1 else 'those'} of the {'front' if terms.worn == 'back' else 'back'}"
        return f"Sew the {side_edges} to {other}, once it is finished too"
    if edges == 1:
        return f"Sew up the {side_edges}: to the piece that lies beside this one"
    return f"Sew up the {side_edges}: to each other, or to the pieces that lie beside this one"


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
