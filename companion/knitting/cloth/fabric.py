"""The fabric: which yarn and texture every stitch of the finished piece has, as seen from the right side.

Row 1 is the first row after the cast-on. Column 1 is the right edge seen from the right side. A row is kept
as runs of equal stitches from column 1 upward, never as one object a stitch; equal rows may share one value. Rows
lie in working order: those of the whole piece and, where it divides, those of one part and then those of the other,
and where these are joined again, those of the whole piece above.
"""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Iterable, Iterator, Sequence
from fractions import Fraction
from functools import cached_property
from itertools import groupby
from typing import Literal

from companion.knitting.value import Record, Value

TextureKind = Literal["stockinette", "reverse", "garter", "seed", "rib"]
Part = Literal["", "left", "right"]
"""The part of a divided piece that a row belongs to, as seen from the right side; "" where it is whole."""


class Texture(Record):
    """How a stitch looks from the right side: one of the usual ground patterns.

    ``rib`` is (knit columns, purl columns) and only counts for the kind "rib". Seed and rib are anchored to
    column 1 seen from the right side: rib starts with its knit columns there, seed with a knit stitch in row 1;
    where a piece is turned round, ``shift`` columns further on in the pattern.
    """

    kind: TextureKind = "stockinette"
    rib: tuple[int, int] = (1, 1)
    shift: int = 0

    def turned(self, columns: int) -> Texture:
        """The same in a piece of so many columns that is turned round, left for right."""
        knit, purl = self.rib
        if self.kind == "rib":
            return self._replace(shift=(knit - columns - self.shift) % (knit + purl))
        return self._replace(shift=(columns + 1 + self.shift) % 2) if self.kind == "seed" else self

    def begun_at(self, column: int) -> Texture:
        """The same in a piece in which its pattern is counted from so many columns further on than column 1."""
        every = {"rib": sum(self.rib), "seed": 2}.get(self.kind)
        return self._replace(shift=(self.shift - column) % every) if every else self


STOCKINETTE = Texture()


class Ball(Record):
    """How a yarn is sold: length in metres and weight in grams of one ball. Either may be unknown (None)."""

    metres: Fraction | None = None
    grams: Fraction | None = None


class Yarn(Record):
    """One yarn of the plan. ``colour`` is "#rrggbb"; ``symbol`` the one visible character it is shown by."""

    name: str
    colour: str
    symbol: str
    ball: Ball = Ball()


class Gauge(Record):
    """Stitches and rows over a measured length, in centimetres. All exact and positive."""

    stitches: Fraction
    rows: Fraction
    over_cm: Fraction = Fraction(10)

    @property
    def stitch_cm(self) -> Fraction:
        """Width of one stitch in centimetres."""
        return self.over_cm / self.stitches

    @property
    def row_cm(self) -> Fraction:
        """Height of one row in centimetres."""
        return self.over_cm / self.rows


class Stitch(Record):
    """One cell of the fabric. ``sewn`` names the yarn added over it afterwards ("" = none)."""

    yarn: str
    texture: Texture = STOCKINETTE
    sewn: str = ""


class Run(Record):
    """Equal stitches side by side, so many ``columns`` of them; ``stitch`` None is a stretch of "no stitch" cells."""

    columns: int
    stitch: Stitch | None


class FabricRow(Record):
    """One row of the fabric from column 1 upward. ``is_round``: worked round, without a turn. A row of a part has "no
    stitch" cells where the other part lies. ``seam_stitches``: so many stitches past the last column that is drawn,
    for the seam of a tube's flat part; 0 = there is none."""

    runs: tuple[Run, ...]
    is_round: bool = False
    part: Part = ""
    seam_stitches: int = 0

    @property
    def columns(self) -> int:
        """How many cells the row has, "no stitch" cells included."""
        return sum(run.columns for run in self.runs)

    @property
    def stitches(self) -> int:
        """How many real stitches the row has."""
        return sum(run.columns for run in self.runs if run.stitch is not None)

    @property
    def stretches(self) -> list[tuple[int, int]]:
        """The first and the last column of real stitches side by side, from column 1 upward."""
        found, column = [], 0
        for is_there, runs in groupby(self.runs, key=lambda run: run.stitch is not None):
            first, column = column + 1, column + sum(run.columns for run in runs)
            found += [(first, column)] if is_there else []
        return found


class Block(Record):
    """Rows worked one right after the other, all of one part or all of the whole piece: from ``start`` up to ``stop``
    and without it. So many rows lie below the first in the picture: ``level``; its number in its part is ``number``.
    ``opening``: the part lies beside the opening of this number, from 0 and the cast-on edge up; -1 = beside none."""

    part: Part
    start: int
    stop: int
    level: int
    number: int
    opening: int


class Fabric(Value, has_defaults=True):
    """The rows from the cast-on edge up, in working order. Where an opening lies the rows of its two parts follow
    each other; rows of the whole piece above them join the parts again. ``held``: the openings, from 0, between whose
    parts the stitches in the middle wait on a holder and are not bound off."""

    rows: tuple[FabricRow, ...]
    held: frozenset[int] = frozenset()

    @cached_property
    def columns(self) -> int:
        """The widest row, in cells."""
        return max((row.columns for row in self.rows), default=0)

    @cached_property
    def faces(self) -> tuple[bool, ...]:
        """For every row whether the right side faces the knitter: in rounds always, in the first row, and in the
        first flat row after a round, which goes on where the round ended; then in every second flat row, as the work
        is turned."""
        found: list[bool] = []
        for index, row in enumerate(self.rows):
            below = self.below(index)
            found.append(row.is_round or not below or self.rows[below[0]].is_round or not found[below[0]])
        return tuple(found)

    @cached_property
    def is_shaped(self) -> bool:
        """Not every row has the same columns."""
        return any(row.seam_stitches or run.stitch is None for row in self.rows for run in row.runs)

    @cached_property
    def blocks(self) -> tuple[Block, ...]:
        """The rows in blocks, in working order: one where the piece never divides. Rows of the whole piece are
        numbered as they lie in the picture, those of a part on from the last one of the same name."""
        if not any(row.part for row in self.rows):
            return (Block("", 0, len(self.rows), 0, 1, -1),)
        found, counted, start, opening = list[Block](), {"left": 1, "right": 1}, 0, -1
        for part, rows in groupby(row.part for row in self.rows):
            stop = start + len(list(rows))
            if not part:
                level = max((block.level + block.stop - block.start for block in found[-2:]), default=0)
                found.append(Block(part, start, stop, level, level + 1, -1))
            else:
                before = found[-1] if found else Block("", 0, 0, 0, 1, -1)
                is_second = bool(before.part)
                opening += not is_second
                level = before.level if is_second else before.level + before.stop - before.start
                found.append(Block(part, start, stop, level, counted[part], opening))
                counted[part] += stop - start
            start = stop
        return tuple(found)

    @cached_property
    def _starts(self) -> list[int]:
        return [block.start for block in self.blocks]

    def with_rows(self, rows: tuple[FabricRow, ...]) -> Fabric:
        """The same outline, its stitches in other yarns or textures. What follows from the outline alone is not
        worked out anew: a fabric is made so at every stroke of a pen."""
        made = Fabric(rows, self.held)
        made.__dict__.update((name, self.__dict__[name]) for name in OF_OUTLINE if name in self.__dict__)
        return made

    def block(self, index: int) -> int:
        """The number of the block in which a row lies, from 0."""
        return bisect_right(self._starts, index) - 1

    def block_of(self, index: int) -> Block:
        """The block in which a row lies."""
        return self.blocks[self.block(index)]

    @property
    def parts(self) -> tuple[Part, ...]:
        """The names of its parts, "" first, in the order in which they are begun."""
        return tuple(dict.fromkeys(block.part for block in self.blocks))

    def is_apart(self, one: int, other: int) -> bool:
        """Whether an opening lies between two rows: they belong to the two parts beside it."""
        a, b = self.block_of(one), self.block_of(other)
        return a.opening == b.opening and a.part != b.part

    def is_on_way(self, low: int, index: int, high: int) -> bool:
        """Whether a strand that rests from row ``low`` to row ``high``, which it reaches, passes row ``index``, one
        between them in working order: a row of the other part of an opening it does not pass."""
        block = self.block(index)
        return not self.blocks[block].part or block in (self.block(low), self.block(high))

    def below(self, index: int) -> tuple[int, ...]:
        """The rows on whose stitches a row is worked: none for the first one, two where parts are joined."""
        number = self.block(index)
        block = self.blocks[number]
        if index > block.start:
            return (index - 1,)
        if not block.part:
            return tuple(one.stop - 1 for one in self.blocks[max(0, number - 2):number])
        under = self.blocks[number - 1]
        return ((self.blocks[number - 2] if under.part else under).stop - 1,)

    def level(self, index: int) -> int:
        """How many rows lie below a row in the picture."""
        block = self.block_of(index)
        return block.level + index - block.start

    @cached_property
    def levels(self) -> tuple[tuple[int, ...], ...]:
        """The rows that lie side by side in the picture, from the cast-on edge up: one, or one of each part."""
        found: list[tuple[int, ...]] = []
        for block in self.blocks:
            for index in range(block.start, block.stop):
                level = block.level + index - block.start
                found[level:level + 1] = [(*found[level], index) if level < len(found) else (index,)]
        return tuple(found)

    @cached_property
    def picture(self) -> tuple[FabricRow, ...]:
        """The rows as they lie in the finished fabric, those of two parts side by side, from the cast-on edge up."""
        if len(self.levels) == len(self.rows):
            return self.rows
        return tuple(_side_by_side([self.rows[index] for index in level]) for level in self.levels)

    def row_at(self, level: int, column: int) -> int | None:
        """The row that has a column at this height; None beside the picture, and where neither part has a stitch
        there."""
        if not 0 <= level < len(self.levels):
            return None
        for index in self.levels[level]:
            row = self.rows[index]
            if not row.part or any(first <= column <= last for first, last in row.stretches):
                return index
        return None

    def above(self, index: int, column: int) -> int | None:
        """The row that lies on a row in this column; None where nothing does."""
        block = self.block_of(index)
        if not block.part and index + 1 < block.stop:
            return index + 1
        return self.row_at(self.level(index) + 1, column)

    def under(self, index: int, column: int) -> int | None:
        """The row on which a row lies in this column; None for the first one. Where parts are joined, and neither had
        a stitch there, one of them."""
        below = self.below(index)
        if len(below) < 2:
            return below[0] if below else None
        at = self.row_at(self.level(index) - 1, column)
        return below[0] if at is None else at

    def around(self, index: int, column: int) -> list[tuple[int, int]]:
        """The row and column of the cells that touch one, above, below and beside it; those beside may not exist."""
        touching = (self.above(index, column), self.under(index, column))
        return [*((row, column) for row in touching if row is not None), (index, column + 1), (index, column - 1)]

    @cached_property
    def stitches(self) -> int:
        """All real stitches of the piece."""
        return sum(row.stitches for row in self.rows)


OF_OUTLINE = ("columns", "faces", "is_shaped", "blocks", "_starts", "levels", "stitches")
"""What a fabric keeps that hangs on no stitch's yarn or texture."""


def _side_by_side(rows: Sequence[FabricRow]) -> FabricRow:
    """One row with the stitches of all."""
    if len(rows) == 1:
        return rows[0]._replace(part="")
    beside = zip(*map(cells, rows), strict=True)
    runs = (Run(1, next((stitch for stitch in one if stitch is not None), None)) for one in beside)
    return FabricRow(merged(runs), rows[0].is_round)


def merged(runs: Iterable[Run]) -> tuple[Run, ...]:
    """The same cells with equal neighbours joined into one run and empty runs dropped."""
    found: list[Run] = []
    for run in runs:
        if found and found[-1].stitch == run.stitch:
            found[-1] = Run(found[-1].columns + run.columns, run.stitch)
        elif run.columns:
            found.append(run)
    return tuple(found)


def as_knitted(row: FabricRow) -> FabricRow:
    """The row as it comes off the needles, without the yarn that is sewn on afterwards."""
    if all(run.stitch is None or not run.stitch.sewn for run in row.runs):
        return row
    runs = (Run(run.columns, run.stitch and run.stitch._replace(sewn="")) for run in row.runs)
    return row._replace(runs=merged(runs))


def cells(row: FabricRow) -> Iterator[Stitch | None]:
    """Every cell of the row from column 1 upward, one by one."""
    for run in row.runs:
        for _ in range(run.columns):
            yield run.stitch


def stitch_in(row: FabricRow, column: int) -> Stitch | None:
    """The one in a column of the row, from 1; None where there is none."""
    if column > 0:
        for run in row.runs:
            column -= run.columns
            if column <= 0:
                return run.stitch
    return None


def cells_across(fabric: Fabric, level: int) -> list[Stitch | None]:
    """Every cell of a row of the picture, from column 1 to the last column of the fabric; None past its own last."""
    found = list(cells(fabric.picture[level]))
    return found + [None] * (fabric.columns - len(found))
