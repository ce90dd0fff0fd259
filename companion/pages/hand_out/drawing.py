"""Part of a chart as SVG: grounds, letters, lines. A square is ten units wide, so that most numbers are short."""

from __future__ import annotations

import unicodedata
from collections import defaultdict
from collections.abc import Callable, Iterator, Sequence
from itertools import groupby, pairwise

from companion.knitting.cloth.fabric import Yarn
from companion.knitting.cloth.rows import Row
from companion.pages.hand_out.charts import TEN, Chart
from companion.pages.hand_out.charts import Square as Stitch
from companion.pages.hand_out.inks import Inks, ground, ink
from companion.pages.hand_out.markup import number, text
from companion.pages.hand_out.tiling import Cut, Square

UNIT = 10
"""A square's width in the units of its drawing."""

_LETTER, _LETTER_WIDE, _BASE, _RIM = 0.74, 0.6, 0.28, 0.5
"""A letter's height in that of its square; in its own height, how wide one of a font of equal widths is, how far
below the middle it stands, so that what reaches up and what reaches down have as much room, and its rim on a tint."""

_THIN, _TENTH, _CONTOUR = 0.12, 0.3, 0.6
"""Lines in millimetres: round every square, after every tenth, and where yarns meet."""

Line = Sequence[Stitch | None]


class Drawing:
    """Rows ``up`` and columns ``across`` of a chart, cut out. ``is_sewn``: the yarn that is sewn on is drawn in place
    of the one that is knitted, and not only a ring for it."""

    def __init__(
        self, chart: Chart, across: Cut, up: Cut, square: Square, yarn: Callable[[str], Yarn], inks: Inks, *,
        is_sewn: bool = False,
    ) -> None:  # fmt: skip
        self.chart, self._across, self._up, self._yarn, self._inks = chart, across, up, yarn, inks
        self._is_sewn, self._mm = is_sewn, square.wide / UNIT
        self._high = UNIT * square.high / square.wide
        self._columns = chart.columns
        self._lines = [self._line(at) for at in range(up.stop - 1, up.first - 1, -1)]

    def _line(self, at: int) -> Line:
        """The squares at a height of the chart, the left one first; nothing above and below it."""
        if not 0 <= at < len(self.chart.places):
            return [None] * (self._across.stop - self._across.first)
        return self.chart.squares[at][self._columns - self._across.stop:self._columns - self._across.first]

    @property
    def square_mm(self) -> float:
        """A square's width in millimetres."""
        return UNIT * self._mm

    @property
    def size(self) -> tuple[float, float]:
        """Width and height in millimetres."""
        return UNIT * self._mm * (self._across.stop - self._across.first), self._high * self._mm * len(self._lines)

    def _row(self, at: int) -> Row:
        """The row that a line from the top shows."""
        return self.chart.row(self._up.stop - 1 - at)

    def column(self, at: int) -> int:
        """The column of the fabric that a square from the left shows."""
        return self.chart.first + self._across.stop - 1 - at

    def rows(self) -> Iterator[tuple[int, float, float, float]]:
        """For every row that has a stitch here its height in the chart, and in millimetres where it begins at the
        left, where it ends at the right, and where its middle lies below the top."""
        for at, line in enumerate(self._lines):
            there = [x for x, one in enumerate(line) if one is not None]
            if there:
                width, middle = UNIT * self._mm, (at + 0.5) * self._high * self._mm
                yield self._up.stop - 1 - at, there[0] * width, (there[-1] + 1) * width, middle

    def drawn(self) -> Iterator[str]:
        """The elements, in a group of millimetres."""
        yield f'<g transform="scale({self._mm:.5f})">'
        yield from self._grounds()
        yield from self._letters()
        yield from self._grid()
        yield from self._marks()
        yield self._contour()
        yield "</g>"

    def _named(self, stitch: Stitch) -> str:
        return stitch.sewn or stitch.yarn if self._is_sewn else stitch.yarn

    def _grounds(self) -> Iterator[str]:
        """A path of each yarn, a box for each of its runs."""
        found = defaultdict[str, list[str]](list)
        for at, line in enumerate(self._lines):
            x, top = 0, number(at * self._high)
            for yarn, run in groupby(self._named(one) if one else "" for one in line):
                wide = UNIT * len(list(run))
                if yarn:
                    found[yarn].append(f"M{x} {top}h{wide}v{number(self._high)}h-{wide}z")
                x += wide
        for yarn, boxes in found.items():
            fill = ground(self._yarn(yarn).colour, self._inks)
            yield f'<path fill="{fill}" d="{"".join(boxes)}"/>'

    def _grid(self) -> Iterator[str]:
        """Thin lines round every square that has a stitch, and heavier ones after every tenth."""
        thin, tenth = list[str](), list[str]()
        alike = groupby(range(len(self._lines)), key=lambda at: tuple(_stretches(self._lines[at])))
        for stretches, lines in alike:
            heights = list(lines)
            ends = f"{number(heights[0] * self._high)}V{number((heights[-1] + 1) * self._high)}"
            for first, stop in stretches:
                across = [f"M{UNIT * first} {number(at * self._high)}H{UNIT * stop}" for at in heights]
                thin += [*across, f"M{UNIT * first} {number((heights[-1] + 1) * self._high)}H{UNIT * stop}"]
                tenth += [line for at, line in zip(heights, across, strict=True) if self._row(at).number % TEN == 0]
                for x in range(first, stop + 1):
                    thin.append(f"M{UNIT * x} {ends}")
                    if self._is_tenth(x):
                        tenth.append(f"M{UNIT * x} {ends}")
        for paths, wide in ((thin, _THIN), (tenth, _TENTH)):
            if paths:
                yield f'<path class="line" stroke-width="{number(wide / self._mm)}" d="{"".join(paths)}"/>'

    def _is_tenth(self, x: int) -> bool:
        """Whether the line at the left of a square comes after a tenth stitch, counted as stitches are."""
        right, left = self.chart.number(self.column(x)), self.chart.number(self.column(x - 1))
        return min(right, left) > 0 and min(right, left) % TEN == 0

    def _letters(self) -> Iterator[str]:
        """A text for each row and ink, every letter set in the middle of its square."""
        size = min(_LETTER * self._high, 0.95 * UNIT / _LETTER_WIDE)
        rim = f' stroke="#fff" stroke-width="{number(_RIM * size)}"' if self._inks == "tints" else ""
        yield f'<g class="letters" font-size="{number(size)}"{rim}>'
        for at, line in enumerate(self._lines):
            base = number((at + 0.5) * self._high + _BASE * size)
            set_in = defaultdict[str, list[tuple[str, int]]](list)
            for x, stitch in enumerate(line):
                if stitch is not None:
                    yarn = self._yarn(self._named(stitch))
                    set_in[ink(yarn.colour, self._inks)].append((yarn.symbol, UNIT * x + UNIT // 2))
            for colour, letters in set_in.items():
                fill = "" if colour == "#000000" else f' fill="{colour}"'
                for some in _set_together(letters):
                    places = " ".join(str(x) for _, x in some)
                    yield f'<text y="{base}" x="{places}"{fill}>{text("".join(letter for letter, _ in some))}</text>'
        yield "</g>"

    def _marks(self) -> Iterator[str]:
        """A bar at the foot of each purl bump, and a ring round what another yarn is sewn over."""
        bars, rings = defaultdict[str, list[str]](list), defaultdict[str, list[str]](list)
        for at, line in enumerate(self._lines):
            for x, stitch in enumerate(line):
                if stitch is None:
                    continue
                colour = ink(self._yarn(self._named(stitch)).colour, self._inks)
                if stitch.is_bump:
                    bars[colour].append(f"M{UNIT * x + 3} {number((at + 0.91) * self._high)}h4")
                if stitch.sewn:
                    middle, far = number((at + 0.5) * self._high), number(0.44 * min(UNIT, self._high))
                    arc = f"a{far} {far} 0 0 1"
                    rings[colour].append(
                        f"M{number(UNIT * x + 5 - float(far))} {middle}{arc} {number(2 * float(far))} 0"
                        f"{arc} -{number(2 * float(far))} 0"
                    )
        for marks, wide in ((bars, 0.25), (rings, 0.18)):
            for colour, paths in marks.items():
                width = number(wide / self._mm)
                yield f'<path fill="none" stroke="{colour}" stroke-width="{width}" d="{"".join(paths)}"/>'

    def _contour(self) -> str:
        """Where yarns meet, or strands in a run that they share, and where the fabric ends. At a cut nothing ends."""
        left = self._columns - self._across.stop
        beyond = self.chart.columns - self._across.first
        lines = []
        for height in range(self._up.stop, self._up.first - 2, -1):
            whole = self.chart.squares[height] if 0 <= height < len(self.chart.places) else [None] * self._columns
            names = [self._named(one) if one else "" for one in whole[max(0, left - 1):beyond + 1]]
            lines.append(names if left else ["", *names])
            lines[-1] += [""] * (beyond - left + 2 - len(lines[-1]))
        width = number(_CONTOUR / self._mm)
        paths = contour(lines, UNIT, self._high) + "".join(self._met())
        return f'<path class="contour" stroke-width="{width}" d="{paths}"/>'

    def _met(self) -> Iterator[str]:
        for at in range(len(self._lines)):
            height = self._up.stop - 1 - at
            for gap in self.chart.meetings(height) if 0 <= height < len(self.chart.places) else ():
                x = self.column(0) - gap
                if 0 < x < self._across.stop - self._across.first:
                    yield f"M{UNIT * x} {number(at * self._high)}V{number((at + 1) * self._high)}"

    @property
    def has_meetings(self) -> bool:
        """Strands meet somewhere on it."""
        return any(self._met())


def contour(lines: Sequence[Sequence[str]], wide: float, high: float) -> str:
    """The path along every side of a square whose neighbour differs. ``lines``: what each square is, from the top
    down, with what lies round all of them; ``wide``, ``high``: of a square."""
    paths, upright = list[str](), defaultdict[int, list[int]](list)
    for at, line in enumerate(lines[1:-1]):
        for x, (one, other) in enumerate(pairwise(line)):
            if one != other:
                upright[x].append(at)
    for x, heights in upright.items():
        for top, stop in _merged(heights):
            paths.append(f"M{number(wide * x)} {number(top * high)}V{number(stop * high)}")
    for at, (upper, lower) in enumerate(pairwise(lines)):
        apart = [x for x, (one, other) in enumerate(zip(upper[1:-1], lower[1:-1], strict=True)) if one != other]
        for first, stop in _merged(apart):
            paths.append(f"M{number(wide * first)} {number(at * high)}H{number(wide * stop)}")
    return "".join(paths)


def _stretches(line: Line) -> Iterator[tuple[int, int]]:
    """Where stitches lie side by side: the first one, and where they stop."""
    yield from _merged([x for x, one in enumerate(line) if one is not None])


def _merged(places: Sequence[int]) -> Iterator[tuple[int, int]]:
    """Rising places in stretches: the first one, and the one after the last."""
    first = None
    for at, place in enumerate(places):
        first = place if first is None else first
        if at + 1 == len(places) or places[at + 1] != place + 1:
            yield first, place + 1
            first = None


def _set_together(letters: Sequence[tuple[str, int]]) -> Iterator[Sequence[tuple[str, int]]]:
    """Letters that one text may set, each at its own place, without joining or turning them: the others have one of
    their own."""
    together = [one for one in letters if _is_simple(one[0])]
    if together:
        yield together
    yield from ([one] for one in letters if not _is_simple(one[0]))


def _is_simple(letter: str) -> bool:
    return letter.isascii() or (ord(letter) < 0x10000 and unicodedata.bidirectional(letter) == "L")
