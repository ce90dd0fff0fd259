"""The runs of a row: stitches worked one after the other in one yarn, and where two strands share one of them."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import accumulate
from typing import Literal

from companion.knitting.cloth.fabric import FabricRow, Texture
from companion.knitting.value import Record

Toward = Literal["left", "right"]


class Stretch(Record):
    """Stitches of one texture inside a segment, in working order, ``first`` being the column worked first."""

    texture: Texture
    first: int
    stitches: int


class Segment(Record):
    """A maximal run of one yarn in a row, or what one strand works of a run that several share. ``first`` and
    ``last`` are columns in working order, ``entry`` and ``exit`` the gaps where its strand comes in and is left
    hanging; "no stitch" cells inside are spanned."""

    yarn: str
    first: int
    last: int
    stitches: int
    entry: int
    exit: int
    stretches: tuple[Stretch, ...]

    @property
    def columns(self) -> list[int]:
        """The columns of its stitches in working order."""
        step = 1 if self.entry < self.first else -1
        return [stretch.first + step * i for stretch in self.stretches for i in range(stretch.stitches)]


def segments(cloth: FabricRow, toward: Toward) -> Iterator[Segment]:
    """The maximal one-yarn runs of a row in working order."""
    is_left = toward == "left"
    stops = accumulate(run.columns for run in cloth.runs)
    real = [(run.stitch, run.columns, stop) for stop, run in zip(stops, cloth.runs, strict=True) if run.stitch]
    yarn, stretches, stitches = "", list[Stretch](), 0
    for stitch, count, stop in real if is_left else real[::-1]:
        if stitch.yarn != yarn and stretches:
            yield _segment(yarn, stitches, stretches, is_left)
            stretches, stitches = [], 0
        yarn = stitch.yarn
        stitches += count
        stretches.append(Stretch(stitch.texture, stop - count + 1 if is_left else stop, count))
    if stretches:
        yield _segment(yarn, stitches, stretches, is_left)


def _segment(yarn: str, stitches: int, stretches: list[Stretch], is_left: bool) -> Segment:
    first, end = stretches[0].first, stretches[-1]
    if is_left:
        last = end.first + end.stitches - 1
        return Segment(yarn, first, last, stitches, first - 1, last, tuple(stretches))
    last = end.first - end.stitches + 1
    return Segment(yarn, first, last, stitches, first, last - 1, tuple(stretches))


def divided(runs: Sequence[Segment], meetings: Sequence[int]) -> Iterator[Segment]:
    """The runs of a row where strands meet inside some of them: each is divided at the gaps of ``meetings`` that lie
    after one of its stitches and before another. The others say nothing."""
    for run in runs:
        yield from _parts(run, meetings)


def _parts(run: Segment, meetings: Sequence[int]) -> Iterator[Segment]:
    is_left = run.entry < run.first
    step = 1 if is_left else -1
    columns = run.columns
    at = {column if is_left else column - 1: stitches for stitches, column in enumerate(columns[:-1], 1)}
    stops = sorted(at[gap] for gap in set(meetings) if gap in at)
    if not stops:
        yield run
        return
    start = 0
    for stop in (*stops, run.stitches):
        yield _segment(run.yarn, stop - start, list(_taken(run.stretches, start, stop, step)), is_left)
        start = stop


def _taken(stretches: Sequence[Stretch], start: int, stop: int, step: int) -> Iterator[Stretch]:
    """The stitches ``start + 1`` to ``stop`` of some stretches."""
    passed = 0
    for texture, first, stitches in stretches:
        low, high = max(start, passed), min(stop, passed + stitches)
        if low < high:
            yield Stretch(texture, first + step * (low - passed), high - low)
        passed += stitches
