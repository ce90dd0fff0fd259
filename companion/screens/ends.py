"""The list of ends: every one the piece has or will have, marked woven as they go."""

from __future__ import annotations

from typing import ClassVar

from textual.binding import Binding, BindingType
from textual.widgets import OptionList

from companion.knitting import words
from companion.knitting.ends import End, EndState
from companion.progress.actions import Refused, Unweave, Weave
from companion.progress.ends import all_ends, ready_ends
from companion.progress.knitting import Knitting
from companion.progress.trouble import Trouble
from companion.screens.picking import PickingScreen

FILTERS: tuple[tuple[str, frozenset[EndState]], ...] = (
    ("on the fabric", frozenset({"too fresh", "ready", "woven"})),
    ("ready", frozenset({"ready"})),
    ("woven", frozenset({"woven"})),
    ("all, those to come too", frozenset({"not yet", "too fresh", "ready", "woven"})),
)


class EndsScreen(PickingScreen):
    """Space marks the end under the highlight as woven in, or not; f changes the filter."""

    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("space", "mark", "woven or not", priority=True),
        Binding("f", "filter", "filter"),
    ]
    foot = "space: woven in, or not   f: filter   escape: back"

    def __init__(self, knitting: Knitting, terms: words.Terms) -> None:
        super().__init__()
        self._knitting = knitting
        self._terms = terms
        self._filter = 0
        self._said = ""
        self._shown: list[tuple[End, EndState]] = []

    def fill(self) -> None:
        """The ends that the filter lets through."""
        session = self._knitting.session
        name, states = FILTERS[self._filter]
        self._shown = [(end, state) for end, state in all_ends(session) if state in states]
        title = self._said or words.ends_title(name, len(self._shown), ready_ends(session), self._terms)
        self.put(title, [words.end_line(session.strands, end, state, self._terms) for end, state in self._shown])

    def action_filter(self) -> None:
        """The next filter."""
        self._filter = (self._filter + 1) % len(FILTERS)
        self._said = ""
        self.fill()

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


