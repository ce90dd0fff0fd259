"""The moves of one yarn, row by row, between the gaps where its runs are entered and left; those of a row are worked
out when they are first asked for.

They are those of ``moves.legal_moves`` for whole runs of work that is not begun. Where strands may share runs every
place inside one is there, too, like a run of no stitches that may take its own exit, as it does where nobody meets
(``plan.weighed``); even one to which no way leads, or from which none does, which changes no count. So the moves of a
row hang on it and on those below it alone: after a change of a few rows the others stay as they are.
"""

from __future__ import annotations

from collections.abc import Callable, Collection, Iterable, Iterator, Sequence

from companion.knitting.cloth.outlines import Bars
from companion.knitting.cloth.rows import Rows
from companion.knitting.cloth.segments import Segment
from companion.knitting.howfar import TooMuchToWeigh
from companion.knitting.strands.limits import Carry
from companion.knitting.strands.meetings import inside
from companion.knitting.strands.moves import (
    MOST_LOOKS,
    MOST_MOVES,
    NO_EXIT,
    looks,
    may_pass_behind,
    moves_behind,
    moves_from_below,
    rows_below,
)
from companion.knitting.value import Record

Gap = int
"""Where a run is entered or left: its gap, counted on from row to row. It stays the same when runs beside it go."""


class Gaps(Record):
    """Where a yarn is entered and left in a row: the ends of its runs, and ``meetings``, places inside them."""

    entries: list[Gap]
    exits: list[Gap]
    meetings: list[Gap]


Taken = dict[Gap, list[Gap]]
"""For every entry of a row the exits that it may take, or for every exit of one the entries that may take it."""


class Ways:
    """Every legal move of a yarn.

    Raises:
        TooMuchToWeigh: the limits allow more than can be weighed; also when so many are asked for.
    """

    def __init__(self, rows: Rows, limits: Carry, yarn: str) -> None:
        if looks(rows, limits, range(len(rows))) > MOST_LOOKS:
            raise TooMuchToWeigh
        self._rows, self._limits, self._yarn = rows, limits, yarn
        self._across = rows.fabric.columns + 1
        self._gaps: dict[int, Gaps] = {}
        self._into: dict[int, Taken] = {}
        self._onto: dict[int, Taken] = {}
        self._room = MOST_MOVES

    def of(self, rows: Rows, changed: Collection[int]) -> Ways:
        """Those in rows of which some differ in their yarns, the others not worked out again."""
        other, into = Ways(rows, self._limits, self._yarn), self._further(changed, rows.following)
        onto = self._further(into, rows.before)
        other._gaps = {row: gaps for row, gaps in self._gaps.items() if row not in changed}
        other._into = {row: taken for row, taken in self._into.items() if row not in into}
        other._onto = {row: taken for row, taken in self._onto.items() if row not in onto}
        return other

    def gaps(self, row: int) -> Gaps:
        """Where the yarn is entered and left in a row."""
        found = self._gaps.get(row)
        if found is None:
            first, runs = row * self._across, self._runs(row)
            meetings = [first + place.exit for place in self._inside(row)]
            entries, exits = [first + run.entry for run in runs], [first + run.exit for run in runs]
            found = self._gaps[row] = Gaps(entries + meetings, exits + meetings, meetings)
        return found

    def into(self, entry: Gap) -> Sequence[Gap]:
        """The exits that an entry may take."""
        row = entry // self._across
        return self._into_row(row)[entry]

    def onto(self, exit_: Gap) -> Sequence[Gap]:
        """The entries that may take an exit."""
        row = exit_ // self._across
        return self._onto_row(row)[exit_]

    def _runs(self, row: int) -> list[Segment]:
        return [run for run in self._rows[row].segments if run.yarn == self._yarn]

    def _inside(self, row: int) -> Iterator[Segment]:
        """The places where two could meet."""
        if self._limits.share_runs:
            for index, run in enumerate(self._rows[row].segments):
                if run.yarn == self._yarn:
                    yield from inside(self._rows[row], index)

    def _further(self, rows: Collection[int], next_to: Callable[[int], Iterable[int]]) -> set[int]:
        """These rows, and those as far above, or below, as a strand may go on."""
        found = at = set(rows)
        for _ in range(min(self._limits.rest + 1, len(self._rows))):
            at = {other for row in at for other in next_to(row)}
            found = found | at
        return found

    def _onto_row(self, index: int) -> Taken:
        if (known := self._onto.get(index)) is not None:
            return known
        found = self._onto[index] = {exit_: [] for exit_ in self.gaps(index).exits}
        for row in sorted(self._further([index], self._rows.following)):
            for entry, exits in self._into_row(row).items():
                for exit_ in exits:
                    if exit_ in found:
                        found[exit_].append(entry)
        return found

    def _into_row(self, index: int) -> Taken:
        if (known := self._into.get(index)) is not None:
            return known
        rows, row, limits, first = self._rows, self._rows[index], self._limits, index * self._across
        doors = [*row.segments, *self._inside(index)]
        found: list[list[tuple[Gap, int]]] = [[] for _ in doors]
        if may_pass_behind(rows, index, limits):
            exits = [first + run.exit if run.yarn == self._yarn else NO_EXIT for run in row.segments]
            self._room = moves_behind(row, 0, exits, limits.behind, found, self._room)
        below = list(rows_below(rows, index, limits.rest))
        bars = Bars(rows, min((low for low, _ in below), default=index) + 1, index + 1)
        for low, is_round in below:
            left = sorted(self.gaps(low).exits)
            if left:
                hanging = {self._yarn: ([gap - low * self._across for gap in left], left)}
                may = bars.may_go_on(low, index)
                self._room = moves_from_below(
                    hanging, row, doors, 0, limits.reach, is_round, found, may, self._room
                )
        into = self._into[index] = {
            first + door.entry: [exit_ for exit_, _ in moves]
            for door, moves in zip(doors, found, strict=True) if door.yarn == self._yarn
        }
        for meeting in self.gaps(index).meetings:
            into[meeting].append(meeting)
        return into
