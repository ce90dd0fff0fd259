"""The working screen under a finger and under a question: what a click on its largest part does, and that it gives
way to what is asked over it."""

from __future__ import annotations

from typing import ClassVar

from textual import events

from companion.screens.key_line import KeyLine
from companion.screens.rowside import Answering
from companion.screens.whole_pictures import lay_out_at_once

RIGHT = 3
"""The number of the right button."""


class LargePlace(Answering[None]):
    """A click on one of the parts that ``large`` names does what is told there; one of the right button, or a long
    one, takes it back."""

    _lent = 0
    large: ClassVar[frozenset[str | None]] = frozenset()

    def _arrange(self) -> None:
        """Divide the room there is."""
        raise NotImplementedError(f"{type(self).__name__} divides no room")

    def lend(self, lines: int) -> None:
        """Give up so many lines at the foot, to what is asked there; what is left is divided anew. That of the keys,
        which do nothing meanwhile, is one of them."""
        lines = max(0, lines - sum(part.display for part in self.query(KeyLine)))
        if self._lent != lines:
            self._lent = lines
            self.styles.padding = (0, 0, lines, 0)
            self._arrange()
            lay_out_at_once(self)

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
