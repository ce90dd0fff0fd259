"""The fabric in working order: rows, each tiled by one-yarn segments.

A right-side row is worked from column 1 upward, a wrong-side row from the last column downward; a left-handed
knitter who works mirrored goes the other way on both. Rows worked round are always right-side rows, and so is the
first flat row after them. Gap ``j`` lies
between columns ``j`` and ``j + 1``. Reading direction and side: row 1 is a right-side row, odd rows are right-side
rows in flat work (stitch guides on reading charts).
"""

from __future__ import annotations

from bisect import bisect_left
from collections.abc import Iterator, Mapping
from functools import cached_property
from itertools import accumulate, groupby
from types import MappingProxyType
from typing import Literal

from companion.knitting.cloth.fabric import Fabric, FabricRow, Part, Stitch, as_knitted
from companion.knitting.cloth.segments import Segment, Toward, divided, segments
from companion.knitting.value import Record, Value

Side = Literal["RS", "WS"]
Hand = Literal["k", "p", "sl"]
"""Knit, purl, slip."""


Method = Literal["long-tail", "knitted", "cable"]


class Casting(Record):
    """How a piece is cast on. ``is_each``: every run of row 1 is cast on in a strand of its own. Otherwise all in one
    yarn: ``yarn``, or where it is "" that of row 1's first run."""

    method: Method = "long-tail"
    is_each: bool = False
    yarn: str = ""


LONG_TAIL = Casting()
"""Where a plan says nothing: in the yarn of row 1's first run, and the other strands are joined in row 1."""


class RowKey(Record):
    """A row's identity. ``part`` is empty where the piece is whole, and ``number`` then counts from the cast-on edge
    as rows lie above each other; those of a part are counted from 1, and on where there is a part of that name again.
    """

    part: Part
    number: int


class Place(Record):
    """One segment of the piece: index of its row in working order, index of the segment in that row. From 0."""

    row: int
    segment: int


class Row(Value, has_defaults=True):
    """One row as the hands meet it. ``after`` names the rows on whose stitches it is worked (none for row 1);
    ``level``: so many rows lie below it in the picture; ``base``: the outer gaps of the row below, where this one has
    stitches beyond them; None where it has none. ``inner``: the gaps between which the parts that it joins had none;
    None where they met, and elsewhere."""

    key: RowKey
    side: Side
    toward: Toward
    segments: tuple[Segment, ...]
    fabric: FabricRow
    after: tuple[RowKey, ...]
    level: int
    base: tuple[int, int] | None = None
    inner: tuple[int, int] | None = None

    @property
    def number(self) -> int:
        """The row's number in its part, or in the piece where that is whole, from 1."""
        return self.key.number

    @property
    def part(self) -> Part:
        """The part it belongs to; "" where the piece is whole."""
        return self.key.part

    @property
    def is_round(self) -> bool:
        """Worked round, without a turn at its end."""
        return self.fabric.is_round

    @cached_property
    def stitches_around(self) -> int:
        """How many stitches the tube has round which the row is begun: without those for the seam, which a tube's
        first flat row makes itself."""
        return self.reached(self.fabric.columns) - self.reached(0)

    @property
    def is_mirrored(self) -> bool:
        """Worked by a left-handed knitter from the left needle to the right one: right-side rows toward the right."""
        return (self.side == "RS") == (self.toward == "right")

    @cached_property
    def stitches(self) -> int:
        """How many stitches are on the needle when the row is done."""
        return sum(segment.stitches for segment in self.segments)

    @property
    def seen(self) -> list[tuple[str, int]]:
        """The yarn and the stitches of every run in working order, as they look: one that strands share is one."""
        alike = groupby(self.segments, key=lambda segment: segment.yarn)
        return [(yarn, sum(segment.stitches for segment in some)) for yarn, some in alike]

    @cached_property
    def _real_upto(self) -> list[int] | None:
        """Real stitches in columns 1..j, for every gap j; None where every cell is real."""
        if not self.has_gaps:
            return None
        real = (int(run.stitch is not None) for run in self.fabric.runs for _ in range(run.columns))
        return list(accumulate(real, initial=0))

    @cached_property
    def _stops(self) -> list[int]:
        """The last column of every run of the fabric."""
        return list(accumulate(run.columns for run in self.fabric.runs))

    def stitch_at(self, column: int) -> Stitch | None:
        """The stitch in a column; None where there is none, beside the row too."""
        at = bisect_left(self._stops, column)
        return self.fabric.runs[at].stitch if column >= 1 and at < len(self._stops) else None

    @property
    def has_gaps(self) -> bool:
        """Some cells are "no stitch"."""
        return any(run.stitch is None for run in self.fabric.runs)

    def upto(self, gap: int) -> int:
        """How many real stitches of this row lie in columns 1 to ``gap``."""
        if self._real_upto is None:
            return min(max(gap, 0), self.stitches)
        return self._real_upto[min(max(gap, 0), len(self._real_upto) - 1)]

    def reached(self, gap: int) -> int:
        """How many stitches that the row below has, too, lie in columns 1 to ``gap``: what is made beyond its edges,
        or between parts that are joined, is not there yet when a strand comes in from below."""
        if self.base is not None:
            gap = min(max(gap, self.base[0]), self.base[1])
        if self.inner is None:
            return self.upto(gap)
        return self.upto(gap) - self.upto(min(max(gap, self.inner[0]), self.inner[1])) + self.upto(self.inner[0])


Meetings = Mapping[int, tuple[int, ...]]
"""The gaps at which two strands meet in a run that they share, by row in working order; rising, none twice."""

NONE_MEET: Meetings = MappingProxyType({})


class Rows:
    """The rows of a fabric in working order, each made when it is first asked for.

    Row ``i`` (from 0) of an undivided piece has the key ``RowKey("", i + 1)``. Indexing raises IndexError as a tuple
    does.
    ``is_mirrored``: right-side rows start at the left edge of the same fabric. ``cast_on``: how row 1's stitches come
    onto the needle. ``has_slipped_edges``: the first stitch of flat rows is slipped. ``inward``: decreases and
    lifted increases lie so many stitches in from the edge. ``is_off_each``: at the end every run is bound off in the
    strand that worked it. ``meetings``: where strands share runs of the fabric, which are two segments each then.
    """

    def __init__(
        self, fabric: Fabric, *, is_mirrored: bool = False, cast_on: Casting = LONG_TAIL,
        has_slipped_edges: bool = False, inward: int = 0, is_off_each: bool = False, meetings: Meetings = NONE_MEET,
    ) -> None:
        self.fabric, self.is_mirrored, self.cast_on = fabric, is_mirrored, cast_on
        self.has_slipped_edges, self.inward, self.is_off_each = has_slipped_edges, inward, is_off_each
        self.meetings = meetings
        self._made: dict[int, Row] = {}
        self._joined: dict[int, Row] = {}
        self._segments: dict[tuple[int, Toward], tuple[Segment, ...]] = {}

    def of(self, fabric: Fabric) -> Rows:
        """The rows of a fabric that differs in a few rows, the others not made again."""
        return self._like(fabric, self.meetings)

    def divided_at(self, meetings: Meetings) -> Rows:
        """The same rows where strands share the runs in which they meet, and no others."""
        return self if meetings == self.meetings else self._like(self.fabric, dict(meetings))

    def _like(self, fabric: Fabric, meetings: Meetings) -> Rows:
        rows = Rows(
            fabric, is_mirrored=self.is_mirrored, cast_on=self.cast_on, has_slipped_edges=self.has_slipped_edges,
            inward=self.inward, is_off_each=self.is_off_each, meetings=meetings,
        )
        rows._made.update(
            (index, row) for index, row in self._made.items()
            if index < len(fabric.rows) and fabric.rows[index] is row.fabric
            and self.meetings.get(index) == meetings.get(index)
        )
        return rows

    @property
    def _ways(self) -> tuple[object, ...]:
        return (
            self.is_mirrored, self.cast_on, self.has_slipped_edges, self.inward, self.is_off_each,
            dict(self.meetings),
        )  # fmt: skip

    def __eq__(self, other: object) -> bool:
        return isinstance(other, Rows) and self._ways == other._ways and self.fabric == other.fabric

    def __hash__(self) -> int:
        return hash((len(self), self.is_mirrored))

    def __len__(self) -> int:
        return len(self.fabric.rows)

    def __iter__(self) -> Iterator[Row]:
        return map(self.__getitem__, range(len(self)))

    def __getitem__(self, index: int) -> Row:
        if index < 0:
            index = range(len(self))[index]
        row = self._made.get(index)
        if row is None:
            row = self._made[index] = self._row(index)
        return row

    def _row(self, index: int) -> Row:
        fabric = self.fabric
        cloth, below = fabric.rows[index], self.cloth_beneath(index)
        side: Side = "RS" if fabric.faces[index] else "WS"
        toward: Toward = "left" if (side == "RS") != self.is_mirrored else "right"
        after = tuple(_key(fabric, under) for under in fabric.below(index))
        base = None if below is None or not fabric.is_shaped else _base(cloth, below)
        runs = self._segments.get((id(cloth), toward))  # one row of the fabric may stand for many that are equal
        if runs is None:
            runs = self._segments[id(cloth), toward] = tuple(segments(as_knitted(cloth), toward))
        if index in self.meetings:
            runs = tuple(divided(runs, self.meetings[index]))
        inner = _inner(below) if below and len(after) > 1 else None
        return Row(_key(fabric, index), side, toward, runs, cloth, after, fabric.level(index), base, inner)

    def at(self, key: RowKey) -> int:
        """The place in working order of the row with this key.

        Raises:
            KeyError: no row has the key.
        """
        for block in self.fabric.blocks:
            if block.part == key.part and 0 <= (on := key.number - block.number) < block.stop - block.start:
                return block.start + on
        raise KeyError(key)

    def before(self, index: int) -> tuple[int, ...]:
        """The places of the rows on whose stitches row ``index`` is worked."""
        return self.fabric.below(index)

    def cloth_beneath(self, index: int) -> FabricRow | None:
        """What lies below a row, where parts are joined that of both; None below the first one."""
        below = self.fabric.below(index)
        if len(below) > 1:
            return self.fabric.picture[self.fabric.level(index) - 1]
        return self.fabric.rows[below[0]] if below else None

    def beneath(self, index: int) -> Row:
        """The row on whose stitches row ``index`` is worked; where parts are joined their last ones as one row.

        Raises:
            IndexError: nothing lies below it.
        """
        below = self.fabric.below(index)
        if len(below) < 2:
            return self[below[0]]
        if index not in self._joined:
            one = self[below[0]]
            cloth = self.fabric.picture[one.level]
            met = [gap for row in below for gap in self.meetings.get(row, ())]
            runs = tuple(divided(tuple(segments(as_knitted(cloth), one.toward)), met))
            self._joined[index] = Row(
                RowKey("", one.level + 1), one.side, one.toward, runs, cloth, one.after, one.level
            )
        return self._joined[index]

    def way(self, high: int, low: int) -> list[int]:
        """The rows from row ``high`` down to row ``low``, both included, as a strand passes them that goes up from
        the one to the other. It does not pass a whole opening: of two parts that are joined it hung on one."""
        found = [high]
        while found[-1] > low:
            below = self.before(found[-1])
            found.append(next((one for one in below if self.fabric.block(one) == self.fabric.block(low)), below[0]))
        return found

    def following(self, index: int) -> tuple[int, ...]:
        """The places of the rows that are worked on the stitches of row ``index``, in working order: none where it is
        bound off, two where the piece divides."""
        fabric = self.fabric
        number = fabric.block(index)
        block, later = fabric.blocks[number], fabric.blocks[number + 1:number + 3]
        if index + 1 < block.stop:
            return (index + 1,)
        if not block.part:
            return tuple(one.start for one in later)
        return tuple(one.start for one in later if not one.part and later[0].opening in (block.opening, -1))

    def onward(self, index: int) -> int | None:
        """The row that is worked right after row ``index``, on its stitches; None where they are bound off, or wait
        until the other part has come as far."""
        return index + 1 if index + 1 in self.following(index) else None

    def begins_part(self, index: int) -> bool:
        """Whether a row is the first one of a part above an opening."""
        block = self.fabric.block_of(index)
        return bool(block.part) and block.start == index

    def is_joining(self, index: int) -> bool:
        """Whether the parts beside an opening are joined again by a row."""
        return len(self.fabric.below(index)) > 1

    def between(self, low: int, high: int) -> int:
        """How many rows lie between two rows, one of which is worked on the stitches of the other by and by."""
        return max(0, self.fabric.level(high) - self.fabric.level(low) - 1)

    def are_rounds(self, low: int, high: int) -> bool:
        """Whether all rows between two rows, one after the other, are worked round; not where there is none."""
        between = self.fabric.rows[low + 1:high]
        return bool(between) and all(row.is_round for row in between)

    def ends_in_each(self, index: int) -> bool:
        """Whether what is bound off after a row is bound off run by run, each in the strand that worked it. In flat
        rows they hang where the way back meets their runs, in rounds at the far end, so that there it is not done."""
        return self.is_off_each and not self.fabric.rows[index].is_round and not self.following(index)

    def in_part(self, index: int) -> int:
        """The number of the last row of the part that row ``index`` belongs to."""
        part = self.fabric.rows[index].part
        last = [block for block in self.fabric.blocks if block.part == part][-1]
        return last.number + last.stop - last.start - 1

    def goes_on_round(self, index: int) -> bool:
        """Whether row ``index`` is begun where the row below ends, without a turn, round the tube: a round above
        another or above a right-side row, and the first flat row above one."""
        faces, below = self.fabric.faces, self.fabric.below(index)
        return bool(below) and faces[below[0]] and faces[index]

    def places(self) -> Iterator[Place]:
        """Every segment of the piece in working order."""
        for index, row in enumerate(self):
            for segment in range(len(row.segments)):
                yield Place(index, segment)

    def segment(self, place: Place) -> Segment:
        """The segment at a place."""
        return self[place.row].segments[place.segment]


def _base(cloth: FabricRow, below: FabricRow) -> tuple[int, int] | None:
    """The outer gaps of the row below, where the row goes beyond them."""
    own, under = cloth.stretches, below.stretches
    if cloth.is_round or not own or not under:
        return None
    low, high = under[0][0] - 1, under[-1][1]
    return (low, high) if own[0][0] <= low or own[-1][1] > high else None


def _inner(joined: FabricRow) -> tuple[int, int] | None:
    """The gaps beside the columns between two parts; None where there is none."""
    right, *left = joined.stretches
    return (right[1], left[0][0] - 1) if left else None


def _key(fabric: Fabric, index: int) -> RowKey:
    block = fabric.block_of(index)
    return RowKey(block.part, block.number + index - block.start)
