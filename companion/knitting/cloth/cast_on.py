"""The cast-on: which yarn puts which stitches on the needle, what is begun in it, and where its tails hang.

The last stitch cast on is the first stitch of row 1. So sections in several colours are cast on in the reverse of row
1's working order, the old strand crossed over the new one at every change ("Intarsia color change on vertical line or
diagonal line", 2014), and each strand is left in the very gap where row 1 needs it. A tube is cast on likewise: round
1 goes back over its stitches, and is joined at its end (common practice, no source).

A long-tail cast-on ends with tail and strand at its last stitch; a knitted or cable one leaves the tail at its first
(common practice, no source).
"""

from __future__ import annotations

from companion.knitting.cloth.rows import Place, Rows
from companion.knitting.value import Record


class Section(Record):
    """So many stitches cast on side by side in one strand."""

    yarn: str
    stitches: int


def sections(rows: Rows) -> tuple[Section, ...]:
    """What is cast on, in the order in which the hands do it; one section where all is cast on in one yarn."""
    if rows.cast_on.is_each:
        return tuple(Section(segment.yarn, segment.stitches) for segment in reversed(rows[0].segments))
    return (Section(rows.cast_on.yarn or rows[0].segments[0].yarn, rows[0].stitches),)


def separate_yarn(rows: Rows) -> str:
    """The yarn of a cast-on that no run of row 1 goes on with, so that it is a length of its own, cut after the last
    stitch cast on; "" where row 1 is worked on with it."""
    cast_on = rows.cast_on
    if cast_on.is_each or not cast_on.yarn or cast_on.yarn == rows[0].segments[0].yarn:
        return ""
    return cast_on.yarn


def is_begun(rows: Rows, place: Place) -> bool:
    """Whether the strand that works a run for the first time was begun in the cast-on, and is not joined there."""
    if place.row:
        return False
    return rows.cast_on.is_each or (place.segment == 0 and not separate_yarn(rows))
