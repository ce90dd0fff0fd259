"""Motifs placed on a ground: what comes out is drawn rows like those of a chart, the ground's cells as ``GROUND``.

Nothing is cut off and nothing is hidden: motifs must fit their ground, and two that draw the same stitch are told.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator, Sequence
from itertools import pairwise

from companion.knitting.value import Record
from companion.plan.chart import GROUND, Drawn, Runs


class Placed(Record):
    """A motif's rows from the bottom up, left to right as drawn, and where its lower right corner lies: so many
    stitches of the ground to the right of it, so many rows below it."""

    rows: tuple[Runs, ...]
    right: int
    bottom: int

    @classmethod
    def of(cls, drawn: Drawn, right: int, bottom: int, across: int, *, mirror: bool) -> Placed:
        """A motif as drawn, or turned round left for right, ``across`` times side by side."""
        rows = mirrored(drawn.rows) if mirror else drawn.rows
        return cls(tuple(row * across for row in rows), right, bottom)

    def drawn_in(self, row: int) -> Iterator[tuple[int, tuple[int, str]]]:
        """What it draws in a row of the ground that it lies on, from right to left: each run with the number of
        stitches to the right of it."""
        at = self.right
        for run in reversed(self.rows[row - self.bottom]):
            if run[1] != GROUND:
                yield at, run
            at += run[0]


class Overlap(Record):
    """Two motifs, by their places in the list, that both draw a stitch: row of the ground and stitch in it, both from
    1, from the bottom and from the right."""

    one: int
    other: int
    row: int
    stitch: int


def mirrored(rows: Sequence[Runs]) -> tuple[Runs, ...]:
    """The same rows turned round, left for right. Equal rows go on sharing their runs."""
    made = {id(row): row[::-1] for row in rows}
    return tuple(made[id(row)] for row in rows)


def field(width: int, height: int, motifs: Sequence[Placed]) -> Drawn | Overlap:
    """The ground with its motifs, all of which fit it; or the first stitch from the bottom that two of them draw."""
    on_row: defaultdict[int, list[int]] = defaultdict(list)
    for number, motif in enumerate(motifs):
        for row in range(motif.bottom, motif.bottom + len(motif.rows)):
            on_row[row].append(number)
    rows: list[Runs] = [((width, GROUND),)] * height
    for row, numbers in sorted(on_row.items()):
        drawn = sorted((at, run, number) for number in numbers for at, run in motifs[number].drawn_in(row))
        for (at, (count, _), one), (start, _, other) in pairwise(drawn):
            if start < at + count:
                return Overlap(min(one, other), max(one, other), row + 1, start + 1)
        rows[row] = _row(width, [(at, run) for at, run, _ in drawn])
    return Drawn(tuple(rows), width, True)


def on_chart(ground: Drawn, motifs: Drawn) -> Drawn:
    """A chart with motifs on it, which as a field are as large; where it has no stitch, nothing of them is there."""
    rows = tuple(_laid(one, other) for one, other in zip(ground.rows, motifs.rows, strict=True))
    return ground._replace(rows=rows)


def _laid(ground: Runs, motif: Runs) -> Runs:
    """A row of a chart with a row of motifs on it."""
    if motif == ((sum(count for count, _ in ground), GROUND),):
        return ground
    made: list[tuple[int, str]] = []
    waiting = list(reversed(motif))
    for count, symbol in ground:
        while count:
            left, over = waiting.pop()
            part, shown = min(count, left), symbol if GROUND in (symbol, over) else over
            if made and made[-1][1] == shown:
                made[-1] = (made[-1][0] + part, shown)
            else:
                made.append((part, shown))
            count -= part
            if left > part:
                waiting.append((left - part, over))
    return tuple(made)


def _row(width: int, drawn: Sequence[tuple[int, tuple[int, str]]]) -> Runs:
    """A row of the ground, left to right, with these runs on it."""
    runs: list[tuple[int, str]] = []
    at = 0
    for start, run in drawn:
        if start > at:
            runs.append((start - at, GROUND))
        runs.append(run)
        at = start + run[0]
    if at < width:
        runs.append((width - at, GROUND))
    return tuple(reversed(runs))
