"""The chart around the row in work, drawn as the fabric looks, in the gauge's proportion as near as cells allow.

Near, a stitch is one to three columns by one line with its yarn's symbol, as wide as lets the whole width be seen;
far, it is one column by half a line, colour only, and the row in work stands in letters. Done stitches are faded and
underlined, the run in work stands in brackets and over a bar at the foot, a heavy line where two strands meet in a
run, so that nothing hangs on colour.
"""

from __future__ import annotations

from textual import events

from companion.knitting.cloth.fabric import Gauge
from companion.knitting.cloth.rows import Place
from companion.knitting.latest import latest
from companion.knitting.piece import Piece
from companion.progress.session import Session
from companion.screens.chart_lines import (
    EMPTY as EMPTY,  # for the other charts, which show nothing else of a line
)
from companion.screens.chart_lines import NONE, TEN, View, foot, gutter, halved, lettered, numbered, state_of
from companion.screens.flowing import Line
from companion.screens.lines import Lines
from companion.screens.themes import FEW_COLOURS

KEPT = 1000
"""So many drawn lines are kept."""

WIDEST = 3
"""Columns that a stitch has at most."""

WHEEL = 3
"""Rows or stitches that one notch of the wheel moves it by."""

LEAST_WITH_FOOT = 5
"""A chart of fewer lines gives none of them to a foot."""

def around(at: int, room: int, first: int, last: int) -> int:
    """The first of ``room`` rows or columns that are shown around one, of those from ``first`` to ``last``."""
    return max(first, min(at - room // 2, last - room + 1))


@latest
def near_columns(gauge: Gauge) -> int:
    """Columns of a stitch that is one line high; a cell of a terminal is taken as twice as high as wide."""
    return max(1, min(WIDEST, round(2 * gauge.stitch_cm / gauge.row_cm)))


class ChartPanel(Lines):
    """Follows the needles by half a screen at a time; scrolls by hand until the next step.

    ``is_far``: small stitches; ``is_held``: wrong-side rows as they are held. ``looked_at``: the lowest row, from 0,
    and the rightmost column that the knitter scrolled to; None follows the needles.
    """

    is_far = is_held = False
    looked_at: tuple[int, int] | None = None

    def __init__(self, *, id: str | None = None) -> None:
        super().__init__(id=id)
        self._kept_for: Piece | None = None
        self._kept: dict[tuple[object, ...], Line] = {}

    def on_mouse_scroll_up(self, event: events.MouseScrollUp) -> None:
        """The wheel moves the chart; with shift or ctrl sideways."""
        event.stop()
        self.scroll_by(*((WHEEL, 0) if event.shift or event.ctrl else (0, WHEEL)))

    def on_mouse_scroll_down(self, event: events.MouseScrollDown) -> None:
        """The wheel moves the chart; with shift or ctrl sideways."""
        event.stop()
        self.scroll_by(*((-WHEEL, 0) if event.shift or event.ctrl else (0, -WHEEL)))

    def on_mouse_scroll_left(self, event: events.MouseScrollLeft) -> None:
        """A wheel that tilts."""
        event.stop()
        self.scroll_by(WHEEL, 0)

    def on_mouse_scroll_right(self, event: events.MouseScrollRight) -> None:
        """A wheel that tilts."""
        event.stop()
        self.scroll_by(-WHEEL, 0)

    def scroll_by(self, left: int, up: int) -> None:
        """Scroll by hand, as far as there is chart."""
        session, size = self.session, self.size
        if session is None or not size:
            return
        view = self._view(session, size.width, size.height)
        low, right = self._corner(session, view)
        self.looked_at = _inside(session, view, low + up, right - left if view.is_turned else right + left)
        self.redraw()

    def draw(self, width: int, height: int) -> list[Line]:
        """Lines from the top of what is shown down to its bottom, and the foot."""
        session = self.session
        if session is None or not width or not height:
            return []
        view = self._view(session, width, height)
        low, right = self._corner(session, view)
        place, rows = session.at, range(low, low + view.up)
        here = None if session.is_worked else session.rows.fabric.level(place.row)
        if self._kept_for is not session.piece or len(self._kept) > KEPT:
            self._kept_for, self._kept = session.piece, {}
        shown = _paired(rows, here) if view.is_halved else [(level,) for level in reversed(rows)]
        lines = [self._line(session, place, levels, right, view) for levels in shown]
        return [*lines, foot(session, place, right, view)] if view.has_foot else lines

    def _view(self, session: Session, width: int, height: int) -> View:
        """As large as the whole width can be seen; where it cannot be, as many stitches as there is room for."""
        stitches, levels, side = session.piece.fabric.columns, len(session.rows.fabric.levels), gutter(session)
        has_foot = height >= LEAST_WITH_FOOT and stitches >= TEN
        lines = height - has_foot
        is_halved = self.is_far and self._has_colours()
        widest = 1 if self.is_far else near_columns(session.piece.gauge)
        most = 1 if is_halved else 2
        ways = [*((columns, sides) for columns in range(widest, 0, -1) for sides in range(most, 0, -1)), (1, 0)]
        whole = (way for way in ways if way[0] * stitches + way[1] * side <= width)
        columns, sides = next(whole, (1, most if width >= 4 * side else 0))
        up = 2 * max(1, lines - 1) if is_halved else lines
        is_turned = self.is_held and session.rows[session.at.row].side == "WS"
        across = min(stitches, width - sides * side)
        return View(columns, across, min(levels, up), sides, has_foot, is_halved, is_turned)

    def _has_colours(self) -> bool:
        """Yarns can be told apart by colour alone; of 16 colours two may look the same."""
        return not (self.is_attached and (self.app.no_color or self.app.console.color_system in FEW_COLOURS))

    def _corner(self, session: Session, view: View) -> tuple[int, int]:
        """The lowest row and the rightmost column shown: where the knitter looks, or else by half a screen so far on
        that the run in work begins in the half that the work comes from and its row has others above and below."""
        if self.looked_at is not None:
            return _inside(session, view, *self.looked_at)
        place, stitches = session.at, session.piece.fabric.columns
        row = session.rows[place.row]
        start = row.segments[min(place.segment, len(row.segments) - 1)].first
        aside, up = max(1, view.across // 2), max(1, view.up // 2)
        if row.toward == "left":
            right = (start - 1) // aside * aside + 1
        else:
            right = stitches - (stitches - start) // aside * aside - view.across + 1
        low = (session.rows.fabric.level(place.row) - view.up // 4) // up * up
        return _inside(session, view, low, right)

    def _line(self, session: Session, place: Place, levels: tuple[int, ...], right: int, view: View) -> Line:
        """One row of the chart, or two above each other; kept, since most stay as they are from step to step."""
        states = [state_of(session, place, level) for level in levels]
        beside = (session.rows.fabric.levels[level] for level in levels if level != NONE)
        here = place.row if any(place.row in rows for rows in beside) else NONE
        key = (*levels, right, view, *states, here, session.is_worked)
        if key not in self._kept:
            drawn = halved if len(levels) == 2 else lettered
            line = drawn(session, levels, right, view, states)
            self._kept[key] = numbered(session, place, max(levels) if NONE in levels else levels[-1], line, view)
        return self._kept[key]


def _paired(rows: range, alone: int | None) -> list[tuple[int, ...]]:
    """Rows from the top down, two a line, the one in work alone and the others counted from it."""
    at = alone if alone is not None and alone in rows else rows.stop
    above = [(row + 1 if row + 1 in rows else NONE, row) for row in range(at + 1, rows.stop, 2)]
    below = [(row, row - 1 if row - 1 in rows else NONE) for row in range(at - 1, rows.start - 1, -2)]
    return [*reversed(above), *([(at,)] if at in rows else []), *below]


def _inside(session: Session, view: View, low: int, right: int) -> tuple[int, int]:
    """The corner, moved so that all of what is shown is chart."""
    fabric = session.rows.fabric
    return max(0, min(low, len(fabric.levels) - view.up)), max(1, min(right, fabric.columns - view.across + 1))
