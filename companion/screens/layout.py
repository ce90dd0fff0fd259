"""How the working screen is divided at a given size.

What gives way as the screen shrinks, in this order: the second column, the piece's title, the hanging strands,
the chart, all but one line of runs, the size of the letters, the sentence below them. The acts in large letters and,
at a turn, what stands at the row's end are never cut off; on the smallest screen acts that can wait, or come after
the main one, are told in words. In row mode it is the same but for one thing: letters that have no room for the whole
row leave it to the text.
"""

from __future__ import annotations

from collections.abc import Callable

from companion.knitting.value import Record
from companion.screens.figures import HUGE, LARGE, MIDDLE, SMALL, Scale


class Sizes(Record):
    """Of the main act's letters and of the others'. ``keeps_room``: a run before which nothing is done leaves the
    place of that empty, so that nothing moves from run to run."""

    main: Scale
    other: Scale
    keeps_room: bool = True


class Wants(Record):
    """Lines that the parts need to say everything: ``now`` the acts in each of the ``sizes``, asked for as long as
    none fits (or one number for all), ``change`` the sentence below them, ``runs`` all runs of the row in short,
    ``end`` what must be said at the row's end now (0 = nothing must)."""

    now: int | Callable[[Sizes], int] = 8
    change: int = 2
    runs: int = 2
    end: int = 0


USUAL = Wants()
"""Of a run in mid-row."""


class Arrangement(Record):
    """Lines given to each part; 0 = not shown. ``is_wide``: chart and strands stand in a second column. ``large``:
    the acts in letters of these ``sizes``, ``change`` the sentence below them. ``row``: the whole row, in row mode
    below the acts, else in the second place of a wide screen."""

    sizes: Sizes
    is_wide: bool
    large: int
    change: int
    runs: int
    row: int
    end: int
    chart: int
    strands: int

    @property
    def now(self) -> int:
        """Lines of the part that tells what is done now."""
        return self.large + self.change

    def holds(self, other: Arrangement, lent: int) -> bool:
        """What has room in the other has room in this one, in letters as large; the chart but for some ``lent``
        lines."""
        return (
            (self.sizes, self.is_wide) == (other.sizes, other.is_wide)
            and all(has >= wants for has, wants in zip(self._lines, other._lines, strict=True))
            and self.chart >= max(other.chart - lent, min(other.chart, LEAST_CHART))
        )

    @property
    def _lines(self) -> tuple[int, ...]:
        return self.now, self.runs, self.row, self.end, self.strands


PARTS: tuple[str | None, ...] = ("head", "now", "whole", "runs", "end", "chart", "hanging", "keys")
"""All of them, from the top."""

HEAD = 1
KEYS = 1
GUTTER = 1
"""Columns between the two of a wide screen."""
LENT, LENT_IN_ROW = 1, 4
"""Lines that a chart gives up so that nothing moves from row to row, and inside a row and at its end."""

LEAST_CHART = 3
"""Fewer lines of chart than these show nothing of use."""

LISTED = 4
"""Lines for the whole row beside the acts of a wide screen."""

LEAST_END = 5
"""Lines of a wide screen for what stands at the row's end, so that nothing moves from row to row."""

FEWEST_SAID = 2
"""Lines for the sentence where it is not longer, so that nothing moves from run to run. One more than it needs tells
how much is on the needle."""


def is_wide_screen(width: int, height: int) -> bool:
    """There is room for a second column."""
    return width >= 110 and height >= 30


def main_width(width: int, height: int) -> int:
    """Columns for what stands in the first column; beside a second one the last of its own stays empty."""
    return width // 2 - GUTTER if is_wide_screen(width, height) else width


def sizes(width: int, height: int) -> tuple[Sizes, ...]:
    """The sizes of letters for this screen, those to be preferred first."""
    if is_wide_screen(width, height):
        largest = [Sizes(HUGE, Scale(3, 3))] if width >= 170 and height >= 50 else []
        return (*largest, Sizes(LARGE, MIDDLE), Sizes(MIDDLE, MIDDLE), Sizes(MIDDLE, SMALL), Sizes(SMALL, SMALL))
    if width >= 60 and height >= 21:
        return Sizes(MIDDLE, SMALL), Sizes(SMALL, SMALL), Sizes(SMALL, SMALL, keeps_room=False)
    return (Sizes(SMALL, SMALL, keeps_room=False),)


def row_scales(width: int, height: int) -> tuple[Scale, ...]:
    """The sizes of letters for a whole row, those to be preferred first."""
    squares = [Scale(size, size) for size in range(sizes(width, height)[0].main.down, 0, -1)]
    return tuple(dict.fromkeys(one for each in squares for one in (each, each.narrow)))


def arrange(width: int, height: int, wants: Wants = USUAL) -> Arrangement:
    """The arrangement for a screen of ``width`` by ``height`` cells, at least 40 by 15."""
    free = height - HEAD - KEYS
    if is_wide_screen(width, height):
        return _wide(sizes(width, height), free, wants)
    return _narrow(sizes(width, height), free, wants)


def arrange_row(width: int, height: int, letters: Scale, now: int, row: int, end: int) -> Arrangement:
    """The same in row mode, where every part says how many lines it needs: ``now`` for the acts of the whole row in
    letters of one size, ``row`` for the row as text below them, ``end`` for what is said at its end."""
    free = height - HEAD - KEYS
    room, way = _Room(free), Sizes(letters, letters)
    now, row, end = room.take(now), room.take(row), room.take(end)
    if is_wide_screen(width, height):
        return Arrangement(way, True, now, 0, 0, row + room.lines, end, *_beside(free))
    chart, strands = _below(room.lines)
    return Arrangement(way, False, now, 0, 0, row, end + room.lines - chart - strands, chart, strands)


def with_more_at_end(plan: Arrangement, lines: int) -> Arrangement:
    """The arrangement with so many lines for the row's end, where a chart below it can spare them."""
    more = lines - plan.end
    if 0 < more <= plan.chart - LEAST_CHART and not plan.is_wide:
        return plan._replace(end=lines, chart=plan.chart - more)
    return plan


def arrange_below(width: int, height: int, wants: Wants) -> Arrangement:
    """The arrangement under a question that leaves a screen of one column no room for all: the acts, then some lines
    of chart, and what is left to what is said."""
    ways, free = sizes(width, height), height - HEAD - KEYS
    found, needed = _sizes(ways, free, Wants(wants.now, 0), LEAST_CHART)
    room = _Room(free)
    large, chart, runs = room.take(needed), room.take(LEAST_CHART), room.take(1)
    change, end = room.take(wants.change), room.take(wants.end)
    return Arrangement(found, False, large, change, runs, 0, end, chart + room.lines, 0)


class _Room:
    """Lines still free."""

    def __init__(self, lines: int) -> None:
        self.lines = lines

    def take(self, wanted: int) -> int:
        """As many of the wanted lines as there are."""
        taken = max(0, min(wanted, self.lines))
        self.lines -= taken
        return taken

    def take_beside_chart(self, wanted: int) -> int:
        """The same, but what a chart must have stays free where it is."""
        spare = self.lines - LEAST_CHART
        return self.take(wanted if spare < 0 else min(wanted, spare))


def _sizes(ways: tuple[Sizes, ...], free: int, wants: Wants, runs: int = 1) -> tuple[Sizes, int]:
    """The largest letters beside which so many lines of runs and all that must be said have room, and the lines they
    take."""
    must = wants.change + max(wants.end, 1) + runs
    way, lines = ways[0], 0
    for way in ways:
        lines = wants.now(way) if callable(wants.now) else wants.now
        if lines + must <= free:
            break
    return way, lines


def _beside(free: int) -> tuple[int, int]:
    """Lines of chart and strands in a column of their own."""
    strands = max(6, free // 4)
    return free + HEAD - strands, strands


def _below(lines: int) -> tuple[int, int]:
    """The same where so many are left below everything else."""
    strands = 2 if lines >= LEAST_CHART + 2 else 0
    return (lines - strands, strands) if lines >= LEAST_CHART else (0, 0)


def _wide(ways: tuple[Sizes, ...], free: int, wants: Wants) -> Arrangement:
    chart, strands = _beside(free)
    room = _Room(free)
    found, needed = _sizes(ways, free, wants, LISTED)
    large = room.take(needed)
    change = room.take(max(FEWEST_SAID, wants.change + 1))
    end = room.take(max(LEAST_END, wants.end))
    return Arrangement(found, True, large, change, 0, room.lines, end, chart, strands)


def _narrow(ways: tuple[Sizes, ...], free: int, wants: Wants) -> Arrangement:
    room = _Room(free)
    found, needed = _sizes(ways, free, wants)
    large = room.take(min(needed, free - 1) if wants.end else needed)
    end = room.take(wants.end)
    change = room.take(wants.change)
    runs = room.take(1)
    end += room.take(1 - end)
    runs += room.take(min(wants.runs, 4) - runs)
    change += room.take_beside_chart(max(FEWEST_SAID, wants.change + 1) - change)
    end += room.take_beside_chart(2 - end)
    chart, strands = _below(room.lines)
    return Arrangement(found, False, large, change, runs, 0, end + room.lines - chart - strands, chart, strands)
