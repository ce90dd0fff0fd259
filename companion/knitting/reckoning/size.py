"""How large a piece comes out: every stitch as wide and every row as high as its own texture's gauge says."""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from fractions import Fraction

from companion.knitting.cloth.fabric import FabricRow, TextureKind
from companion.knitting.cloth.tubes import as_drawn
from companion.knitting.piece import Piece
from companion.knitting.value import Record


class Size(Record):
    """Width and height of the finished fabric in centimetres."""

    width_cm: Fraction
    height_cm: Fraction


def size(piece: Piece) -> Size:
    """The widest row's width, without what the seam of a tube takes in, and the height of all rows."""
    widths = {id(row): row for row in piece.fabric.picture}
    width = max((_width(piece, row) for row in widths.values()), default=Fraction(0))
    return Size(width, max(heights(piece)))


def heights(piece: Piece) -> Sequence[Fraction]:
    """The height in centimetres after every number of rows, from 0 to all of them: of the part in work, in a divided
    piece.

    A row is as high as the texture that most of its stitches have; of equals, the one worked first from column 1.
    """
    known: dict[int, Fraction] = {}
    for row in piece.fabric.rows:
        if id(row) not in known:
            known[id(row)] = piece.gauge_of(_kind(row)).row_cm
    found = [Fraction(0)]
    for index, row in enumerate(piece.fabric.rows):
        found.append(known[id(row)] + max((found[low + 1] for low in piece.fabric.below(index)), default=Fraction(0)))
    return found


def _kind(row: FabricRow) -> TextureKind:
    counted: Counter[TextureKind] = Counter()
    for run in row.runs:
        if run.stitch is not None:
            counted[run.stitch.texture.kind] += run.columns
    return counted.most_common(1)[0][0]


def _width(piece: Piece, row: FabricRow) -> Fraction:
    row = as_drawn(row)  # the seam of a tube takes in as much as was added for it
    return sum(
        (run.columns * piece.gauge_of(run.stitch.texture.kind).stitch_cm for run in row.runs if run.stitch),
        Fraction(0),
    )
