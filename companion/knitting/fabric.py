"""The fabric: which yarn and texture every stitch of the finished piece has, as seen from the right side.

Row 1 is the first row after the cast-on. Column 1 is the right edge seen from the right side. A row is kept
as runs of equal stitches from column 1 upward, never as one object a stitch; equal rows may share one value.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from fractions import Fraction
from functools import cached_property
from itertools import groupby
from typing import Literal, NamedTuple

Kind = Literal["stockinette", "reverse", "garter", "seed", "rib"]


class Texture(NamedTuple):
    """How a stitch looks from the right side: one of the usual ground patterns.

    ``rib`` is (knit columns, purl columns) and only counts for the kind "rib". Seed and rib are anchored to
    column 1 seen from the right side: rib starts with its knit columns there, seed with a knit stitch in row 1.
    """

    kind: Kind = "stockinette"
    rib: tuple[int, int] = (1, 1)


STOCKINETTE = Texture()


class Ball(NamedTuple):
    """How a yarn is sold: length in metres and weight in grams of one ball. Either may be unknown (None)."""

    metres: Fraction | None = None
    grams: Fraction | None = None


class Yarn(NamedTuple):
    """One yarn of the plan. ``colour`` is "#rrggbb"; ``symbol`` the one visible character it is shown by."""

    name: str
    colour: str
    symbol: str
    ball: Ball = Ball()


class Gauge(NamedTuple):
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


class Stitch(NamedTuple):
    """One cell of the fabric. ``sewn`` names the yarn added over it afterwards ("" = none)."""

    yarn: str
    texture: Texture = STOCKINETTE
    sewn: str = ""


@dataclass(frozen=True, slots=True)
class Run:
    """``count`` equal stitches side by side; ``stitch`` None is a stretch of "no stitch" cells."""

    count: int
    stitch: Stitch | None


class FabricRow(NamedTuple):
    """One row of the fabric from column 1 upward. ``is_round``: worked round, without a turn."""

    runs: tuple[Run, ...]
    is_round: bool = False

    @property
    def columns(self) -> int:
        """How many cells the row has, "no stitch" cells included."""
        return sum(run.count for run in self.runs)

    @property
    def stitches(self) -> int:
        """How many real stitches the row has."""
        return sum(run.count for run in self.runs if run.stitch is not None)


@dataclass(frozen=True)
class Fabric:
    """The rows from the cast-on edge up."""

    rows: tuple[FabricRow, ...]

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
            found.append(row.is_round or not index or self.rows[index - 1].is_round or not found[-1])
        return tuple(found)

    @cached_property
    def stitches(self) -> int:
        """All real stitches of the piece."""
        return sum(row.stitches for row in self.rows)


def merged(runs: Iterable[Run]) -> tuple[Run, ...]:
    """The same cells with equal neighbours joined into one run and empty runs dropped."""
    groups = groupby((run for run in runs if run.count), key=lambda run: run.stitch)
    return tuple(Run(sum(run.count for run in group), stitch) for stitch, group in groups)


def as_knitted(row: FabricRow) -> FabricRow:
    """The row as it comes off the needles, without the yarn that is sewn on afterwards."""
    if all(run.stitch is None or not run.stitch.sewn for run in row.runs):
        return row
    runs = (Run(run.count, run.stitch and run.stitch._replace(sewn="")) for run in row.runs)
    return row._replace(runs=merged(runs))


def cells(row: FabricRow) -> Iterator[Stitch | None]:
    """Every cell of the row from column 1 upward, one by one."""
    for run in row.runs:
        for _ in range(run.count):
            yield run.stitch
