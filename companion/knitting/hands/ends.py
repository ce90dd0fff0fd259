"""The ends of a piece: every strand leaves one where it is joined, unless it starts at the middle of a length that it
shares, and one where it is cut, and two more wherever its length ended on the way and a new one was joined. A cast-on
that is a length of its own has two as well."""

from __future__ import annotations

from fractions import Fraction
from typing import Literal, NamedTuple

from companion.knitting.cloth.cast_on import is_begun
from companion.knitting.cloth.fabric import Gauge
from companion.knitting.cloth.rows import Place, Rows
from companion.knitting.strands.strands import Strands

READY_CM = Fraction(5, 2)
"""An end is ready to be woven in when this much fabric lies above it (common practice, no source)."""

EndState = Literal["not yet", "too fresh", "ready", "for the seam", "woven"]
EndKind = Literal["start", "finish", "cast-on start", "cast-on finish"]


_OF_THE_CAST_ON: tuple[EndKind, ...] = ("cast-on start", "cast-on finish")


class End(NamedTuple):
    """One end: at the segment where its strand is joined ("start") or cut ("finish"). ``after`` above 0: inside the
    segment after so many stitches, where one length of the strand ended and the next was joined. "cast-on start" and
    "cast-on finish" are the two of a cast-on that is a length of its own, at the first segment of all."""

    place: Place
    kind: EndKind
    after: int = 0


def ends_of(strands: Strands) -> tuple[End, ...]:
    """Every end the piece will have, in the order in which they come about."""
    starts = [End(Place(0, 0), kind) for kind in _OF_THE_CAST_ON] if strands.cast_on_ends else []
    starts += [End(place, "start") for place in strands.starts]
    finishes = [End(place, "finish") for place in strands.last.values()]
    for broken in strands.renewed:
        starts += [End(broken.place, "finish", broken.after), End(broken.place, "start", broken.after)]
    return tuple(sorted(starts + finishes, key=_comes_about))


def _comes_about(end: End) -> tuple[int, bool, Place, int]:
    return end.place.row, _is_at_turn(end), end.place, end.after


def _is_at_turn(end: End) -> bool:
    """It comes about at the turn, when strands are cut, and not already with its run."""
    return end.kind == "finish" and not end.after


def is_end(end: End, strands: Strands) -> bool:
    """Whether a strand is joined or cut there at all."""
    row, segment = end.place
    if not (0 <= row < len(strands.strand_of) and 0 <= segment < len(strands.strand_of[row])):
        return False
    if end.kind in _OF_THE_CAST_ON:
        return end.place == (0, 0) and not end.after and bool(strands.cast_on_ends)
    if end.after:
        return any(broken[:2] == (end.place, end.after) for broken in strands.renewed)
    places = strands.first if end.kind == "start" else strands.last
    is_shared = end.kind == "start" and end.place in strands.other_half
    return places[strands.at(end.place)] == end.place and not is_shared


def exists(end: End, row: int, done: int, strands: Strands) -> bool:
    """Whether the end hangs at the fabric when ``done`` segments of row ``row`` are worked. A start exists from its
    segment on, and so do both ends inside a run; a finish from the turn at which its strand is cut."""
    if not is_end(end, strands):
        return False
    if not _is_at_turn(end):
        return end.place < (row, done)
    return end.place.row < row or (end.place.row == row and done == len(strands.strand_of[row]))


def is_of_cast_on(end: End, rows: Rows) -> bool:
    """Whether it was left by the cast-on: the tail of a strand begun there, or either end of its own length."""
    if end.kind == "start" and not end.after:
        return is_begun(rows, end.place)
    return end.kind in _OF_THE_CAST_ON


def corner(end: End, rows: Rows) -> tuple[int, bool]:
    """The segment of its row at which an end hangs, and whether at the far side of it, where that segment is left.

    A tail of the cast-on hangs where what was cast on with it ends, which is where row 1 starts on it; that of a
    knitted or cable cast-on where it began, at the far side (common practice, no source).
    """
    if end.kind == "cast-on finish":
        return 0, False
    if not is_of_cast_on(end, rows):
        return end.place.segment, end.kind == "finish"
    if rows.cast_on.method == "long-tail":
        return end.place.segment, False
    return (end.place.segment if rows.cast_on.is_each else len(rows[0].segments) - 1), True


def rows_until_ready(gauge: Gauge) -> int:
    """How many rows must lie above an end before it is ready to be woven in."""
    return -(-READY_CM // gauge.row_cm)
