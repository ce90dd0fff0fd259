"""One picture where Textual would paint several, and at once: what is painted is laid out and drawn before, in the
same turn.

This takes parts of Textual that it does not promise. Where a version lacks one of them, it lays out and paints as
usual, a little later.
"""

from __future__ import annotations

from collections.abc import Iterable
from contextlib import AbstractContextManager
from typing import Any

from textual.app import App
from textual.screen import Screen
from textual.widget import Widget

MOST_HELD = 0.2
"""Seconds for which nothing is painted, at most."""


def can_paint_at_once(screen: Screen[Any]) -> bool:
    """Whether there is what ``paint_at_once`` takes."""
    return hasattr(screen, "_dirty_widgets") and hasattr(screen, "_on_timer_update")


def paint_at_once(screen: Screen[Any], parts: Iterable[Widget]) -> None:
    """Paint what was drawn anew in these parts."""
    screen._dirty_widgets.update(parts)
    screen._on_timer_update()


def lay_out_at_once(screen: Screen[Any]) -> None:
    """Give every part the room that its styles say now."""
    if hasattr(screen, "_refresh_layout"):
        for widget in (screen, *screen.walk_children(Widget)):  # as they will be told, too late for this layout
            if hasattr(widget, "_clear_arrangement_cache"):
                widget._clear_arrangement_cache()
        screen._refresh_layout()


class WholePictures(App[None]):
    """What is shown between ``hold`` and ``let_go`` is painted at once."""

    _held: AbstractContextManager[None] | None = None

    @property
    def is_held(self) -> bool:
        """Nothing is painted."""
        return self._held is not None

    def hold(self) -> None:
        """Paint nothing until ``let_go``, as a question opens or closes over a screen that makes room for it: what is
        shown on the way is half of one picture and half of the next."""
        if not self._held:
            self._held = self.batch_update()
            self._held.__enter__()
            self.set_timer(MOST_HELD, self.let_go)

    def let_go(self) -> None:
        """Paint all of it, in one picture."""
        if self._held:
            held, self._held = self._held, None
            held.__exit__(None, None, None)
            screen = self.screen
            screen.refresh()
            if hasattr(screen, "_on_timer_update") and hasattr(screen, "_compositor"):
                screen._compositor._dirty_regions.add(self.size.region)  # what Textual meant to paint is forgotten
                screen._on_timer_update()
