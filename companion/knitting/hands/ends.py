"""The ends of a piece: every strand leaves one where it is joined, unless it starts at the middle of a length that it
shares, and one where it is cut, and two more wherever its length ended on the way and a new one was joined. A cast-on
that is a length of its own has two as well."""

from __future__ import annotations

from fractions import Fraction
from typing import Literal, NamedTuple

from companion.knitting.cloth.cast_on import is_begun
from companion.knitting.cloth.fabric import Gauge
from companion.knitting.cloth.outlines import bound_off, taken
from companion.knitting.cloth.rows import Place, Rows
from companion.knitting.cloth.shaping import shapings
from companion.knitting.latest import latest
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


@latest
def ends_of(strands: Strands) -> tuple[End, ...]:
    """Every end the piece will have, in the order in which they come about."""
    starts = [End(Place(0, 0), kind) for kind in _OF_THE_CAST_ON] if strands.cast_on_ends else []
    starts += [End(place, "start") for place in strands.starts]
    finishes = [End(place, "finish") for place in strands.last.values()]
    for broken in strands.renewed:
        starts += [End(broken.place, "finish", broken.after), End(broken.place, "start", broken.after)]
    return tuple(sorted(starts + finishes, key=lambda end: (end.place.row, _is_at_turn(end), end.place, end.after)))


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


class Corner(NamedTuple):
    """Where an end hangs: at the stitch in ``column`` of row ``row`` (from 0). ``inward``: the way from its gap to
    that stitch and on into the fabric, 1 toward higher columns, -1 toward lower ones. ``edge``: its strand itself
    ``made`` so many stitches of the edge from there on; 0 = none."""

    row: int
    column: int
    inward: int
    edge: int = 0
    made: Literal["", "cast-on", "bind-off"] = ""

    @property
    def gap(self) -> int:
        """The gap where it hangs."""
        return self.column - (self.inward > 0)


def corner(end: End, rows: Rows) -> Corner:
    """Where an end hangs.

    A tail of the cast-on hangs where what was cast on with it ends, which is where row 1 starts on it; that of a
    knitted or cable cast-on where it began, at the far side. What is bound off flat goes back over the last row, and
    the tail hangs where that row began. Where a row begins by binding off or casting on, a strand joined for it hangs
    at the edge of the row below (common practice, no source).
    """
    index, row, run = end.place.row, rows[end.place.row], rows.segment(end.place)
    ahead = 1 if row.toward == "left" else -1
    is_far = end.kind == "finish"
    if end.after:
        return Corner(index, run.columns[end.after - is_far], -ahead if is_far else ahead)
    if end.kind == "cast-on finish" or is_of_cast_on(end, rows):
        runs = (run,) if rows.cast_on.is_each else row.segments
        is_far = rows.cast_on.method != "long-tail" and end.kind != "cast-on finish"
        column, inward = (runs[-1].last, -ahead) if is_far else (runs[0].first, ahead)
        return Corner(index, column, inward, sum(one.stitches for one in runs), "cast-on")
    if is_of_bind_off(end, rows):
        column, inward = (run.last, -ahead) if row.is_round else (row.segments[0].first, ahead)
        return Corner(index, column, inward, row.stitches, "bind-off")
    if not is_far and index and not end.place.segment:
        below, under = rows.before(index)[0], taken(rows, index)
        edge = under.first if ahead > 0 else under.last
        if off := bound_off(rows, index):
            return Corner(below, edge, ahead, off, "bind-off")
        if (made := next(iter(shapings(rows, index)), None)) and made.how == "cast on":
            return Corner(index, edge - ahead, -ahead, made.stitches, "cast-on")
    return Corner(index, run.last, -ahead) if is_far else Corner(index, run.first, ahead)


def is_of_bind_off(end: End, rows: Rows) -> bool:
    """Whether its strand binds off the piece, or a part of it, and is cut then."""
    row, segment = end.place
    is_last = segment + 1 == len(rows[row].segments) and not rows.following(row)
    return end.kind == "finish" and not end.after and is_last


def rows_until_ready(gauge: Gauge) -> int:
    """How many rows must lie above an end before it is ready to be woven in."""
    return -(-READY_CM // gauge.row_cm)
