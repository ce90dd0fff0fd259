"""The ends: every one the piece has or will have, how it is woven in and where it lies; marked as they go."""

from __future__ import annotations

from typing import ClassVar

from textual.binding import Binding, BindingType
from textual.widgets import OptionList, Static

from companion.knitting import words
from companion.knitting.hands.ends import End, EndState
from companion.progress.actions import Refused, Unweave, Weave
from companion.progress.ends import all_ends, how_woven, ready_ends
from companion.progress.knitting import Knitting
from companion.progress.repairs import closes
from companion.progress.trouble import Trouble
from companion.screens.asking import safe
from companion.screens.back_map import BackMap
from companion.screens.picking import PicturedScreen

FILTERS: tuple[tuple[str, frozenset[EndState]], ...] = (
    ("on the fabric", frozenset({"too fresh", "ready", "for the seam", "woven"})),
    ("ready", frozenset({"ready"})),
    ("woven", frozenset({"woven"})),
    ("all, those to come too", frozenset({"not yet", "too fresh", "ready", "for the seam", "woven"})),
)

WIDE = 100
"""From so many columns on the map stands beside the list."""


LOW = 20
"""On fewer lines what is told runs on, and takes more of them than the list."""


class EndsScreen(PicturedScreen):
    """Space marks the end under the highlight as woven in, or not; f changes the filter, m shows the map of the back
    where it has no room beside the list."""

    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("space", "mark", "woven or not", priority=True),
        Binding("f", "filter", "filter"),
        Binding("m", "map", "map of the back"),
    ]
    foot = "space: woven in, or not   f: filter   m: map of the back   escape: back"

    def __init__(self, knitting: Knitting, terms: words.Terms, shows_by: float, only_ready: bool = False) -> None:
        super().__init__()
        self._knitting = knitting
        self._terms = terms
        self._shows_by = shows_by
        self._filter = 1 if only_ready else 0
        self._is_map = False
        self._said = ""
        self._shown: list[tuple[End, EndState]] = []

    def picture(self) -> BackMap:
        """The wrong side, as it is seen when the work is turned over."""
        made = BackMap(id="back")
        made.session = self._knitting.session
        return made

    def give_room(self) -> None:
        """The map beside the list where there is room, in its place where it is asked for."""
        is_wide = self.size.width >= WIDE
        self.set_class(self.size.height < LOW, "-low")
        self.query_one("#told").display = is_wide or not self._is_map
        self.query_one("#back").display = is_wide or self._is_map

    def fill(self) -> None:
        """The ends that the filter lets through, as they lie: row by row, and from the left of the wrong side."""
        session = self._knitting.session
        name, states = FILTERS[self._filter]
        shown = [(end, state) for end, state in all_ends(session) if state in states]
        self._shown = sorted(shown, key=lambda one: how_woven(session, one[0]).cells[0])
        title = self._said or words.ends_title(
            name, len(self._shown), ready_ends(session), self._terms, left=session.ends_left
        )
        self.put(title, [words.end_line(session.strands, end, state, self._terms) for end, state in self._shown])
        hung = {how_woven(session, end).cells[0]: end for end, state in all_ends(session) if state in _HUNG}
        back = self.query_one(BackMap)
        back.hung, back.session = hung, session
        self.tell()

    def tell(self) -> None:
        """How this one is done, and where it lies."""
        at = self.picked
        told: list[str] = []
        back = self.query_one(BackMap)
        if at is None or at >= len(self._shown):
            back.chosen = None
        else:
            back.chosen = how_woven(self._knitting.session, self._shown[at][0])
            session, end = self._knitting.session, self._shown[at][0]
            holes = [words.close_hole(session.rows, hole) for hole, tail in closes(session).items() if tail == end]
            told = [words.TURNED_OVER, *holes, *words.how_to_weave(back.chosen, self._terms, self._shows_by)]
            if self.size.height < LOW:
                told = [" ".join(told[1:])]  # that the work is turned over is the same for every end
        back.redraw()
        self.query_one("#how", Static).update(safe("\n".join(told)))

    def action_filter(self) -> None:
        """The next filter."""
        self._filter = (self._filter + 1) % len(FILTERS)
        self._said = ""
        self.fill()

    def action_map(self) -> None:
        """The map in place of the list, or the list again."""
        self._is_map = not self._is_map
        self.give_room()

    def on_option_list_option_selected(self, event: OptionList.OptionSelected) -> None:
        """Enter or a click on an end."""
        event.stop()
        self.action_mark()

    def action_mark(self) -> None:
        """Mark or unmark the end under the highlight; saved before it is shown."""
        if self.picked is None or self.picked >= len(self._shown):
            return
        end, state = self._shown[self.picked]
        self._said = ""
        try:
            self._knitting.do(Unweave(end) if state == "woven" else Weave(end))
        except (Refused, Trouble) as reason:
            self._said = str(reason)
        self.fill()


_HUNG: frozenset[EndState] = frozenset({"too fresh", "ready", "for the seam"})
