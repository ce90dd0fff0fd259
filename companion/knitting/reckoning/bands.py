"""A picture in bands: rows that are worked alike, round or flat, with or without stitches for a seam, whole or in two
parts beside an opening. At another gauge each band has its own share of the rows, and its outline is made such that
hands can work it.

Columns and rows of a grid are counted from 0, from column 1 and from the cast-on up.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from fractions import Fraction
from itertools import groupby, pairwise
from math import lcm

from companion.knitting.cloth.fabric import Fabric, Part, Stitch
from companion.knitting.cloth.outlines import MOST_DECREASED, Span
from companion.knitting.cloth.tubes import columns_drawn
from companion.knitting.value import Record

Cells = tuple[Stitch | None, ...]
Grid = Sequence[Sequence[Stitch | None]]


class Band(Record):
    """So many rows, worked alike. ``seam``: stitches for a tube's seam, which are not drawn. ``first``: the part that
    is worked first beside an opening, "" where there is none; ``is_held``: what lies in its middle waits; ``at``: so
    many columns lie to the right of it where no gap shows it, in the middle of the gap where one does."""

    rows: int
    is_round: bool = False
    seam: int = 0
    first: Part = ""
    is_held: bool = False
    at: Fraction = Fraction(0)


class Slit(Record):
    """An opening of a drawn piece: ``first`` is worked first, ``level``: so many rows lie below it; ``at``: so many
    stitches lie to the right where some row shows no gap, 0 = all show it, and then it is so many rows ``high``,
    0 = to the top."""

    first: Part
    level: int
    at: int
    high: int
    is_held: bool


def bands(fabric: Fabric) -> list[Band]:
    """All bands of a fabric, from the cast-on up."""
    keys = []
    for indices in fabric.levels:
        row, block = fabric.rows[indices[0]], fabric.block_of(indices[0])
        yarns = {run.stitch.yarn for run in row.runs if run.stitch}
        # A stripe in the round stays one: rows that are part of both its yarns would change yarn all round the tube.
        stripe = next(iter(yarns)) if row.is_round and len(yarns) == 1 else ""
        keys.append((row.is_round, row.seam_stitches, block.opening, stripe))
    found, level = list[Band](), 0
    for (is_round, seam, opening, _), alike in groupby(keys):
        rows = len(list(alike))
        if opening < 0:
            found.append(Band(rows, is_round, seam))
        else:
            first, right, left = fabric.rows[fabric.levels[level][0]].part, *_beside(fabric, level)
            at = Fraction(right.last + left.first - 1, 2)
            found.append(Band(rows, first=first, is_held=opening in fabric.held, at=at))
        level += rows
    return found


def _beside(fabric: Fabric, level: int) -> tuple[Span, Span]:
    """Columns, from 1, of the right and the left part where they begin."""
    first, other = (fabric.rows[index] for index in fabric.levels[level])
    right, left = (first, other) if first.part == "right" else (other, first)
    return Span(*right.stretches[0]), Span(*left.stretches[0])


def scaled(old: Sequence[Band], columns: Fraction, rows: int) -> list[Band]:
    """The bands in so many rows, each with its share to the nearest row: one at least, but none where other rounds
    lie below. ``columns``: the part that the new columns are of the old ones. Flat rows between rounds are even in
    number, so that they end where a round begins (as a plan must have them)."""
    every = sum(band.rows for band in old)
    rounds = [number for number, band in enumerate(old) if band.is_round]
    found, done, exact, flat = list[Band](), 0, Fraction(0), 0
    for number, band in enumerate(old):
        exact += Fraction(band.rows * rows, every)
        high = max(int(not (number and band.is_round and old[number - 1].is_round)), round(exact) - done)
        flat = 0 if band.is_round else flat + high
        is_before_round = bool(rounds) and rounds[0] < number < rounds[-1] and old[number + 1].is_round
        if flat % 2 and is_before_round:
            high += 1 if high == 1 or exact > done + high else -1
        found.append(band._replace(rows=high, at=band.at * columns))
        done += high
    return found


def repeat_round(fabric: Fabric) -> int:
    """The stitches of a tube are a multiple of so many: those of its ribs and seed stitch, that go on where a round
    ends. 1 where they do not, and in a flat piece."""
    textures = {run.stitch.texture for row in set(fabric.rows) if row.is_round for run in row.runs if run.stitch}
    every = lcm(*({"rib": sum(one.rib), "seed": 2}.get(one.kind, 1) for one in textures))
    return 1 if columns_drawn(fabric) % every else every


def slits(fabric: Fabric) -> list[Slit]:
    """The openings of a fabric, from the cast-on up."""
    found, level, all_bands = list[Slit](), 0, bands(fabric)
    for number, band in enumerate(all_bands):
        if band.first:
            beside = [_parts(fabric, at) for at in range(level, level + band.rows)]
            found.append(_slit(band, level, beside, is_closed=number + 1 < len(all_bands)))
        level += band.rows
    return found


def _parts(fabric: Fabric, level: int) -> tuple[Span | None, Span | None]:
    spans = {fabric.rows[index].part: Span(*fabric.rows[index].stretches[0]) for index in fabric.levels[level]}
    return spans.get("right"), spans.get("left")


def _slit(band: Band, level: int, beside: Sequence[tuple[Span | None, Span | None]], *, is_closed: bool) -> Slit:
    right, _ = beside[0]
    touch = any(one and other and one.last + 1 == other.first for one, other in beside)
    at = right.last - right.first + 1 if touch and right else 0
    return Slit(band.first, level, at, band.rows if touch and is_closed else 0, band.is_held)


class Outline:
    """A picture in bands with an outline that hands can work: one stretch of stitches in a row or in its part, and
    where a row ends no more stitches less than can be decreased; what is lost beyond that goes a row later, where a
    row begins. Rounds keep the edges below them, and so does a row that joins two parts with a gap between them.
    Rows without a stitch stay as they are.

    ``rows``: the picture; ``slits``: its openings.
    """

    def __init__(self, grid: Grid, all_bands: Sequence[Band]) -> None:
        self.rows = list[Cells]()
        self.slits = list[Slit]()
        self._below: Span | None = None  # the outer edges of the row below
        self._is_kept = False  # the next row has the edges of the one below
        self._is_right = False  # the side of the row below
        start = 0
        for number, band in enumerate(all_bands):
            lines = grid[start:start + band.rows]
            if band.first:
                self._open(lines, band, is_closed=number + 1 < len(all_bands))
            else:
                self._whole(lines, band)
            start += band.rows

    def _whole(self, lines: Grid, band: Band) -> None:
        for line in lines:
            there = _there(line)
            self._is_right = band.is_round or not self._below or not self._is_right
            if there:
                if self._below is None:
                    self._below = Span(there[0], there[-1])
                elif not (band.is_round or self._is_kept):
                    self._below = _stepped(self._below, Span(there[0], there[-1]), self._is_right)
                self._is_kept = band.is_round
            self.rows.append(_filled(line, [(there, self._below)] if there and self._below else []))
        if band.is_round:  # the next flat row goes on where the round ended
            self._is_right = False

    def _open(self, lines: Grid, band: Band, *, is_closed: bool) -> None:
        level, is_right, cut, split = len(self.rows), not self._is_right, round(band.at), 0
        outer, beside = self._below, list[tuple[Span | None, Span | None]]()
        known: list[Span | None] = [None, None]  # the right part's edges and the left one's
        for number, line in enumerate(lines):
            there = _there(line)
            if not number and there:  # either part has a stitch
                cut = max(there[0] + 1, min(cut, there[-1]))
            under = known[1]
            for part, own in enumerate(_divided(there, cut)):
                wanted, before = (Span(own[0], own[-1]) if own else None), known[part]
                if number and (before is None or wanted is None):
                    known[part] = before if is_closed else None
                elif wanted and before:
                    known[part] = _stepped(before, wanted, is_right)
                elif wanted and outer:  # beside the opening the first row has just the stitches it is worked on
                    first, last = _stepped(outer, wanted, is_right)
                    known[part] = Span(wanted.first, last) if part else Span(first, wanted.last)
            right, left = known
            if right and left and under:
                known = list(_apart(right, left, under, split))
                right, left = known
            if right:
                cut = right.last + 1
                split = split if number else cut
            beside.append((right, left))
            self.rows.append(_filled(line, [(there, span) for span in known if span]))
            is_right = not is_right
        self._is_right = not is_right
        self.slits.append(_slit(band, level, beside, is_closed=is_closed))
        right, left = beside[-1]
        if right and left:
            self._below, self._is_kept = Span(right.first, left.last), right.last + 1 < left.first


def _apart(right: Span, left: Span, under: Span, split: int) -> tuple[Span, Span]:
    """Two parts that do not run into each other; ``under``: the left one's edges in the row below. A plan says once
    where parts meet, in the first row, before column ``split``; elsewhere a gap of a stitch tells them apart. That
    one yields which grows."""
    if right.last + 1 < left.first or right.last + 1 == left.first == split:
        return right, left
    if left.first >= under.first:
        return Span(right.first, left.first - 1 - (left.first != split)), left
    right = Span(right.first, min(right.last, under.first - 2))
    return right, Span(right.last + 1 + (right.last + 1 != split), left.last)


def _there(line: Sequence[Stitch | None]) -> list[int]:
    return [at for at, stitch in enumerate(line) if stitch is not None]


def _stepped(below: Span, wanted: Span, is_right: bool) -> Span:
    """The edges of a row above another, with the right side toward the knitter where it ``is_right``: hands begin at
    column 1 then, and where they end no more are lost than can be decreased."""
    low, high = wanted
    if not is_right and low - below.first > MOST_DECREASED:
        low = below.first
    if is_right and below.last - high > MOST_DECREASED:
        high = below.last
    return Span(low, high)


def _divided(there: Sequence[int], cut: int) -> tuple[list[int], list[int]]:
    """The columns of the right and of the left part: on either side of the gap between them, or of the column where
    they are cut."""
    gaps = [high for low, high in pairwise(there) if high > low + 1]
    at = min(gaps, key=lambda gap: abs(gap - cut), default=cut)
    return [column for column in there if column < at], [column for column in there if column >= at]


def _filled(line: Sequence[Stitch | None], stretches: Iterable[tuple[Sequence[int], Span]]) -> Cells:
    """A row with stitches in these stretches and nowhere else: those of the line, or the nearest there are."""
    made: list[Stitch | None] = [None] * len(line)
    for there, span in stretches:
        for column in range(span.first, span.last + 1):
            made[column] = line[column] or line[min(there, key=lambda one: (abs(one - column), one))]
    return tuple(made)

