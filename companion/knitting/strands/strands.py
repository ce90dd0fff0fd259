"""The strands of a piece: which one works which segment, where each is joined and cut, and what of it is past."""

from __future__ import annotations

from bisect import bisect_left, bisect_right
from collections.abc import Mapping, Sequence
from functools import cached_property
from itertools import pairwise
from types import MappingProxyType

from companion.knitting.cloth.carries import carry
from companion.knitting.cloth.cast_on import separate_yarn
from companion.knitting.cloth.outlines import Bars
from companion.knitting.cloth.rows import Place, Rows
from companion.knitting.value import Record, Value

StrandOf = tuple[tuple[int, ...], ...]
"""For every row in working order, the strand that works each of its segments. Strands are numbered from 1."""


Pair = tuple[Place, Place]
"""Two segments where strands are joined, in working order."""


class Break(Record):
    """A strand's length ended inside a run, ``after`` so many of its stitches (0: before the first), and the next
    length was spliced to it, which leaves no end, or joined, which leaves two. The strand keeps its number."""

    place: Place
    after: int
    is_spliced: bool


class Past(Record):
    """What was really worked: the strand of every segment so far, the last row perhaps in part, and the
    strands that were cut. A row of which nothing is worked yet is left out.

    ``again``: segments to come that a length already cut works once more, just as it did before they were ripped
    out; after the last of them it ends, unless its strand is not among ``cut``. ``shared``: the shared starts so far,
    of which those with a half on the needles stay.
    """

    worked: StrandOf = ()
    cut: frozenset[int] = frozenset()
    again: Mapping[Place, int] = MappingProxyType({})
    shared: tuple[Pair, ...] = ()


class Strands(Value, has_defaults=True):
    """The strand of every segment, past and to come, where life broke a length off, and which joins are the halves of
    one length (``shared``)."""

    rows: Rows
    strand_of: StrandOf
    breaks: tuple[Break, ...] = ()
    shared: tuple[Pair, ...] = ()

    def at(self, place: Place) -> int:
        """The number of the strand that works the segment."""
        return self.strand_of[place.row][place.segment]

    @cached_property
    def paths(self) -> dict[int, list[Place]]:
        """Every segment that a strand works, for every strand in order of joining."""
        found: dict[int, list[Place]] = {}
        for row, strands in enumerate(self.strand_of):
            for segment, strand in enumerate(strands):
                found.setdefault(strand, []).append(Place(row, segment))
        return found

    @cached_property
    def first(self) -> dict[int, Place]:
        """Where every strand is joined, in order of joining."""
        return {strand: path[0] for strand, path in self.paths.items()}

    @cached_property
    def last(self) -> dict[int, Place]:
        """The last segment of every strand, after which it is cut."""
        return {strand: path[-1] for strand, path in self.paths.items()}

    def before(self, place: Place) -> Place | None:
        """The segment that the same strand worked before this one; None where it is joined."""
        return self.latest(self.at(place), place)

    def after(self, place: Place) -> Place | None:
        """The segment that the same strand works after this one; None where it is cut."""
        path = self.paths[self.at(place)]
        at = bisect_right(path, place)
        return path[at] if at < len(path) else None

    def latest(self, strand: int, before: Place) -> Place | None:
        """The run that a strand works last before a place; None where it has none."""
        path = self.paths.get(strand, [])
        at = bisect_left(path, before)
        return path[at - 1] if at else None

    def stitches_before(self, place: Place) -> int:
        """How many stitches a segment's strand has worked before it."""
        path = self.paths[self.at(place)]
        return sum(self.rows.segment(earlier).stitches for earlier in path[:bisect_left(path, place)])

    def after_stitches(self, strand: int, stitches: int) -> tuple[Place, int] | None:
        """Where a strand is after so many stitches: the segment, and how many of its stitches are worked; None where
        it has no more than those."""
        for place in self.paths.get(strand, ()):
            if stitches < (here := self.rows.segment(place).stitches):
                return place, stitches
            stitches -= here
        return None

    @cached_property
    def summaries(self) -> tuple[StrandSummary, ...]:
        """Every strand in order of joining."""
        return tuple(self._summary(strand, path) for strand, path in self.paths.items())

    def _summary(self, strand: int, path: Sequence[Place]) -> StrandSummary:
        runs = [self.rows.segment(place) for place in path]
        carried = sum(carry(self.rows, u, v) for u, v in pairwise(path))
        stitches = sum(run.stitches for run in runs)
        return StrandSummary(strand, runs[0].yarn, path[0], path[-1], len(runs), stitches, carried)

    @cached_property
    def bars(self) -> Bars:
        """What keeps strands of this piece from going on."""
        return Bars(self.rows)

    @cached_property
    def alive(self) -> tuple[tuple[int, ...], ...]:
        """For every row, the strands joined and not yet cut while it is worked, in order of joining."""
        rows: list[list[int]] = [[] for _ in self.strand_of]
        for strand, place in self.first.items():
            for row in range(place.row, self.last[strand].row + 1):
                rows[row].append(strand)
        return tuple(map(tuple, rows))

    @cached_property
    def other_half(self) -> dict[Place, Place]:
        """For every join that is half of a shared start, where the other half is joined."""
        return {half: other for a, b in self.shared for half, other in ((a, b), (b, a))}

    @property
    def cast_on_ends(self) -> int:
        """How many ends the cast-on has that no strand has: two where it is a length of its own."""
        return 2 if separate_yarn(self.rows) else 0

    @property
    def renewed(self) -> tuple[Break, ...]:
        """The breaks at which a new length was joined: each leaves two ends more."""
        return tuple(broken for broken in self.breaks if not broken.is_spliced)

    @property
    def total(self) -> Total:
        """The piece's figures."""
        count = len(self.first)
        ends = 2 * count - 2 * len(self.shared) + 2 * len(self.renewed) + self.cast_on_ends
        return Total(count, ends, sum(s.carried for s in self.summaries), max(map(len, self.alive), default=0))


class StrandSummary(Record):
    """One strand: where it is joined and cut, how many segments and stitches it works, stitches carried over."""

    strand: int
    yarn: str
    joined: Place
    cut: Place
    segments: int
    stitches: int
    carried: int


class Total(Record):
    """Figures of a whole plan; ``most_at_once`` = the most strands not yet cut while one row is worked."""

    strands: int
    ends: int
    carried: int
    most_at_once: int


def position_of(past: Past, rows: Rows) -> Place:
    """The first segment still to be worked; one row past the end when all is done."""
    if not past.worked:
        return Place(0, 0)
    row, done = len(past.worked) - 1, len(past.worked[-1])
    return Place(row, done) if done < len(rows[row].segments) else Place(row + 1, 0)


def hanging(past: Past) -> dict[int, Place]:
    """Where every strand hangs that was worked and not cut: the last segment it worked."""
    found = {
        strand: Place(row, segment)
        for row, strands in enumerate(past.worked)
        for segment, strand in enumerate(strands)
    }
    return {strand: place for strand, place in found.items() if strand not in past.cut}
