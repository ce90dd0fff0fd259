"""What every screen knows of the app: the knitter's settings, and the words and keys that follow from them."""

from __future__ import annotations

from textual.app import App
from textual.screen import Screen

from companion.knitting.piece import Piece
from companion.knitting.words import Terms
from companion.progress import folders
from companion.screens.actions import with_keys
from companion.settings import Settings


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
