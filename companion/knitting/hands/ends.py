"""The ends of a piece, each with the step that leaves it: a tail where a strand is joined or begun in the cast-on,
unless it starts at the middle of a length; one where it is cut or binds off; two where its length ended on the way
and another was joined; and two of a cast-on that is a length of its own."""

from __future__ import annotations

from bisect import bisect_left, bisect_right
from collections.abc import Iterator, Mapping
from fractions import Fraction
from itertools import accumulate
from typing import Literal

from companion.knitting.cloth.cast_on import is_begun
from companion.knitting.cloth.fabric import Gauge
from companion.knitting.cloth.outlines import bound_off, taken
from companion.knitting.cloth.rows import Place
from companion.knitting.cloth.shaping import shapings
from companion.knitting.hands.joins_and_cuts import bound_off_at, casting_on, cut_at, joined, renewed
from companion.knitting.hands.steps import BindOff, CastOn, Cut, CutCastOn, End, Join, Renew, cuts
from companion.knitting.latest import latest
from companion.knitting.strands.strands import Strands
from companion.knitting.value import Record

READY_CM = Fraction(5, 2)
"""An end is ready to be woven in when this much fabric lies above it (common practice, no source)."""

EndState = Literal["not yet", "too fresh", "ready", "for the seam", "woven"]

Leaving = CastOn | CutCastOn | Join | Renew | Cut | BindOff


@latest
def ends_of(strands: Strands) -> tuple[End, ...]:
    """Every end the piece will have, in the order in which they come about."""
    return tuple(left_by(strands))


@latest
def left_by(strands: Strands) -> Mapping[End, Leaving]:
    """The same, each with the step that leaves it."""
    return dict(sorted(_left(strands), key=lambda left: (left[0].place.row, _is_at_turn(left[0]), *left[0][::2])))


def _left(strands: Strands) -> Iterator[tuple[End, Leaving]]:
    cast_on = Place(0, 0)
    for step in casting_on(strands):
        match step:
            case CastOn(0):
                yield End(cast_on, "cast-on start"), step
            case CastOn(strand):
                yield End(strands.first[strand], "start"), step
            case CutCastOn():
                yield End(cast_on, "cast-on finish"), step
    for place in strands.first.values():
        if not is_begun(strands.rows, place) and isinstance(join := joined(strands, place), Join):
            yield End(place, "start"), join
    for broken in strands.breaks:
        if isinstance(renew := renewed(strands, broken), Renew):
            yield End(broken.place, "finish", broken.after), renew
            yield End(broken.place, "start", broken.after), renew
    for row in {place.row for place in strands.last.values()}:
        if cut := cut_at(strands, row):
            yield from ((End(Place(row, spot.nth - 1), "finish"), cut) for spot in cut.spots)
        if off := bound_off_at(strands, row):
            yield from ((End(strands.last[strand], "finish"), off) for strand in cuts(off))


def _is_at_turn(end: End) -> bool:
    """It comes about at the turn, when strands are cut, and not already with its run."""
    return end.kind == "finish" and not end.after


def exists(end: End, row: int, done: int, strands: Strands) -> bool:
    """Whether the end hangs at the fabric when ``done`` segments of row ``row`` are worked. A start exists from its
    segment on, and so do both ends inside a run; a finish from the turn at which its strand is cut."""
    if end not in left_by(strands):
        return False
    if not _is_at_turn(end):
        return end.place < (row, done)
    return end.place.row < row or (end.place.row == row and done == len(strands.strand_of[row]))


def ends_so_far(strands: Strands, row: int, done: int) -> int:
    """How many ends hang at the fabric then."""
    ends = ends_of(strands)
    below, upto = (side(ends, row, key=lambda end: end.place.row) for side in (bisect_left, bisect_right))
    return below + sum(exists(end, row, done, strands) for end in ends[below:upto])


def is_of_cast_on(end: End, strands: Strands) -> bool:
    """Whether it was left by the cast-on: the tail of a strand begun there, or either end of its own length."""
    return isinstance(left_by(strands)[end], CastOn | CutCastOn)


def is_of_bind_off(end: End, strands: Strands) -> bool:
    """Whether its strand binds off the piece, or a part of it, and is cut then."""
    return isinstance(left_by(strands)[end], BindOff)


class Corner(Record):
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


def corner(end: End, strands: Strands) -> Corner:
    """Where an end hangs.

    A tail of the cast-on hangs where what was cast on with it ends, which is where row 1 starts on it; that of a
    knitted or cable cast-on where it began, at the far side. What is bound off flat goes back over the last row,
    and its tail hangs where that row began, or the strand's own runs did. Where a row begins by binding off or
    casting on, a strand joined for it hangs at the edge of the row below (common practice, no source).
    """
    rows, index = strands.rows, end.place.row
    row, run, step = rows[index], rows.segment(end.place), left_by(strands)[end]
    ahead = 1 if row.toward == "left" else -1
    match step:
        case CastOn() | CutCastOn():
            runs = (run,) if rows.cast_on.is_each else row.segments
            is_far = rows.cast_on.method != "long-tail" and isinstance(step, CastOn)
            column, inward = (runs[-1].last, -ahead) if is_far else (runs[0].first, ahead)
            return Corner(index, column, inward, sum(one.stitches for one in runs), "cast-on")
        case Renew(_, after, _):
            is_old = end.kind == "finish"
            return Corner(index, run.columns[after - is_old], -ahead if is_old else ahead)
        case Join() if index and not end.place.segment:
            under = taken(rows, index)
            edge = under.first if ahead > 0 else under.last
            below = rows.fabric.under(index, edge)
            if (off := bound_off(rows, index)) and below is not None:
                return Corner(below, edge, ahead, off, "bind-off")
            if (made := next(iter(shapings(rows, index)), None)) and made.how == "cast on":
                return Corner(index, edge - ahead, -ahead, made.stitches, "cast-on")
        case BindOff():
            stitches = next(one.stitches for one in step.every if one.strand == strands.at(end.place))
            if row.is_round:
                return Corner(index, run.last, -ahead, stitches, "bind-off")
            back = accumulate(one.stitches for one in reversed(row.segments[:end.place.segment + 1]))
            over = next(runs for runs, made in enumerate(back) if made >= stitches)
            return Corner(index, row.segments[end.place.segment - over].first, ahead, stitches, "bind-off")
    return Corner(index, run.first, ahead) if end.kind == "start" else Corner(index, run.last, -ahead)


def rows_until_ready(gauge: Gauge) -> int:
    """How many rows must lie above an end before it is ready to be woven in."""
    return -(-READY_CM // gauge.row_cm)
