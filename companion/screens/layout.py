"""How the working screen is divided at a given size.

What gives way as the screen shrinks, in this order: the second column, the piece's title, the hanging strands,
the chart, all but one line of runs, the size of the figures. The count, the yarn, the change into the run and, at
a turn, what stands at the row's end are never cut off.
"""

from __future__ import annotations

from typing import NamedTuple

from companion.screens.figures import HUGE, LARGE, MIDDLE, PLAIN, SMALL, Scale


class Wants(NamedTuple):
    """Lines that the parts need to say everything: ``change`` what is told at the change into the run, beside each
    size of figures that ``scales`` names (or one number for all), ``runs`` all runs of the row in short, ``row`` the
    whole row in row mode (0 = run mode), ``end`` what must be said at the row's end now (0 = nothing must)."""

    change: tuple[int, ...] = (3,)
    runs: int = 2
    row: int = 0
    end: int = 0


USUAL = Wants()
"""Of a run in mid-row."""


class Arrangement(NamedTuple):
    """Lines given to each part; 0 = not shown. ``is_wide``: chart and strands stand in a second column. ``name``:
    lines for the yarn's name in large letters below the count. ``row``: the whole row, in row mode in the place of
    the run in work, else in the second place of a wide screen."""

    scale: Scale
    is_wide: bool
    name: int
    change: int
    runs: int
    row: int
    end: int
    chart: int
    strands: int

    @property
    def now(self) -> int:
        """Lines of the part that tells the run in work."""
        return self.scale.lines + self.name + self.change


HEAD = 1
KEYS = 1
LEAST_CHART = 3
"""Fewer lines of chart than these show nothing of use."""

NAME = 4
"""Lines for the yarn's name below the count, an empty one included."""


def is_wide_screen(width: int, height: int) -> bool:
    """There is room for a second column."""
    return width >= 110 and height >= 30


def main_width(width: int, height: int) -> int:
    """Columns of the first column."""
    return width // 2 if is_wide_screen(width, height) else width


def scales(width: int, height: int) -> tuple[Scale, ...]:
    """The sizes of figures for this screen, the one to be preferred first."""
    if is_wide_screen(width, height):
        return (HUGE, LARGE, MIDDLE, SMALL) if width >= 170 and height >= 50 else (LARGE, MIDDLE, SMALL)
    return (MIDDLE, SMALL, PLAIN) if width >= 60 and height >= 21 else (SMALL, PLAIN)


def arrange(width: int, height: int, wants: Wants = USUAL) -> Arrangement:
    """The arrangement for a screen of ``width`` by ``height`` cells, at least 40 by 15."""
    free = height - HEAD - KEYS
    if is_wide_screen(width, height):
        return _wide(scales(width, height), free, wants)
    return _narrow(scales(width, height), free, wants)


class _Room:
    """Lines still free."""

    def __init__(self, lines: int) -> None:
        self.lines = lines

    def take(self, wanted: int) -> int:
        """As many of the wanted lines as there are."""
        taken = max(0, min(wanted, self.lines))
        self.lines -= taken
        return taken


def _scale(sizes: tuple[Scale, ...], free: int, wants: Wants) -> tuple[Scale, int]:
    """The largest figures beside which a line of runs and all that must be said have room, and the change's lines."""
    changes = wants.change * (len(sizes) if len(wants.change) == 1 else 1)
    pairs = list(zip(sizes, changes, strict=True))
    must = max(wants.end, 1) + 1
    return next((pair for pair in pairs if pair[0].lines + pair[1] + must <= free), pairs[-1])


def _wide(sizes: tuple[Scale, ...], free: int, wants: Wants) -> Arrangement:
    strands = max(6, free // 4)
    chart = free + HEAD - strands
    room = _Room(free)
    if wants.row:
        end = room.take(max(5, wants.end))
        return Arrangement(sizes[0], True, 0, 0, 0, room.lines, end, chart, strands)
    scale, needed = _scale(sizes, free, wants)
    room.take(scale.lines)
    change = room.take(max(3, needed))
    end = room.take(max(5, wants.end))
    name = room.take(NAME + 2 * (room.lines >= 24)) if room.lines >= NAME + 8 else 0
    return Arrangement(scale, True, name, change, 0, room.lines, end, chart, strands)


def _narrow(sizes: tuple[Scale, ...], free: int, wants: Wants) -> Arrangement:
    room = _Room(free)
    change = runs = row = 0
    if wants.row:
        scale = sizes[-1]
        end = room.take(max(2, min(wants.end, free - 6)))
        row = room.take(wants.row)
    else:
        scale, needed = _scale(sizes, free, wants)
        room.take(scale.lines)
        change = room.take(needed)
        end = room.take(wants.end)
        runs = room.take(1)
        end += room.take(2 - end)
        runs += room.take(min(wants.runs, 4) - runs)
        change += room.take(3 - change)
    end += room.take(3 - end)
    chart, strands = 0, 0
    if room.lines >= LEAST_CHART:
        strands = 2 if room.lines >= LEAST_CHART + 2 else 0
        chart = room.lines - strands
    else:
        end += room.lines
    return Arrangement(scale, False, 0, change, runs, row, end, chart, strands)
