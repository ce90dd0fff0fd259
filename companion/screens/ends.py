"""The ends: every one the piece has or will have, how it is woven in and where it lies; marked as they go."""

from __future__ import annotations

from typing import ClassVar

from textual.binding import Binding, BindingType

from companion.knitting import words
from companion.knitting.hands.ends import EndState
from companion.knitting.hands.steps import End
from companion.progress.actions import Unweave, Weave
from companion.progress.ends import all_ends, how_woven, ready_ends
from companion.progress.knitting import Knitting
from companion.progress.mishaps import closes
from companion.screens.asking import safe
from companion.screens.back_map import BackMap
from companion.screens.picking import LOW, WIDE, PicturedScreen

FILTERS: tuple[tuple[str, frozenset[EndState]], ...] = (
    ("on the fabric", frozenset({"too fresh", "ready", "for the seam", "woven"})),
    ("ready", frozenset({"ready"})),
    ("woven", frozenset({"woven"})),
    ("all, those to come too", frozenset({"not yet", "too fresh", "ready", "for the seam", "woven"})),
)


class EndsScreen(PicturedScreen):
    """Space marks the end under the highlight as woven in, or not; f changes the filter, m shows the map of the back
    where it has no room beside the list."""

    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("f", "filter", "filter"),
        Binding("m", "map", "map of the back"),
    ]
    keys = "space: woven in, or not   f: filter   m: map of the back   escape: back"

    def __init__(self, knitting: Knitting, terms: words.Terms, shows_by: float, only_ready: bool = False) -> None:
        self._back = BackMap(id="back")
        super().__init__(self._back)
        self._knitting = knitting
        self._terms = terms
        self._shows_by = shows_by
        self._filter = 1 if only_ready else 0
        self._is_map = False
        self._listed: list[tuple[End, EndState]] = []

    def give_room(self) -> None:
        """The map beside the list where there is room, in its place where it is asked for."""
        is_wide = self.size.width >= WIDE
        self.set_class(self.size.height < LOW, "-low")
        self.query("#told").set(display=is_wide or not self._is_map)
        self._back.display = is_wide or self._is_map

    def fill(self) -> None:
        """The ends that the filter lets through, as they lie: row by row, and from the left of the wrong side."""
        session = self._knitting.session
        name, states = FILTERS[self._filter]
        ends = all_ends(session)
        listed = [(end, state) for end, state in ends if state in states]
        self._listed = sorted(listed, key=lambda one: how_woven(session, one[0]).cells[0])
        ready, left = ready_ends(session), session.ends_left
        title = words.ends_title(name, len(self._listed), ready, self._terms, left=left)
        self.put(title, [words.end_line(session.strands, end, state, self._terms) for end, state in self._listed])
        self._back.hung = {how_woven(session, end).cells[0] for end, state in ends if state in _HUNG}
        self._back.top = max((session.rows.fabric.level(row) for row in range(session.rows_done)), default=0)
        self._back.session = session
        self.tell()

    def tell(self) -> None:
        """How this one is done, and where it lies."""
        at, session = self.options.highlighted, self._knitting.session
        told: list[str] = []
        self._back.cells = ()
        if at is not None and at < len(self._listed):
            end = self._listed[at][0]
            weaving = how_woven(session, end)
            self._back.cells = weaving.cells
            holes = [words.close_hole(session.rows, hole) for hole, tail in closes(session).items() if tail == end]
            told = [*holes, *words.how_to_weave(weaving, self._terms, self._shows_by)]
            # That the work is turned over is the same for every end: on few lines it gives way.
            told = [" ".join(told)] if self.size.height < LOW else [words.TURNED_OVER, *told]
        self._back.redraw()
        self.how.update(safe("\n".join(told)))

    def action_filter(self) -> None:
        """The next filter."""
        self._filter = (self._filter + 1) % len(FILTERS)
        self.said = ""
        self.fill()

    def action_map(self) -> None:
        """The map in place of the list, or the list again."""
        self._is_map = not self._is_map
        self.give_room()

    def choose(self, at: int) -> None:
        """Mark an end as woven in, or not; saved before it is shown."""
        end, state = self._listed[at]
        self.try_to(lambda: self._knitting.do(Unweave(end) if state == "woven" else Weave(end)))
        self.fill()


_HUNG: frozenset[EndState] = frozenset({"too fresh", "ready", "for the seam"})
