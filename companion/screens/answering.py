"""A screen is left once: its first answer counts, and keys that come with it are ignored."""

from __future__ import annotations

from collections.abc import Awaitable, Callable
from typing import TYPE_CHECKING, Any, cast

from textual.await_complete import AwaitComplete
from textual.screen import Screen, ScreenResultType

if TYPE_CHECKING:
    from companion.screens.rowside import Rowside

ASKING = "asking"
"""The workers that wait for a question's answer."""


class Answering(Screen[ScreenResultType]):
    """What all screens here are. ``lines--...``: the manners in which ``Lines`` are shown."""

    COMPONENT_CLASSES = {"lines--strong", "lines--quiet", "lines--now", "lines--done", "lines--alert"}

    @property
    def rowside(self) -> Rowside:
        """The app; there is no other one."""
        return cast("Rowside", self.app)

    def dismiss(self, result: ScreenResultType | None = None) -> AwaitComplete:
        """Leave with this answer. A screen that is left already, or lies below another one, stays as it is: left
        now, it would take another screen with it."""
        return super().dismiss(result) if self.is_active else AwaitComplete()

    def ask(self, asking: Callable[[], Awaitable[Any]]) -> None:
        """Ask something over this screen, unless something is asked already."""
        asked = (worker for worker in self.workers if worker.node is self and worker.group == ASKING)
        if all(worker.is_finished for worker in asked):
            self.run_worker(asking, group=ASKING)
