"""Floats: the yarn that lies across the wrong side where a strand is carried, and where it is caught.

A float longer than one inch is caught every three to four stitches (knitting guides on the length of floats and on
catching them); in the same column on successive rows never, so odd rows catch in odd columns and even rows in even
ones, counted from the edge where right-side rows start (stagger: common practice, no source); never in the last
stitch before a change.
"""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction
from math import hypot
from typing import Literal, NamedTuple

from companion.knitting.cloth.fabric import Gauge
from companion.knitting.cloth.rows import Place, Row, Rows, goes_round
from companion.knitting.strands.limits import FREE_FLOAT_CM
from companion.knitting.strands.strands import Strands

CATCH_EVERY = 4
"""At most this many stitches between two catches (three to four: knitting guides on catching floats)."""

BABY_FLOAT_CM = Fraction(1)
"""Uncaught length in a baby's piece. From memory, not verified against a standard: fingers and toes catch in long
floats, so check the local safety rules."""

REST_CATCH_CM = Fraction(2)
"""A strand that rests is caught once in this height (common practice, no source)."""


class Catching(NamedTuple):
    """When floats are caught at a gauge: ``free`` stitches may lie uncaught, then at most ``apart`` stitches between
    catches; a resting strand is caught every ``rest_rows`` rows. All >= 1. ``stitch_cm``: a stitch's width.
    ``is_trapping``: tails are laid in as they come.
    """

    free: int
    apart: int
    rest_rows: int
    stitch_cm: Fraction
    is_trapping: bool = False


def catching(
    gauge: Gauge, *, is_for_baby: bool = False, is_trapping: bool = False
) -> Catching:
    """When floats are caught at this gauge."""
    free = max(1, int((BABY_FLOAT_CM if is_for_baby else FREE_FLOAT_CM) / gauge.stitch_cm))
    rest_rows = max(1, int(REST_CATCH_CM / gauge.row_cm))
    return Catching(free, min(CATCH_EVERY, free), rest_rows, gauge.stitch_cm, is_trapping)


class Float(NamedTuple):
    """One carry. The strand left ``origin`` and works ``place`` next; it passes ``stitches`` of ``place``'s row and
    rests ``rows`` rows. ``is_ahead``: it hangs over stitches still to be worked when the run begins."""

    strand: int
    yarn: str
    origin: Place
    place: Place
    stitches: int
    rows: int
    is_ahead: bool

    @property
    def is_behind(self) -> bool:
        """It passes behind other runs of its own row."""
        return self.origin.row == self.place.row

    def length_cm(self, gauge: Gauge) -> float:
        """How long the yarn lies, in centimetres."""
        return float_cm(self.stitches, self.rows, gauge)


def float_cm(stitches: int, rows: int, gauge: Gauge) -> float:
    """Yarn past so many stitches and resting rows: the diagonal of their width and height, in centimetres."""
    return hypot(stitches * gauge.stitch_cm, rows * gauge.row_cm)


def float_into(strands: Strands, place: Place) -> Float | None:
    """The float that leads to a run; None where its strand is joined there, or hangs at the very stitch."""
    origin = strands.before(place)
    if origin is None:
        return None
    rows = strands.rows
    stitches, is_ahead = passed(rows, origin, place)
    resting = rows.between(origin.row, place.row)
    if not stitches and not resting:
        return None
    return Float(strands.at(place), rows.segment(place).yarn, origin, place, stitches, resting, is_ahead)


def passed(rows: Rows, origin: Place, place: Place) -> tuple[int, bool]:
    """Stitches of the run's row between where the strand hangs and where it starts, and whether it hangs ahead."""
    row = rows[place.row]
    at = row.upto if origin.row == place.row else row.reached
    hang, entry = at(rows.segment(origin).exit), at(rows.segment(place).entry)
    around = row.stitches_around
    if around < row.stitches and goes_round(rows, origin, place):  # stitches for the seam are not made yet
        hang, entry = min(hang, around), min(entry, around)
    between = abs(hang - entry)
    is_ahead = (hang > entry) == (row.toward == "left")
    if around - between < between and goes_round(rows, origin, place):
        return around - between, not is_ahead
    return between, is_ahead


def all_floats(strands: Strands) -> Iterator[Float]:
    """Every float of the piece, in working order of the runs they lead to."""
    for place in strands.rows.places():
        if (found := float_into(strands, place)) is not None:
            yield found


class Mark(NamedTuple):
    """Something done inside a run, ``after`` so many of its stitches. To another strand: ``yarn`` is caught, or it
    rests there and is left hanging; ``is_caught`` and ``is_resting`` may both be true. To the run's own: ``renewed``
    tells how its next length comes in. ``trapped``: a tail of the yarn is laid in under so many of the next stitches.
    To the run's stitches: ``shaping`` tells how ``stitches`` are made or lost; it makes the next ``takes`` of them.
    """

    after: int
    yarn: str
    is_caught: bool
    is_resting: bool = False
    renewed: Literal["", "join", "splice"] = ""
    trapped: int = 0
    shaping: str = ""
    stitches: int = 0
    takes: int = 0


def marks(strands: Strands, row: int, how: Catching) -> dict[int, tuple[Mark, ...]]:
    """For every run of a row, by index, what is done to other strands while it is worked."""
    found: dict[int, list[Mark]] = {}
    for segment, mark in (*_catches(strands, row, how), *_rests(strands, row, how)):
        found.setdefault(segment, []).append(mark)
    return {segment: tuple(sorted(told, key=lambda mark: mark.after)) for segment, told in found.items()}


def _catches(strands: Strands, row: int, how: Catching) -> Iterator[tuple[int, Mark]]:
    """Catches of the floats that lead to runs of this row, each inside the run where the hands are then."""
    rows = strands.rows
    stops: _Stops | None = None
    for segment in range(len(rows[row].segments)):
        carried = float_into(strands, Place(row, segment))
        if carried is None or carried.stitches <= how.free:
            continue
        stops = stops or _Stops(rows[row])
        start = stops.begins[segment]
        first, last = (start, start + carried.stitches) if carried.is_ahead else (start - carried.stitches, start)
        for position in stops.catches(max(first, 0), min(last, stops.stitches), how.apart):
            at, after = stops.inside(position)
            yield at, Mark(after, carried.yarn, is_caught=True)


def _rests(strands: Strands, row: int, how: Catching) -> Iterator[tuple[int, Mark]]:
    """Strands that rest over this row, each at the gap where it hangs."""
    rows = strands.rows
    stops: _Stops | None = None
    for strand in strands.alive[row]:
        origin = _resting_since(strands, strand, row)
        if origin is None:
            continue
        stops = stops or _Stops(rows[row])
        gap = rows[row].upto(rows.segment(origin).exit)
        position = gap if rows[row].toward == "left" else stops.stitches - gap
        at, after = stops.inside(position)
        is_caught = (rows.between(origin.row, row) + 1) % how.rest_rows == 0
        yield at, Mark(after, rows.segment(origin).yarn, is_caught, is_resting=True)


def _resting_since(strands: Strands, strand: int, row: int) -> Place | None:
    """The run after which a strand rests over the row; None when it works in the row."""
    if strand in strands.strand_of[row]:
        return None
    at = strands.rows.fabric.below(row)
    while at is not None:
        for segment in range(len(strands.strand_of[at]) - 1, -1, -1):
            if strands.strand_of[at][segment] == strand:
                following = strands.after(Place(at, segment))
                is_here = following is not None and strands.rows[following.row].part == strands.rows[row].part
                return Place(at, segment) if is_here else None
        at = strands.rows.fabric.below(at)
    return None


class _Stops:
    """Positions in a row: ``position`` stitches of it are worked."""

    def __init__(self, row: Row) -> None:
        self.begins: list[int] = []
        self.stitches = 0
        self._columns: list[int] = []
        self._parity = (row.level + 1) % 2
        step = 1 if row.toward == "left" else -1
        for segment in row.segments:
            self.begins.append(self.stitches)
            self.stitches += segment.stitches
            for stretch in segment.stretches:
                self._columns += range(stretch.first, stretch.first + step * stretch.count, step)
        if row.is_mirrored:
            drawn = row.fabric.columns - row.fabric.seam_stitches
            self._columns = [drawn + 1 - column for column in self._columns]
        self._ends = set(self.begins) | {self.stitches}

    def inside(self, position: int) -> tuple[int, int]:
        """The run in whose course a position lies, and how many of its stitches are worked by then."""
        segment = max(i for i, start in enumerate(self.begins) if start < position or start == 0)
        return segment, position - self.begins[segment]

    def catches(self, first: int, last: int, apart: int) -> Iterator[int]:
        """Positions at which a float over the stitches ``first + 1`` to ``last`` is caught: as far apart as may be,
        in this row's columns, never with a run's last stitch."""
        at = first
        while last - at > apart:
            for position in (*range(at + apart, at, -1), *range(at + apart + 1, last)):
                if self._may_catch(position):
                    break
            else:
                return
            yield position
            at = position

    def _may_catch(self, position: int) -> bool:
        return position not in self._ends and self._columns[position - 1] % 2 == self._parity
