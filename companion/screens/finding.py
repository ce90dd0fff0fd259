"""Help: everything that can be done in a place with its key, found by typing, done with enter or a click."""

from __future__ import annotations

from collections.abc import Iterator
from typing import ClassVar, cast

from textual.binding import Binding, BindingType
from textual.widget import Widget
from textual.widgets import Input

from companion.dialogue.finding import Finding
from companion.screens.bound import bound
from companion.screens.picking import PickingScreen
from companion.screens.plain_parts import PlainInput


class FindingScreen(PickingScreen):
    """What is typed stands between title and list; the arrows move in the list."""

    BINDINGS: ClassVar[list[BindingType]] = [
        *bound("finding"),
        Binding("up", "move(-1)", show=False),
        Binding("down", "move(1)", show=False),
    ]

    def __init__(self, finding: Finding) -> None:
        super().__init__(finding)
        self.field = PlainInput(max_length=60, id="field")

    def top(self) -> Iterator[Widget]:
        """The field, too."""
        yield from super().top()
        yield self.field

    @property
    def taking_keys(self) -> Widget:
        """Letters go to the field."""
        return self.field

    def on_input_changed(self, event: Input.Changed) -> None:
        """Those that fit."""
        event.stop()
        cast(Finding, self.listing).typed = event.value
        self.options.highlighted = None
        self.show()

    def on_input_submitted(self, event: Input.Submitted) -> None:
        """Do the one under the highlight."""
        event.stop()
        self.action_deed("choose")

    def action_move(self, step: int) -> None:
        """Up or down the list."""
        (self.options.action_cursor_down if step > 0 else self.options.action_cursor_up)()
