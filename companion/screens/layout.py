"""How the working screen is divided at a given size.

What gives way as the screen shrinks, in this order: the second column, the piece's title, the hanging strands,
the chart, all but one line of runs. The count, the yarn and the change into the run are never cut off.
"""

from __future__ import annotations

from dataclasses import dataclass

from companion.screens.figures import HUGE, LARGE, MIDDLE, SMALL, Scale


@dataclass(frozen=True, slots=True)
class Arrangement:
    """Lines given to each part; 0 = not shown. ``is_wide``: chart and strands stand in a second column."""

    scale: Scale
    is_wide: bool
    change: int
    runs: int
    end: int
    chart: int
    strands: int

    @property
    def now(self) -> int:
        """Lines of the part that tells the run in work."""
        return self.scale.lines + self.change


HEAD = 1
KEYS = 1


def is_wide_screen(width: int, height: int) -> bool:
    """There is room for a second column."""
    return width >= 110 and height >= 30


def arrange(width: int, height: int, row_lines: int = 0, notice: int = 0) -> Arrangement:
    """The arrangement for a screen of ``width`` by ``height`` cells.

    ``row_lines``: lines that the whole row needs in row mode (0 = run mode); it takes the place of the run in
    work and the runs. ``notice``: lines wanted at the row's end for what must be said now.
    """
    free = height - HEAD - KEYS
    if is_wide_screen(width, height):
        return _wide(width, free, row_lines, notice)
    if width >= 60 and height >= 21:
        return _middle(free, row_lines, notice)
    return _small(width, free, row_lines, notice)


def _wide(width: int, free: int, row_lines: int, notice: int) -> Arrangement:
    scale = HUGE if width >= 170 and free >= 48 else LARGE
    change = 4 if width < 150 else 3
    end = min(max(5, notice), free - scale.lines - change)
    runs = free - scale.lines - change - end
    if row_lines:
        change, runs = free - end - scale.lines, 0
    strands = max(6, free // 4)
    return Arrangement(scale, True, change, runs, end, free + HEAD - strands, strands)


def _middle(free: int, row_lines: int, notice: int) -> Arrangement:
    scale, change, runs, strands = MIDDLE, 3, 2, 2
    end = max(3, min(notice, 7))
    if row_lines:
        change, runs = min(max(row_lines, 5), free - end) - scale.lines, 0
    chart = free - scale.lines - change - runs - end - strands
    if chart < 3:
        chart, strands = max(chart + strands, 0), 0
    return Arrangement(scale, False, change, runs, end, chart, strands)


def _small(width: int, free: int, row_lines: int, notice: int) -> Arrangement:
    scale = SMALL
    change = 4 if width < 56 else 3
    end = min(max(2, notice), free - scale.lines - change)
    if row_lines:
        end = min(max(2, notice), free - 6)
        change = min(max(row_lines, scale.lines), free - end) - scale.lines
        runs = 0
    else:
        runs = min(2, free - scale.lines - change - end)
    chart = free - scale.lines - change - end - runs
    if chart < 3:
        end, chart = end + chart, 0
    return Arrangement(scale, False, change, runs, end, chart, 0)
