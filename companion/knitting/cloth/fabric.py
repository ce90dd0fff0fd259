"""The fabric: which yarn and texture every stitch of the finished piece has, as seen from the right side.

Row 1 is the first row after the cast-on. Column 1 is the right edge seen from the right side. A row is kept
as runs of equal stitches from column 1 upward, never as one object a stitch; equal rows may share one value. Rows
lie in working order: those of the whole piece and, where it divides, those of one part and then those of the other.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from fractions import Fraction
from functools import cached_property
from itertools import groupby
from typing import Literal

from companion.knitting.value import Record, Value

TextureKind = Literal["stockinette", "reverse", "garter", "seed", "rib"]
Part = Literal["", "left", "right"]
"""The part of a divided piece that a row belongs to, as seen from the right side; "" below its opening."""


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


class Fabric(Value, has_defaults=True):
    """The rows from the cast-on edge up, in working order. ``is_middle_held``: the stitches between two parts wait on
    a holder and are not bound off."""

    rows: tuple[FabricRow, ...]
    is_middle_held: bool = False

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
            found.append(row.is_round or below is None or self.rows[below].is_round or not found[below])
        return tuple(found)

    @cached_property
    def is_shaped(self) -> bool:
        """Not every row has the same columns."""
        return any(row.seam_stitches or run.stitch is None for row in self.rows for run in row.runs)

    @cached_property
    def starts(self) -> Mapping[Part, int]:
        """For every part, "" among them, the place of its first row in working order."""
        found: dict[Part, int] = {"": 0}
        if self.rows and self.rows[-1].part:
            for index, row in enumerate(self.rows):
                found.setdefault(row.part, index)
        return found

    @cached_property
    def undivided(self) -> int:
        """How many rows lie below the opening; all of them where there is none."""
        return min((start for part, start in self.starts.items() if part), default=len(self.rows))

    def below(self, index: int) -> int | None:
        """The row on whose stitches a row is worked; None for the first one."""
        if index in (0, *self.starts.values()):
            return self.undivided - 1 if index else None
        return index - 1

    def level(self, index: int) -> int:
        """How many rows lie below a row in the picture."""
        part = self.rows[index].part
        return self.undivided + index - self.starts[part] if part else index

    @cached_property
    def levels(self) -> tuple[tuple[int, ...], ...]:
        """The rows that lie side by side in the picture, from the cast-on edge up: one, or one of each part."""
        found: list[tuple[int, ...]] = [(index,) for index in range(self.undivided)]
        for index in range(self.undivided, len(self.rows)):
            level = self.level(index)
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
        if index + 1 < self.undivided:
            return index + 1
        return self.row_at(self.level(index) + 1, column)

    def around(self, index: int, column: int) -> list[tuple[int, int]]:
        """The row and column of the cells that touch one, above, below and beside it; those beside may not exist."""
        touching = [(row, column) for row in (self.above(index, column), self.below(index)) if row is not None]
        return [*touching, (index, column + 1), (index, column - 1)]

    @cached_property
    def stitches(self) -> int:
        """All real stitches of the piece."""
        return sum(row.stitches for row in self.rows)


def _side_by_side(rows: Sequence[FabricRow]) -> FabricRow:
    """One row with the stitches of all."""
    if len(rows) == 1:
        return rows[0]._replace(part="")
    beside = zip(*map(cells, rows), strict=True)
    runs = (Run(1, next((stitch for stitch in one if stitch is not None), None)) for one in beside)
    return FabricRow(merged(runs), rows[0].is_round)


def merged(runs: Iterable[Run]) -> tuple[Run, ...]:
    """The same cells with equal neighbours joined into one run and empty runs dropped."""
    groups = groupby((run for run in runs if run.columns), key=lambda run: run.stitch)
    return tuple(Run(sum(run.columns for run in group), stitch) for stitch, group in groups)


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


def cells_across(fabric: Fabric, level: int) -> list[Stitch | None]:
    """Every cell of a row of the picture, from column 1 to the last column of the fabric; None past its own last."""
    found = list(cells(fabric.picture[level]))
    return found + [None] * (fabric.columns - len(found))
