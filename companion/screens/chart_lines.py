"""One line of the chart: a row in letters, or two rows in half lines; its number; and the foot below them all.

A line is made of what is seen (``View``), the column ``right`` with which it begins, seen from the right side, and
which of its columns are done or in work now.
"""

from __future__ import annotations

from collections.abc import Container, Sequence
from functools import lru_cache
from itertools import groupby

from rich.style import Style

from companion.knitting.cloth.colour import channels
from companion.knitting.cloth.fabric import Stitch
from companion.knitting.cloth.outlines import span
from companion.knitting.cloth.rows import Place
from companion.knitting.value import Record
from companion.progress.session import Session
from companion.screens.flowing import Bit, Line
from companion.screens.lines import inked

EMPTY = "·"
SEWN = "×"
"""A stitch over which another yarn is sewn afterwards."""

MET = "┃"
"""Between two stitches of a run that strands share: there one takes over from the other. It stands at the edge of the
stitch to its left; where a stitch is one column wide, in its place."""

MET_HALF = ("", "╹", "╻", MET)
"""The same in the upper of two half lines, in the lower one, in both."""

NONE = -1
"""No row."""

TEN = 10
"""Stitches are numbered by tens, counted from the edge where right-side rows begin (chart-reading guides)."""

LEAST_BRACKETED = 3
"""A shorter run has no brackets where they would take the place of its letters."""


class View(Record):
    """How much is seen, and how: ``columns`` a stitch, stitches ``across``, rows ``up``; ``sides`` that bear row
    numbers (2: right-side rows at the right edge and wrong-side rows at the left one, chart-reading guides; 1: all at
    the right; 0: none has room); ``has_foot``: stitch numbers stand below; ``is_halved``: two rows share a line;
    ``is_turned``: as the wrong side is held."""

    columns: int
    across: int
    up: int
    sides: int
    has_foot: bool
    is_halved: bool
    is_turned: bool


class State(Record):
    """Columns of a row of the chart that are done, and those of the run in work; a range for each row that is there
    (parts lie beside each other). ``met``: the gaps in which strands meet in runs that they share."""

    done: tuple[range, ...]
    now: tuple[range, ...]
    met: tuple[int, ...] = ()


def gutter(session: Session) -> int:
    """Columns for row numbers and the arrow."""
    return len(str(len(session.rows.fabric.levels))) + 1


def state_of(session: Session, place: Place, level: int) -> State:
    """What is done and what is in work in one row of the chart."""
    rows = session.rows.fabric.levels[level] if level != NONE else ()
    found = [_state_of_row(session, place, row) for row in rows]
    meetings = session.rows.meetings
    met = tuple(gap for row in rows for gap in meetings.get(row, ())) if meetings else ()
    return State(tuple(done for done, _ in found), tuple(now for _, now in found), met)


def _state_of_row(session: Session, place: Place, row: int) -> tuple[range, range]:
    cloth = session.rows[row]
    own = range(1, session.piece.fabric.columns + 1)
    if cloth.part:
        first, last = span(cloth)
        own = range(first, last + 1)
    if row < place.row or (row == place.row and place.segment == len(cloth.segments)):
        return own, range(0)
    if row > place.row:
        return range(0), range(0)
    segment = cloth.segments[place.segment]
    now = range(min(segment.first, segment.last), max(segment.first, segment.last) + 1)
    done = range(own.start, now.start) if cloth.toward == "left" else range(now.stop, own.stop)
    return done, now


def lettered(session: Session, levels: Sequence[int], right: int, view: View, states: Sequence[State]) -> Line:
    """One row, each stitch ``view.columns`` wide."""
    [level], [state] = levels, states
    done, here = _seen(state.done, right, view.across), _seen(state.now, right, view.across)
    marks: dict[int, str] = {}
    if view.columns < LEAST_BRACKETED <= len(here):
        first, last = min(here), max(here)
        marks = {first: "[", last: "]"} if view.is_turned else {last: "[", first: "]"}
    met = {_beside(gap, view, marks) for gap in state.met}
    cells = enumerate(_part(session, level, right, view.across), right)
    alike = groupby((stitch, at in done, at in here, marks.get(at, ""), at in met) for at, stitch in cells)
    line = [_cells(session, *cell, view.columns, len(list(many))) for cell, many in alike]
    return line if view.is_turned else line[::-1]


def _beside(gap: int, view: View, brackets: Container[int]) -> int:
    """The column of the stitch that bears the mark of a meeting: the one to the left of it as it is seen, or the
    other one where its only column has a bracket."""
    left, other = (gap, gap + 1) if view.is_turned else (gap + 1, gap)
    return other if view.columns == 1 and left in brackets else left


def _cells(
    session: Session, stitch: Stitch | None, is_done: bool, is_now: bool, bracket: str, is_met: bool, columns: int,
    stitches: int,
) -> Bit:  # fmt: skip
    """So many stitches alike."""
    if stitch is None:
        return EMPTY.center(columns) * stitches, "quiet"
    yarn = session.piece.yarn(stitch.yarn)
    mark = (SEWN if stitch.sewn else yarn.symbol).center(columns)
    if is_now:
        mark = f"[{yarn.symbol}]" if columns >= LEAST_BRACKETED else yarn.symbol.center(columns)
    if bracket:
        mark = bracket.ljust(columns) if bracket == "[" else bracket.rjust(columns)
    if is_met:
        mark = (mark if columns > 2 else mark.strip())[:columns - 1] + MET
    colour = faded(yarn.colour) if is_done else yarn.colour
    return mark * stitches, inked(colour, underline=is_done, bold=is_now, reverse=is_now)


def halved(session: Session, levels: Sequence[int], right: int, view: View, states: Sequence[State]) -> Line:
    """Two rows, one above the other, a column a stitch."""
    pairs = zip(levels, states, strict=True)
    upper, lower = (_colours(session, level, right, view.across, state) for level, state in pairs)
    met = [0] * view.across
    for half, state in enumerate(states, 1):
        for gap in state.met:
            for at in (gap + 1 - right, gap - right):
                if 0 <= at < view.across and upper[at] == lower[at]:
                    met[at] |= half
                    break
    alike = groupby(zip(upper, lower, met, strict=True))
    line = [_half(*cell, len(list(many))) for cell, many in alike]
    return line if view.is_turned else line[::-1]


def _half(upper: str, lower: str, met: int, stitches: int) -> Bit:
    """So many pairs of stitches alike; "" = none. ``met``: where strands meet beside them, as in ``MET_HALF``, which
    can be drawn where both are of one colour."""
    if met:
        return MET_HALF[met] * stitches, inked(upper)
    if upper:
        return "▀" * stitches, Style(color=upper, bgcolor=lower or None)
    return ("▄" * stitches, Style(color=lower)) if lower else (" " * stitches, "")


@lru_cache(maxsize=512)
def faded(colour: str) -> str:
    """The colour of a stitch that is done: drawn toward a middle grey, on a dark ground and on a light one alike. The
    ink on it is chosen anew, so it is read as well as ever."""
    return "#" + "".join(f"{(value + 0x80) // 2:02x}" for value in channels(colour))


def foot(session: Session, place: Place, right: int, view: View) -> Line:
    """Stitch numbers, each ending below its stitch where it has room, and a bar below the run in work."""
    level = session.rows.fabric.level(place.row)
    now = () if session.is_worked else state_of(session, place, level).now
    here, stitches = _seen(now, right, view.across), session.piece.fabric.columns
    lead = gutter(session) * (view.sides == 2)
    numbers, bar = [" "] * (lead + view.across * view.columns), set[int]()
    for column in range(right, right + view.across):
        aside = column - right if view.is_turned else right + view.across - 1 - column
        start = lead + aside * view.columns
        number = stitches + 1 - column if session.rows.is_mirrored else column
        if number % TEN == 0:
            text = str(number)
            stop = max(len(text), start + (view.columns + 1) // 2)
            numbers[stop - len(text):stop] = text
        if column in here:
            bar.update(range(start, start + view.columns))
    alike = groupby(enumerate(numbers), lambda cell: cell[0] in bar)
    return [("".join(text for _, text in cells), "now" if is_now else "quiet") for is_now, cells in alike]


def numbered(session: Session, place: Place, level: int, line: Line, view: View) -> Line:
    """The line with its number, where the row starts or at the right, and the arrow on the row in work."""
    if not view.sides:
        return line
    beside = session.rows.fabric.levels[level]
    cloth = session.rows[place.row if place.row in beside else beside[0]]
    is_now = place.row in beside and not session.is_worked
    starts_right = (cloth.toward == "left") != view.is_turned
    side, manner = gutter(session), "now" if is_now else "quiet"
    if starts_right or view.sides == 1:
        arrow = "◀" if starts_right else "▶"
        tail = f"{arrow if is_now else ' '}{cloth.number:<{side - 1}}"
        return [(" " * side * (view.sides == 2), ""), *line, (tail, manner)]
    return [(f"{cloth.number:>{side - 1}}{'▶' if is_now else ' '}", manner), *line, (" " * side, "")]


def _seen(columns: tuple[range, ...], right: int, across: int) -> set[int]:
    """Those of the columns that are shown."""
    ends = ((max(some.start, right), min(some.stop, right + across)) for some in columns)
    return {column for first, stop in ends for column in range(first, stop)}


def _part(session: Session, level: int, right: int, across: int) -> list[Stitch | None]:
    """The cells of a row of the chart from column ``right`` on; None past its last one."""
    found: list[Stitch | None] = []
    at = 1
    for run in session.rows.fabric.picture[level].runs if level != NONE else ():
        start, stop = max(at, right), min(at + run.columns, right + across)
        found += [run.stitch] * max(0, stop - start)
        at += run.columns
    return found + [None] * (across - len(found))


def _colours(session: Session, level: int, right: int, across: int, state: State) -> list[str]:
    done, cells = _seen(state.done, right, across), enumerate(_part(session, level, right, across), right)
    found = ((at, session.piece.yarn(stitch.yarn).colour if stitch else "") for at, stitch in cells)
    return [faded(colour) if colour and at in done else colour for at, colour in found]
