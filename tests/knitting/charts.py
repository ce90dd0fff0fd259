"""Random and hand-drawn charts as plain grids, and what a careful reader makes of them cell by cell.

A grid is read as the fabric looks from the right side: ``grid[0]`` is row 1, ``grid[r][0]`` is column 1, the right
edge. Everything here counts single cells and knows nothing of runs, segments or gaps as the code under test has them.
"""

from __future__ import annotations

from collections.abc import Collection, Sequence
from dataclasses import dataclass
from fractions import Fraction
from itertools import groupby
from typing import get_args

from hypothesis import strategies as st

from companion.knitting.cloth.fabric import STOCKINETTE, Fabric, FabricRow, Gauge, Run, Stitch, Texture, Yarn
from companion.knitting.cloth.rows import LONG_TAIL, Casting, Method, Rows
from companion.knitting.piece import Piece
from companion.knitting.strands.limits import Carry
from tests.dice import dice

YARNS = ("sand", "brick", "kelp", "foam", "lamp", "tar")
TEXTURES = (
    Texture("garter"),
    Texture("reverse"),
    Texture("seed"),
    Texture("rib", (2, 2)),
    Texture("rib", (1, 3)),
    Texture("rib", (3, 1)),
)

Cell = Stitch | None


@dataclass(frozen=True)
class Chart:
    """A grid of cells from row 1, column 1; ``rounds``: which rows are worked round."""

    grid: tuple[tuple[Cell, ...], ...]
    rounds: tuple[bool, ...]

    @property
    def width(self) -> int:
        return max(map(len, self.grid))

    def side(self, row: int) -> str:
        """Flat: row 1 and every second row from it are right-side rows, counted anew after a round, which ends where
        it began. Round: all are."""
        flat = 0
        while not self.rounds[row - flat] and flat < row:
            flat += 1
        return "RS" if self.rounds[row] or (flat - self.rounds[row - flat]) % 2 == 0 else "WS"

    def worked(self, row: int) -> list[tuple[int, Stitch]]:
        """The real cells of a row one by one in working order, each with its column."""
        found = [(column, cell) for column, cell in enumerate(self.grid[row], 1) if cell is not None]
        return found if self.side(row) == "RS" else found[::-1]

    def runs(self, row: int, met: Collection[int] = ()) -> list[list[tuple[int, Stitch]]]:
        """The cells in working order, parted wherever the yarn changes, and where strands met: in the gap after so
        many columns."""
        found: list[list[tuple[int, Stitch]]] = []
        gap = 0
        for column, cell in self.worked(row):
            if found and found[-1][-1][1].yarn == cell.yarn and gap not in met:
                found[-1].append((column, cell))
            else:
                found.append([(column, cell)])
            gap = column if self.side(row) == "RS" else column - 1  # where the strand hangs then
        return found

    def faces(self, row: int) -> list[str]:
        """How every real stitch of a row looks from the right side, in working order: "knit" or "purl"."""
        is_flat_wrong_side = self.side(row) == "WS"
        return [
            "purl" if cell.texture.kind == "garter" and is_flat_wrong_side
            else "knit" if cell.texture.kind == "garter" and not self.rounds[row]
            else _look(row + 1, column, cell.texture)
            for column, cell in self.worked(row)
        ]  # fmt: skip

    def fabric(self) -> Fabric:
        rows = []
        for cells, is_round in zip(self.grid, self.rounds, strict=True):
            runs = tuple(Run(len(list(group)), cell) for cell, group in groupby(cells))
            rows.append(FabricRow(runs, is_round))
        return Fabric(tuple(rows))

    def rows(self, inward: int = 0) -> Rows:
        return Rows(self.fabric(), inward=inward)


def piece_of(chart: Chart, carry: Carry | None = None, rows: int = 28) -> Piece:
    """The chart as a whole piece at 20 stitches and, if nothing else is said, 28 rows over 10 cm."""
    yarns = tuple(Yarn(name, "#aa5500", name[0]) for name in YARNS)
    gauge = Gauge(Fraction(20), Fraction(rows))
    return Piece("Quay cloth", gauge, yarns, chart.fabric(), carry or Carry(3))


def drawn(*lines: str, is_round: bool = False) -> Chart:
    """A chart from lines drawn as the fabric looks: top line last row, left character last column. Letters are the
    first letters of the yarns; "." is no stitch."""
    cells: dict[str, Cell] = {".": None, **{name[0]: Stitch(name) for name in YARNS}}
    grid = tuple(tuple(cells[letter] for letter in reversed(line)) for line in reversed(lines))
    return Chart(grid, (is_round,) * len(lines))


@st.composite
def charts(
    draw: st.DrawFn,
    max_rows: int = 14,
    max_columns: int = 14,
    ways: Sequence[str] = ("flat", "flat", "round"),
    has_textures: bool = False,
    has_gaps: bool | None = None,
) -> Chart:
    """Charts of 1 to 14 rows and columns in 2 to 6 yarns: noise, or blocks that lean and split; flat, round, or
    some rows of each ("mixed"); one in three with "no stitch" cells."""
    height = draw(st.integers(1, max_rows))
    width = draw(st.integers(1, max_columns))
    names = YARNS[: draw(st.integers(2, 6))]
    yarns = _yarns(draw, height, width, names, draw(st.sampled_from(["blocks", "noise"])))
    textures = _textures(draw, height, width) if has_textures else [[STOCKINETTE] * width] * height
    if has_gaps is None:
        has_gaps = draw(st.booleans())
    gone = _gone(draw, height, width) if has_gaps else [[False] * width] * height
    grid = tuple(
        tuple(None if gone[r][c] else Stitch(yarns[r][c], textures[r][c]) for c in range(width))
        for r in range(height)
    )
    return Chart(grid, _rounds(draw, height, draw(st.sampled_from(list(ways)))))


def _yarns(draw: st.DrawFn, height: int, width: int, names: Sequence[str], how: str) -> list[list[str]]:
    thrown = draw(dice(height * width))
    grid: list[list[str]] = []
    for r in range(height):
        row: list[str] = []
        lean = thrown[r * width] % 3 - 1
        for c in range(width):
            die = thrown[r * width + c]
            if how == "blocks" and r and die < 200:
                row.append(grid[r - 1][min(max(c + lean, 0), width - 1)])
            elif how == "blocks" and c and die < 180:
                row.append(row[-1])
            else:
                row.append(names[die % len(names)])
        grid.append(row)
    return grid


def _textures(draw: st.DrawFn, height: int, width: int) -> list[list[Texture]]:
    palette = [STOCKINETTE, *draw(st.lists(st.sampled_from(TEXTURES), max_size=3))]
    thrown = draw(dice(height * width))
    return [[palette[thrown[r * width + c] // 32 % len(palette)] for c in range(width)] for r in range(height)]


def _gone(draw: st.DrawFn, height: int, width: int) -> list[list[bool]]:
    """Which cells are "no stitch"; every row keeps at least one real stitch."""
    thrown = draw(dice(height * width))
    found = []
    for r in range(height):
        row = [thrown[r * width + c] % 4 == 3 for c in range(width)]
        if all(row):
            row[thrown[r * width] % width] = False
        found.append(row)
    return found


def _rounds(draw: st.DrawFn, height: int, way: str) -> tuple[bool, ...]:
    if way == "mixed":
        return tuple(draw(st.lists(st.booleans(), min_size=height, max_size=height)))
    return (way == "round",) * height


def limits(max_reach: int = 15) -> st.SearchStrategy[Carry]:
    """Reach alone, as knitters begin; and with a ground passing behind and strands resting."""
    reach = st.integers(0, max_reach)
    alone = reach.map(Carry)
    no = st.just(False)
    return st.one_of(alone, st.builds(Carry, reach, st.integers(0, 6), st.integers(0, 4), no, no))


def shared_or_not(max_reach: int = 15) -> st.SearchStrategy[Carry]:
    """The same, and every second time joins may share a length."""
    return st.builds(lambda carry, share: carry._replace(share=share), limits(max_reach), st.booleans())


def castings() -> st.SearchStrategy[Casting]:
    """Every way to cast on, and the usual one."""
    methods = st.sampled_from(get_args(Method))
    in_one = st.builds(Casting, methods, yarn=st.sampled_from(["", *YARNS]))
    return st.just(LONG_TAIL) | st.builds(Casting, methods, st.just(True)) | in_one


def _look(number: int, column: int, texture: Texture) -> str:
    """By a chart reader's rules. Garter in the round: ridges, every second round purl-faced. Seed: a chequerboard,
    knit-faced where row and column are both odd or both even. Rib: knit columns first, from column 1."""
    if texture.kind == "reverse":
        return "purl"
    if texture.kind == "garter":
        return "knit" if number % 2 else "purl"
    if texture.kind == "seed":
        return "knit" if number % 2 == column % 2 else "purl"
    if texture.kind == "rib":
        knit, purl = texture.rib
        pattern = ["knit"] * knit + ["purl"] * purl
        return pattern[(column - 1) % len(pattern)]
    return "knit"
