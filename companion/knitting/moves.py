"""Every move that the limits allow: from the segment where a strand hangs to the segment it works next."""

from __future__ import annotations

from bisect import bisect_left, bisect_right
from collections.abc import Collection, Iterator

from companion.knitting.limits import Carry
from companion.knitting.rows import Place, Row, Rows, carry

START = Place(0, 0)

Hangings = dict[str, list[tuple[int, Place]]]
"""For every yarn, where strands are left hanging after a row: (gap, place), by gap."""


class Moves:
    """Legal moves into the segments of one piece, as design states them.

    Segments before ``position`` are worked: of those only the places in ``alive`` have a strand hanging on them.
    """

    def __init__(
        self, rows: Rows, limits: Carry, position: Place = START, alive: Collection[Place] = frozenset()
    ) -> None:
        self._rows = rows
        self._limits = limits
        self._position = position
        self._alive = alive
        self._hang: dict[int, Hangings] = {}

    def into(self, place: Place) -> Iterator[tuple[Place, int]]:
        """Every (place it comes from, carry) that may lead to ``place``; nearest rows first."""
        if self._limits.behind:
            yield from self._behind(place)
        rows = {place.row}
        for _ in range(min(self._limits.rest, place.row) + 1):
            rows = {before for row in rows for before in self._rows.before(row)}
            for row in sorted(rows, reverse=True):
                yield from self._from_row(row, place)

    def _behind(self, place: Place) -> Iterator[tuple[Place, int]]:
        row = self._rows[place.row]
        yarn = row.segments[place.segment].yarn
        for earlier in range(place.segment - 1, -1, -1):
            if row.segments[earlier].yarn == yarn:
                origin = Place(place.row, earlier)
                cost = carry(self._rows, origin, place)
                if cost > self._limits.behind:
                    return
                if self._is_alive(origin):
                    yield origin, cost

    def _from_row(self, row: int, place: Place) -> Iterator[tuple[Place, int]]:
        target = self._rows[place.row]
        segment = target.segments[place.segment]
        hang = self._hanging(row).get(segment.yarn, [])
        for _, origin in _near(hang, target, segment.entry, self._limits.reach):
            cost = carry(self._rows, origin, place)
            if cost <= self._limits.reach:
                yield origin, cost

    def _hanging(self, row: int) -> Hangings:
        found = self._hang.get(row)
        if found is None:
            found = self._hang[row] = {}
            for index, segment in enumerate(self._rows[row].segments):
                place = Place(row, index)
                if self._is_alive(place):
                    found.setdefault(segment.yarn, []).append((segment.exit, place))
            for hang in found.values():
                hang.sort()
        return found

    def _is_alive(self, place: Place) -> bool:
        return place >= self._position or place in self._alive


def _near(hang: list[tuple[int, Place]], target: Row, entry: int, reach: int) -> list[tuple[int, Place]]:
    """The hanging strands that may be within reach; all of them where gaps do not measure stitches."""
    if target.is_round or target.has_gaps:
        return hang
    low = bisect_left(hang, entry - reach, key=lambda item: item[0])
    high = bisect_right(hang, entry + reach, key=lambda item: item[0])
    return hang[low:high]
