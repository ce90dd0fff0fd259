"""What the app is to its screens, and what its screens have in common."""

from __future__ import annotations

from collections.abc import Awaitable, Callable
from typing import Any, cast

from textual.app import App
from textual.await_complete import AwaitComplete
from textual.screen import Screen, ScreenResultType

from companion.knitting.piece import Piece
from companion.knitting.words import Terms
from companion.progress import folders
from companion.screens.actions import with_keys
from companion.settings import Settings

ASKING = "asking"
"""The workers that wait for a question's answer."""


class Rowside(App[None]):
    """``deeds``: the table of actions with the knitter's own keys. ``notice``: what must be said on opening."""

    def __init__(self, settings: Settings | None = None, notice: str = "") -> None:
        super().__init__()
        self.settings = settings or Settings()
        self.deeds, wrong = with_keys(self.settings.keys)
        self.notice = " ".join([notice, *wrong]).strip()

    def terms_for(self, piece: Piece) -> Terms:
        """Whose words a piece is told in."""
        return self.settings.terms_for(piece)

    def take_up(self, settings: Settings) -> None:
        """Go on with other settings."""
        self.settings = settings
        self.theme = "textual-light" if settings.light == "light" else "textual-dark"

    def action_change_light(self) -> None:
        """A light screen or a dark one."""
        self.theme = "textual-light" if self.theme == "textual-dark" else "textual-dark"

    def action_change_settings(self) -> None:
        """Open the settings."""
        self.push_screen(self.settings_screen())

    def settings_screen(self) -> Screen[None]:
        """The settings, changed where they are taken up."""
        from companion.screens.settings import SettingsScreen

        return SettingsScreen(folders.settings_file(), self.settings, self.take_up)


class Answering(Screen[ScreenResultType]):
    """Left once: its first answer counts, and keys that come with it are ignored. ``lines--...``: how ``Lines`` are
    shown."""

    COMPONENT_CLASSES = {"lines--strong", "lines--quiet", "lines--now", "lines--done", "lines--alert"}

    @property
    def rowside(self) -> Rowside:
        """The app; there is no other one."""
        return cast(Rowside, self.app)

    def dismiss(self, result: ScreenResultType | None = None) -> AwaitComplete:
        """Leave with this answer. A screen that is left already, or lies below another one, stays as it is: left
        now, it would take another screen with it."""
        return super().dismiss(result) if self.is_active else AwaitComplete()

    def ask(self, asking: Callable[[], Awaitable[Any]]) -> None:
        """Ask something over this screen, unless something is asked already."""
        asked = (worker for worker in self.workers if worker.node is self and worker.group == ASKING)
        if all(worker.is_finished for worker in asked):
            self.run_worker(asking, group=ASKING)
