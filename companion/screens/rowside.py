"""What the app is to its screens, and what its screens have in common."""

from __future__ import annotations

from collections.abc import Awaitable, Callable, Sequence
from typing import Any, cast

from textual.app import App
from textual.await_complete import AwaitComplete
from textual.filter import LineFilter
from textual.reactive import Reactive
from textual.screen import Screen, ScreenResultType
from textual.theme import Theme

from companion.knitting.piece import Piece
from companion.knitting.words import Terms
from companion.progress import folders
from companion.screens.actions import with_keys
from companion.screens.themes import FEW_COLOURS, THEMES, SixteenColours, next_light
from companion.settings import Settings

ASKING = "asking"
"""The workers that wait for a question's answer."""


class Rowside(App[None]):
    """``deeds``: the table of actions with the knitter's own keys. ``notice``: what must be said on opening."""

    theme: Reactive[str] = Reactive("dark")

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
        self.theme = settings.light

    def action_change_light(self) -> None:
        """A dark screen, a light one, one of high contrast."""
        self.theme = next_light(self.theme)

    @property
    def available_themes(self) -> dict[str, Theme]:
        """Our own alone."""
        return dict(THEMES)

    def get_line_filters(self) -> Sequence[LineFilter]:
        """What is done to every line before it is painted."""
        few = [SixteenColours()] if self.console.color_system in FEW_COLOURS else []
        return [*super().get_line_filters(), *few]

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
