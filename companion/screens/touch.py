"""What is done by a click on the part of a screen that tells what is done now."""

from __future__ import annotations

from typing import ClassVar

from textual import events

from companion.screens.rowside import Answering

RIGHT = 3
"""The number of the right button."""


class LargePlace(Answering[None]):
    """A click on one of the parts that ``large`` names does what is told there; one of the right button, or a long
    one, takes it back."""

    large: ClassVar[frozenset[str | None]] = frozenset()

    async def do_found(self, name: str) -> None:
        """It takes its turn."""
        self.action_deed(name)

    def on_mouse_down(self, event: events.MouseDown) -> None:
        """How long it will have been."""
        self.rowside.clicks.pressed_at = event.time

    def on_click(self, event: events.Click) -> None:
        """On, or back."""
        if event.widget is None or event.widget.id not in self.large or not self.is_meant(event):
            return
        is_back = event.button == RIGHT or self.rowside.clicks.is_long(event.time)
        self.action_deed("back" if is_back else "on")
