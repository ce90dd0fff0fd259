"""Slipped edges: the first stitch of every flat row but the first is slipped purlwise, not worked.

A chain of slipped stitches makes an even edge (common practice, no source). The slipped stitch keeps the colour of
the row below, so that a new colour at the edge shows a row late. Where the edge is shaped at that stitch, it is not
slipped but worked; neither is it beside an opening, where the edge begins, nor where a tube's flat part is sewn up,
since a seam runs along worked stitches, nor where it is all that a new colour works in the row, or all of the row
(common practice, no source).
"""

from __future__ import annotations

from collections.abc import Iterator

from companion.knitting.cloth.faces import work
from companion.knitting.cloth.outlines import begins_at_opening, taken
from companion.knitting.cloth.rows import Hand, Place, Rows
from companion.knitting.cloth.shaping import shapings


def is_slipped(rows: Rows, index: int) -> bool:
    """Whether a row's first stitch is slipped."""
    if not rows.has_slipped_edges or not index or rows[index].is_round or begins_at_opening(rows, index):
        return False
    first = rows[index].segments[0]
    if rows.fabric.rows[index].seam_stitches or rows[index].stitches == 1:
        return False
    if first.stitches == 1 and _is_new(rows, index):
        return False
    return all((one.segment, one.after) != (0, 0) for one in shapings(rows, index))


def hands(rows: Rows, place: Place) -> tuple[tuple[Hand, int], ...]:
    """Knits and purls of a run as the hands do them, and the slipped stitch that it may begin with."""
    worked = work(rows[place.row], rows.segment(place))
    if place.segment or not is_slipped(rows, place.row):
        return worked
    (hand, count), *others = worked
    rest: list[tuple[Hand, int]] = [(hand, count - 1)] if count > 1 else []
    return (("sl", 1), *rest, *others)


def shown_late(rows: Rows) -> Iterator[int]:
    """The rows, from 0, whose first stitch is slipped and would be of another yarn than the row below has there."""
    for index in range(1, len(rows)):
        if is_slipped(rows, index) and _is_new(rows, index):
            yield index


def kept_yarn(rows: Rows, index: int) -> str:
    """The yarn of the stitch on the needle with which a row, not the first one, begins: a slipped one keeps it."""
    row, under = rows[index], taken(rows, index)
    stitch = rows.beneath(index).stitch_at(under.first if row.toward == "left" else under.last)
    return stitch.yarn if stitch else ""


def _is_new(rows: Rows, index: int) -> bool:
    """Whether a row's first stitch is of another yarn than the one it is worked on."""
    return rows[index].segments[0].yarn != kept_yarn(rows, index)
