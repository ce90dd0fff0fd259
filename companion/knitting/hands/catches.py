"""What is done to other strands in the course of a run: floats that are caught, strands that rest over the row.

A float longer than one inch is caught every three to four stitches (knitting guides on the length of floats and on
catching them); in the same column on successive rows never, so odd rows catch in odd columns and even rows in even
ones, counted from the edge where right-side rows start (stagger: common practice, no source); never in the last
stitch before a change.
"""

from __future__ import annotations

from collections.abc import Iterator

from companion.knitting.cloth.rows import Place, Row, Rows
from companion.knitting.hands.needles import hung
from companion.knitting.hands.steps import Catch, Inside, Rest
from companion.knitting.strands.floats import Catching, Float, float_into
from companion.knitting.strands.strands import Strands


def done_to_others(strands: Strands, row: int, how: Catching) -> dict[int, list[tuple[int, Inside]]]:
    """For every run of a row, by index, what is done to other strands in its course, and after how many of its
    stitches."""
    found: dict[int, list[tuple[int, Inside]]] = {}
    marks = (*_catches(strands, row, how), *_rests(strands, row, how))
    for segment, after, step in sorted(marks, key=lambda mark: mark[:2]):
        found.setdefault(segment, []).append((after, step))
    return found


def _catches(strands: Strands, row: int, how: Catching) -> Iterator[tuple[int, int, Inside]]:
    """Catches of the floats that lead to runs of this row, each inside the run where the hands are then."""
    stops: Stops | None = None
    for segment in range(len(strands.rows[row].segments)):
        carried = float_into(strands, Place(row, segment))
        if carried is None or carried.stitches <= how.free:
            continue
        stops = stops or Stops(strands.rows[row])
        for position in stops.catches(carried, how):
            at, after = stops.inside(position)
            yield at, after, Catch(carried.yarn)


def _rests(strands: Strands, row: int, how: Catching) -> Iterator[tuple[int, int, Inside]]:
    """Strands that rest over this row, each where it hangs."""
    rows = strands.rows
    stops: Stops | None = None
    for strand in strands.alive[row]:
        origin = _resting_since(strands, strand, row)
        if origin is None:
            continue
        stops = stops or Stops(rows[row])
        at = hung(rows, origin, row)
        position = at if rows[row].toward == "left" else stops.stitches - at
        at, after = stops.inside(position)
        yield at, after, Rest(rows.segment(origin).yarn, is_caught_resting(rows, origin, row, how))


def is_caught_resting(rows: Rows, origin: Place, row: int, how: Catching) -> bool:
    """Whether a strand left after run ``origin`` is caught in a row over which it rests."""
    return (rows.between(origin.row, row) + 1) % how.rest_rows == 0


def _resting_since(strands: Strands, strand: int, row: int) -> Place | None:
    """The run after which a strand rests over the row; None when it works in the row, or waits with another part."""
    origin = strands.latest(strand, Place(row, 0))
    if origin is None or strand in strands.strand_of[row]:
        return None
    following = strands.after(origin)
    return origin if following and strands.rows.fabric.is_on_way(origin.row, row, following.row) else None


class Stops:
    """Positions in a row: ``position`` stitches of it are worked."""

    def __init__(self, row: Row) -> None:
        self.begins: list[int] = []
        self.stitches = 0
        self._columns: list[int] = []
        self._parity = (row.level + 1) % 2
        for segment in row.segments:
            self.begins.append(self.stitches)
            self.stitches += segment.stitches
            self._columns += segment.columns
        if row.is_mirrored:
            drawn = row.fabric.columns - row.fabric.seam_stitches
            self._columns = [drawn + 1 - column for column in self._columns]
        self._ends = set(self.begins) | {self.stitches}

    def inside(self, position: int) -> tuple[int, int]:
        """The run in whose course a position lies, and how many of its stitches are worked by then."""
        segment = max(i for i, start in enumerate(self.begins) if start < position or start == 0)
        return segment, position - self.begins[segment]

    def catches(self, carried: Float, how: Catching) -> Iterator[int]:
        """Positions at which a float that leads to a run of the row is caught, in the order of the stitches that it
        passes: none where it may lie uncaught."""
        start = self.begins[carried.place.segment]
        if carried.stitches > how.free:
            ends = (start, start + carried.stitches) if carried.is_ahead else (start - carried.stitches, start)
            yield from self._catches(max(ends[0], 0), min(ends[1], self.stitches), how.apart)

    def _catches(self, first: int, last: int, apart: int) -> Iterator[int]:
        """Positions at which a float over the stitches ``first + 1`` to ``last`` is caught: as far apart as may be,
        in this row's columns, never with a run's last stitch."""
        at = first
        while last - at > apart:
            near = (*range(at + apart, at, -1), *range(at + apart + 1, last))
            at = next(filter(self._may_catch, near), last)
            if at < last:
                yield at

    def _may_catch(self, position: int) -> bool:
        return position not in self._ends and self._columns[position - 1] % 2 == self._parity
