"""The chart around the row in work, drawn as the fabric looks, in the gauge's proportion as near as cells allow.

Near, a stitch is some columns by one line with its yarn's symbol; far, one column by half a line, colour only.
Done stitches are underlined, the run in work stands in brackets, so that nothing hangs on colour.
"""

from __future__ import annotations

from functools import lru_cache
from itertools import groupby

from rich.style import Style
from textual import events

from companion.knitting.cloth.fabric import Gauge, Stitch
from companion.knitting.cloth.outlines import span
from companion.knitting.cloth.rows import Place
from companion.knitting.piece import Piece
from companion.progress.session import Session
from companion.screens.lines import Bit, Line, Lines, inked

EMPTY = "·"
SEWN = "×"
"""A stitch over which another yarn is sewn afterwards."""

KEPT = 1000
"""So many drawn rows are kept."""


def gutter(session: Session) -> int:
    """Columns on either side for row numbers and the arrow: right-side rows right, wrong-side rows left
    (chart-reading guides)."""
    return len(str(len(session.rows.fabric.levels))) + 1


def around(at: int, room: int, first: int, last: int) -> int:
    """The first of ``room`` rows or columns that are shown around one, of those from ``first`` to ``last``."""
    return max(first, min(at - room // 2, last - room + 1))


def near_columns(gauge: Gauge) -> int:
    """Columns of a stitch that is one line high; a cell of a terminal is taken as twice as high as wide."""
    return max(1, min(5, round(2 * gauge.stitch_cm / gauge.row_cm)))


class ChartPanel(Lines):
    """Follows the needles by itself; scrolls by hand until the next step.

    ``is_far``: small stitches; ``is_held``: wrong-side rows as they are held. ``looked_at``: the lowest row, from 0,
    and the rightmost column that the knitter scrolled to; None follows the needles.
    """

    is_far = is_held = False
    looked_at: tuple[int, int] | None = None

    def __init__(self, *, id: str | None = None) -> None:
        super().__init__(id=id)
        self._kept_for: Piece | None = None
        self._kept: dict[tuple[object, ...], Line] = {}

    def watch_session(self) -> None:
        """A step: the chart comes back to the needles."""
        self.looked_at = None
        self.redraw()

    def on_mouse_scroll_up(self, event: events.MouseScrollUp) -> None:
        """The wheel moves the chart."""
        event.stop()
        self.scroll_by(0, 3)

    def on_mouse_scroll_down(self, event: events.MouseScrollDown) -> None:
        """The wheel moves the chart."""
        event.stop()
        self.scroll_by(0, -3)

    def scroll_by(self, left: int, up: int) -> None:
        """Scroll by hand, as far as there is chart."""
        session, size = self.session, self.size
        if session is None or not size:
            return
        shown = self._shown(session, size.width, size.height)
        low, right = self._corner(session, *shown)
        turned = self._is_turned(session, session.at)
        self.looked_at = _inside(session, *shown, low + up, right - left if turned else right + left)
        self.redraw()

    def draw(self, width: int, height: int) -> list[Line]:
        """Lines from the top of what is shown down to its bottom."""
        session = self.session
        if session is None or width < 2 * gutter(session) + 3:
            return []
        across, up = self._shown(session, width, height)
        low, right = self._corner(session, across, up)
        drawn = self._far if self.is_far else self._near
        return drawn(session, session.at, range(low, low + up), right, across)

    def _shown(self, session: Session, width: int, height: int) -> tuple[int, int]:
        """How many stitches across and how many rows there is room for, as far as there is chart."""
        columns = 1 if self.is_far else near_columns(session.piece.gauge)
        across = (width - 2 * gutter(session)) // columns
        up = 2 * height if self.is_far else height
        return min(session.piece.fabric.columns, across), min(len(session.rows.fabric.levels), up)

    def _corner(self, session: Session, across: int, up: int) -> tuple[int, int]:
        """The lowest row and the rightmost column shown: where the knitter looks, or else the row in work a little
        below the middle and the run in work inside."""
        if self.looked_at is not None:
            return _inside(session, across, up, *self.looked_at)
        place = session.at
        runs = session.rows[place.row].segments
        segment = runs[min(place.segment, len(runs) - 1)]
        low = session.rows.fabric.level(place.row) - max(1, up // 3)
        return _inside(session, across, up, low, (segment.first + segment.last) // 2 - across // 2)

    def _is_turned(self, session: Session, place: Place) -> bool:
        return self.is_held and session.rows[place.row].side == "WS"

    def _near(self, session: Session, place: Place, rows: range, right: int, across: int) -> list[Line]:
        columns = near_columns(session.piece.gauge)
        turned = self._is_turned(session, place)
        return [self._near_line(session, place, row, right, across, columns, turned) for row in reversed(rows)]

    def _near_line(
        self, session: Session, place: Place, level: int, right: int, across: int, columns: int, turned: bool
    ) -> Line:
        """One row of the chart with its number and, for the row in work, the arrow; kept, since most stay as they are
        from step to step."""
        worked, now = _spans(session, place, level)
        here = place.row if place.row in session.rows.fabric.levels[level] else -1
        key = (level, right, across, columns, turned, worked, now, here, session.is_worked)
        if self._kept_for is not session.piece or len(self._kept) > KEPT:
            self._kept_for, self._kept = session.piece, {}
        if key not in self._kept:
            cells = enumerate(_part(session, level, right, across), right)
            done, run = _seen(worked, right, across), _seen(now, right, across)
            alike = groupby((stitch, column in done, column in run) for column, stitch in cells)
            line = [_cells(session, *cell, columns, len(list(many))) for cell, many in alike]
            if not turned:
                line.reverse()
            self._kept[key] = _numbered(session, place, level, line, turned)
        return self._kept[key]

    def _far(self, session: Session, place: Place, rows: range, right: int, across: int) -> list[Line]:
        turned = self._is_turned(session, place)
        lines = []
        for row in range(rows.stop - 2, rows.start - 2, -2):
            upper = _colours(session, row + 1, right, across)
            lower = _colours(session, row, right, across) if row >= 0 else [""] * across
            line: Line = [_halves(one, other) for one, other in zip(upper, lower, strict=True)]
            if not turned:
                line.reverse()
            here = session.rows.fabric.level(place.row)
            told = here if here in (row, row + 1) else max(row, 0)
            lines.append(_numbered(session, place, told, line, turned))
        return lines


def _inside(session: Session, across: int, up: int, low: int, right: int) -> tuple[int, int]:
    """The corner, moved so that all of what is shown is chart."""
    fabric = session.rows.fabric
    return max(0, min(low, len(fabric.levels) - up)), max(1, min(right, fabric.columns - across + 1))


def _cells(
    session: Session, stitch: Stitch | None, is_done: bool, is_now: bool, columns: int, stitches: int
) -> Bit:
    """So many stitches alike, each ``columns`` wide."""
    if stitch is None:
        return EMPTY.center(columns) * stitches, "quiet"
    yarn = session.piece.yarn(stitch.yarn)
    mark = (SEWN if stitch.sewn else yarn.symbol).center(columns)
    if is_now:
        mark = f"[{yarn.symbol}]" if columns >= 3 else f"{yarn.symbol}]"[:columns]
    return mark * stitches, inked(yarn.colour, underline=is_done, bold=is_now, reverse=is_now)


@lru_cache(maxsize=1024)
def _halves(upper: str, lower: str) -> tuple[str, Style]:
    """Two stitches one above the other; "" = none."""
    if upper:
        return "▀", Style(color=upper, bgcolor=lower or None)
    return ("▄", Style(color=lower)) if lower else (" ", Style())


_Columns = tuple[range, ...]


def _seen(columns: _Columns, right: int, across: int) -> set[int]:
    """Those of the columns that are shown."""
    ends = ((max(some.start, right), min(some.stop, right + across)) for some in columns)
    return {column for first, stop in ends for column in range(first, stop)}


def _spans(session: Session, place: Place, level: int) -> tuple[_Columns, _Columns]:
    """The columns done and the columns of the run in work, in one row of the chart."""
    found = [_spans_of(session, place, row) for row in session.rows.fabric.levels[level]]
    return tuple(done for done, _ in found), tuple(now for _, now in found)


def _spans_of(session: Session, place: Place, row: int) -> tuple[range, range]:
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


def _part(session: Session, level: int, right: int, across: int) -> list[Stitch | None]:
    """The cells of a row of the chart from column ``right`` on; None past its last one."""
    found: list[Stitch | None] = []
    at = 1
    for run in session.rows.fabric.picture[level].runs:
        start, stop = max(at, right), min(at + run.count, right + across)
        found += [run.stitch] * max(0, stop - start)
        at += run.count
    return found + [None] * (across - len(found))


def _colours(session: Session, level: int, right: int, across: int) -> list[str]:
    part = _part(session, level, right, across)
    return [session.piece.yarn(stitch.yarn).colour if stitch else "" for stitch in part]


def _numbered(session: Session, place: Place, level: int, line: Line, turned: bool) -> Line:
    """The line between its gutters: the number on the side where the row starts, the arrow on the row in work."""
    beside = session.rows.fabric.levels[level]
    cloth = session.rows[place.row if place.row in beside else beside[0]]
    is_now = place.row in beside and not session.is_worked
    starts_right = (cloth.toward == "left") != turned
    number = str(cloth.number)
    side = gutter(session)
    manner = "now" if is_now else "quiet"
    if starts_right:
        tail = f"{'◀' if is_now else ' '}{number:<{side - 1}}"
        return [(" " * side, ""), *line, (tail, manner)]
    return [(f"{number:>{side - 1}}{'▶' if is_now else ' '}", manner), *line, (" " * side, "")]
