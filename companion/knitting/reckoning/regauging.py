"""A picture at another gauge: how many stitches and rows keep its size, and what stands in each of them.

A picture is a grid of stitches, rows from the cast-on up, in each from column 1 on; None is no stitch. It is either
redrawn by area, so that it keeps its looks, or kept stitch by stitch, so that it keeps its drawing.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace
from fractions import Fraction

from companion.knitting.cloth.fabric import Gauge, Stitch
from companion.knitting.piece import Piece
from companion.knitting.reckoning.bands import Band, Cells, Grid


def at_gauge(piece: Piece, gauge: Gauge) -> Piece:
    """The same stitches at another gauge. What other textures were measured at changes in proportion, since nobody
    has measured them anew."""
    wide, high = gauge.stitch_cm / piece.gauge.stitch_cm, gauge.row_cm / piece.gauge.row_cm
    gauges = {
        kind: Gauge(gauge.over_cm / (own.stitch_cm * wide), gauge.over_cm / (own.row_cm * high), gauge.over_cm)
        for kind, own in piece.gauges.items()
    }
    return replace(piece, gauge=gauge, gauges=gauges)


def keeping(many: int, old_cm: Fraction, new_cm: Fraction, every: int = 1) -> int:
    """So many stitches or rows of another width or height take as much room: the nearest multiple of ``every``."""
    return every * max(1, round(many * old_cm / new_cm / every))


def redrawn(grid: Grid, columns: int, rows: int) -> list[Cells]:
    """The picture in so many columns and rows: in each square what takes up most of its area in the old one; of
    equals what lies in its middle, or else was met first from column 1 and the cast-on on."""
    across, up = list(_shares(len(grid[0]), columns)), list(_shares(len(grid), rows))
    made: dict[tuple[tuple[int, int], ...], Cells] = {}
    numbers = {row: number for number, row in reversed(list(enumerate(map(tuple, grid))))}
    same = [numbers[tuple(row)] for row in grid]  # equal rows have one number
    found = []
    for share in up:
        key = tuple((same[at], part) for at, part in share)
        if key not in made:
            made[key] = tuple(_most(grid, key, part) for part in across)
        found.append(made[key])
    return found


def _shares(old: int, new: int) -> Iterator[list[tuple[int, int]]]:
    """For each of the ``new`` parts of a length which of its ``old`` ones it covers, and how much of each, in parts
    of a length of ``old`` x ``new``."""
    for at in range(new):
        low, high = at * old, (at + 1) * old
        yield [
            (part, min(high, (part + 1) * new) - max(low, part * new))
            for part in range(low // new, (high - 1) // new + 1)
        ]


def _most(grid: Grid, up: Sequence[tuple[int, int]], across: Sequence[tuple[int, int]]) -> Stitch | None:
    areas: dict[Stitch | None, int] = {}
    for row, high in up:
        for column, wide in across:
            stitch = grid[row][column]
            areas[stitch] = areas.get(stitch, 0) + high * wide
    most = max(areas.values())
    middle = grid[up[len(up) // 2][0]][across[len(across) // 2][0]]
    return middle if areas[middle] == most else next(stitch for stitch, area in areas.items() if area == most)


def redrawn_in(grid: Grid, old: Sequence[Band], new: Sequence[Band], columns: int) -> list[Cells]:
    """A picture in bands, each redrawn by itself in its new number of rows."""
    found, start = list[Cells](), 0
    for band, other in zip(old, new, strict=True):
        found += redrawn(grid[start:start + band.rows], columns, other.rows)
        start += band.rows
    return found


def in_ground(grid: Grid, columns: int, rows: int) -> list[Cells]:
    """The picture kept stitch by stitch and set in a ground that is so much wider and higher, or narrower as far as
    there is ground: at its sides, below and above it. What lies at an edge, a border, stays there."""
    upright = list(zip(*grid, strict=True))
    sideways = _in_ground(upright, columns)
    return _in_ground([tuple(row) for row in zip(*sideways, strict=True)], rows)


def _in_ground(lines: Sequence[Cells], wanted: int) -> list[Cells]:
    """Lines, of which those next to the ground's inner edge are doubled or left out; one more at the end where their
    number is odd."""
    first = _ground(lines)
    last = min(_ground(lines[::-1]), len(lines) - first)
    more = wanted - len(lines)
    begun, ended = lines[:first], lines[len(lines) - last:][::-1]
    middle = lines[first:len(lines) - last]
    low = int(more / 2) if more >= 0 else -(-more // 2)
    if not last or not first:  # ground on one side alone, or on none
        low = more if first else 0
    return [*_changed(begun, low), *middle, *_changed(ended, more - low)[::-1]]


def _ground(lines: Sequence[Cells]) -> int:
    """How many lines from an edge on have the yarns of the one at the edge, and stitches in all of it."""
    yarns = [stitch and stitch.yarn for stitch in lines[0]]
    if None in yarns:
        return 0
    return next(
        (at for at, line in enumerate(lines) if [stitch and stitch.yarn for stitch in line] != yarns), len(lines)
    )


def _changed(ground: Sequence[Cells], more: int) -> list[Cells]:
    """A ground with so many lines more at its inner end, or less: those next to it first, and none but such as are
    like the one before them."""
    kept = [*ground, *list(ground[-1:]) * more]
    for at in reversed(range(1, len(ground))):
        if len(kept) - len(ground) > more and ground[at] == ground[at - 1]:
            del kept[at]
    return kept
