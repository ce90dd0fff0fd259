"""What lies on the wrong side: crosses at every change of strands, strands that are carried, with their catches, and
the ends, loose or woven in. Places are told as on the right side: gap ``j`` lies between columns ``j`` and ``j + 1``.
"""

from __future__ import annotations

from collections.abc import Iterator

from companion.knitting.cloth.rows import Place, Row, Rows
from companion.knitting.hands.catches import Stops, is_caught_resting
from companion.knitting.hands.ends import corner, ends_of
from companion.knitting.hands.joins_and_cuts import crossed_over
from companion.knitting.hands.looks import columns_seen
from companion.knitting.hands.steps import End
from companion.knitting.hands.weaving import backs_of
from companion.knitting.piece import Piece
from companion.knitting.strands.floats import Catching, Float, float_into
from companion.knitting.strands.strands import Strands
from companion.knitting.value import Record


class Point(Record):
    """At a ``gap``, in the row that lies on so many others."""

    gap: int
    level: int


class Crossing(Record):
    """At a change the ``old`` strand lies over the ``new`` one, which works the run at ``place``."""

    at: Point
    old: str
    new: str
    place: Place


class Carried(Record):
    """A strand that lies loose before it works the run at ``place``. ``ways``: the points at which it is held, from
    the first to the last; two of them where it goes round the tube past the line along which the picture is opened.
    """

    yarn: str
    ways: tuple[tuple[Point, ...], ...]
    place: Place


class Tail(Record):
    """An end that hangs at a point. ``inward``: its own stitches lie toward higher columns (1) or lower ones (-1);
    ``is_below``, ``is_above``: it hangs at the edge below or above them. ``route``: the columns and levels of the
    stitches behind which it is woven in."""

    end: End
    yarn: str
    at: Point
    inward: int
    is_below: bool
    is_above: bool
    route: tuple[tuple[int, int], ...]


def crossings(strands: Strands) -> Iterator[Crossing]:
    """Every cross within a row, in working order."""
    rows = strands.rows
    for place in rows.places():
        if place.segment and (old := crossed_over(strands, place)):
            run = rows.segment(place)
            at = _point(rows, run.entry, rows[place.row].level)
            yield Crossing(at, old, run.yarn, place)


def carried(strands: Strands, how: Catching) -> Iterator[Carried]:
    """Every strand that is carried, in the order of the runs to which they lead. ``how``: when they are caught."""
    rows = strands.rows
    for place in rows.places():
        if (found := float_into(strands, place)) is not None:
            yield Carried(found.yarn, tuple(_ways(rows, found, how)), place)


def _ways(rows: Rows, found: Float, how: Catching) -> Iterator[tuple[Point, ...]]:
    origin, run, row = rows.segment(found.origin), rows.segment(found.place), rows[found.place.row]
    start, end = _point(rows, origin.exit, rows[found.origin.row].level), _point(rows, run.entry, row.level)
    held = (start, *_held_resting(rows, found, start.gap, how))
    caught = [_point(rows, gap, row.level) for gap in _caught(row, found, how)]
    is_straight = ((start.gap > end.gap) == (row.toward == "left")) == found.is_ahead
    if is_straight or not found.stitches:
        yield (*held, *_from(start.gap, caught), end)
        return
    out, back = (0, columns_seen(rows)) if start.gap < end.gap else (columns_seen(rows), 0)
    near = [point for point in caught if abs(point.gap - out) <= abs(start.gap - out)]
    yield (*held, *_from(start.gap, near), Point(out, row.level))
    yield (Point(back, row.level), *_from(back, [point for point in caught if point not in near]), end)


def _from(gap: int, points: list[Point]) -> list[Point]:
    """Points in the order in which they are reached from a gap."""
    return sorted(points, key=lambda point: abs(point.gap - gap))


def _held_resting(rows: Rows, found: Float, gap: int, how: Catching) -> Iterator[Point]:
    """Where a strand is caught on its way up while it rests."""
    for index in reversed(rows.way(found.place.row, found.origin.row)[1:-1]):
        if is_caught_resting(rows, found.origin, index, how):
            yield Point(gap, rows[index].level)


def _caught(row: Row, found: Float, how: Catching) -> Iterator[int]:
    """The gaps where a float is caught."""
    columns = [column for run in row.segments for column in run.columns]
    for position in Stops(row).catches(found, how):
        yield columns[position - 1] - (row.toward == "right")


def tails(piece: Piece, strands: Strands) -> Iterator[Tail]:
    """Every end of the piece where it hangs, in the order of the ledger of ends."""
    rows, backs = strands.rows, backs_of(piece, strands)
    for end in ends_of(strands):
        at, weaving = corner(end, strands), backs.weaving(end)
        yield Tail(
            end, weaving.yarn, _point(rows, at.gap, rows[at.row].level), at.inward, at.made == "cast-on",
            at.made == "bind-off", tuple((column, rows[row].level) for row, column in weaving.cells),
        )  # fmt: skip


def _point(rows: Rows, gap: int, level: int) -> Point:
    """A point in the picture, which has no stitches for a tube's seam."""
    return Point(min(gap, columns_seen(rows)), level)
