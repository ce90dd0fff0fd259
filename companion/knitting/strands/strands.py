"""The strands of a piece: which one works which segment, where each is joined and cut, and what of it is past."""

from __future__ import annotations

import sys
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from functools import cached_property
from types import MappingProxyType
from typing import NamedTuple

from companion.knitting.cloth.cast_on import separate_yarn
from companion.knitting.cloth.outlines import Bars
from companion.knitting.cloth.rows import Place, Rows, carry

StrandOf = tuple[tuple[int, ...], ...]
"""For every row in working order, the strand that works each of its segments. Strands are numbered from 1."""


Pair = tuple[Place, Place]
"""Two segments where strands are joined, in working order."""

_FEW_ROWS = 5_000
"""Runs of which the next one is kept."""


class Break(NamedTuple):
    """A strand's length ended inside a run, ``after`` so many of its stitches (0: before the first), and the next
    length was spliced to it, which leaves no end, or joined, which leaves two. The strand keeps its number."""

    place: Place
    after: int
    is_spliced: bool


class Past(NamedTuple):
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


@dataclass(frozen=True)
class Strands:
    """The strand of every segment, past and to come, where life broke a length off, and which joins are the halves of
    one length (``shared``)."""

    rows: Rows
    strand_of: StrandOf
    breaks: tuple[Break, ...] = ()
    shared: tuple[Pair, ...] = ()

    @cached_property
    def _next(self) -> dict[Place, Place]:
        """The segments after some that were asked for last: the same few rows are asked about again and again."""
        return {}

    def at(self, place: Place) -> int:
        """The number of the strand that works the segment."""
        return self.strand_of[place.row][place.segment]

    @cached_property
    def first(self) -> dict[int, Place]:
        """Where every strand is joined, in order of joining."""
        found: dict[int, Place] = {}
        for row, strands in enumerate(self.strand_of):
            for segment, strand in enumerate(strands):
                found.setdefault(strand, Place(row, segment))
        return found

    @cached_property
    def last(self) -> dict[int, Place]:
        """The last segment of every strand, after which it is cut."""
        return {
            strand: Place(row, segment)
            for row, strands in enumerate(self.strand_of)
            for segment, strand in enumerate(strands)
        }

    def before(self, place: Place) -> Place | None:
        """The segment that the same strand worked before this one; None where it is joined."""
        strand = self.at(place)
        if self.first[strand] == place:
            return None
        return self._look(strand, place, -1)

    def after(self, place: Place) -> Place | None:
        """The segment that the same strand works after this one; None where it is cut."""
        strand = self.at(place)
        if self.last[strand] == place:
            return None
        if place not in self._next:
            if len(self._next) > _FEW_ROWS:
                self._next.clear()
            self._next[place] = self._look(strand, place, 1)
        return self._next[place]

    def latest(self, strand: int, before: Place) -> Place | None:
        """The run that a strand works last before a place; None where it has none."""
        if strand not in self.first or self.first[strand] >= before:
            return None
        if self.last[strand] < before:
            return self.last[strand]
        row, upto = before
        while True:
            for segment in range(min(upto, len(self.strand_of[row])) - 1, -1, -1):
                if self.strand_of[row][segment] == strand:
                    return Place(row, segment)
            row, upto = row - 1, sys.maxsize

    def _look(self, strand: int, place: Place, step: int) -> Place:
        row, segment = place
        while True:
            segment += step
            while not 0 <= segment < len(self.strand_of[row]):
                row += step
                segment = 0 if step > 0 else len(self.strand_of[row]) - 1
            if self.strand_of[row][segment] == strand:
                return Place(row, segment)

    def stitches_before(self, place: Place) -> int:
        """How many stitches a segment's strand has worked before it."""
        return sum(self.rows.segment(earlier).stitches for earlier in self.path(self.at(place)) if earlier < place)

    def after_stitches(self, strand: int, stitches: int) -> tuple[Place, int] | None:
        """Where a strand is after so many stitches: the segment, and how many of its stitches are worked; None where
        it has no more than those."""
        for place in self.path(strand):
            if stitches < (here := self.rows.segment(place).stitches):
                return place, stitches
            stitches -= here
        return None

    def path(self, strand: int) -> Iterator[Place]:
        """Every segment that the strand works."""
        if strand not in self.first:
            return
        for row in range(self.first[strand].row, self.last[strand].row + 1):
            yield from (Place(row, i) for i, number in enumerate(self.strand_of[row]) if number == strand)

    def carry_into(self, place: Place) -> int:
        """Stitches the strand is carried over to this segment; 0 for a join."""
        origin = self.before(place)
        return 0 if origin is None else carry(self.rows, origin, place)

    @cached_property
    def summaries(self) -> tuple[StrandSummary, ...]:
        """Every strand in order of joining."""
        made = {strand: _Tally(self.rows.segment(place).yarn) for strand, place in self.first.items()}
        hanging: dict[int, Place] = {}
        for row, strands in enumerate(self.strand_of):
            for index, strand in enumerate(strands):
                place = Place(row, index)
                tally = made[strand]
                tally.segments += 1
                tally.stitches += self.rows.segment(place).stitches
                if strand in hanging:
                    tally.carried += carry(self.rows, hanging[strand], place)
                hanging[strand] = place
        return tuple(
            StrandSummary(n, t.yarn, self.first[n], self.last[n], t.segments, t.stitches, t.carried)
            for n, t in made.items()
        )

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

    @cached_property
    def starts(self) -> tuple[Place, ...]:
        """The joins that leave an end, in order of joining: all but the shared ones."""
        return tuple(place for place in self.first.values() if place not in self.other_half)

    @cached_property
    def end_rows(self) -> list[int]:
        """The row of every end the piece will have, a join or a cut, sorted."""
        planned = [0] * self.cast_on_ends
        planned += [place.row for places in (self.starts, self.last.values()) for place in places]
        return sorted([*planned, *(broken.place.row for broken in self.renewed for _ in ("finish", "start"))])

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


class _Tally:
    """What a strand does, summed up as its segments come."""

    def __init__(self, yarn: str) -> None:
        self.yarn = yarn
        self.segments = self.stitches = self.carried = 0


class StrandSummary(NamedTuple):
    """One strand: where it is joined and cut, how many segments and stitches it works, stitches carried over."""

    strand: int
    yarn: str
    joined: Place
    cut: Place
    segments: int
    stitches: int
    carried: int


class Total(NamedTuple):
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
