"""The settings screen: each choice in one line, changed with enter, kept for every piece from then on."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

from textual.widgets import OptionList

from companion.problems import Problems
from companion.progress.trouble import from_os
from companion.screens.picking import PickingScreen
from companion.settings import CHOICES, Settings, read, write

_TOLD = {
    "terms": ("Terms", {"us": "US (bind off, gauge)", "uk": "UK (cast off, tension)"}),
    "hands": (
        "Hands, for pieces begun from now on",
        {"right": "right-handed", "left": "left-handed, working mirrored"},
    ),
    "units": ("Lengths", {"cm": "centimetres", "in": "inches"}),
    "light": ("Screen", {"dark": "dark", "light": "light"}),
}


class SettingsScreen(PickingScreen):
    """Enter changes the setting under the highlight and saves it; ``changed`` is told at once."""

    foot = "enter: change   escape: back"

    def __init__(self, path: Path, settings: Settings, changed: Callable[[Settings], None]) -> None:
        super().__init__()
        self._path = path
        self._settings = settings
        self._changed = changed
        self._said = ""

    def fill(self) -> None:
        """A line a setting."""
        lines = [f"{_TOLD[key][0]}: {_TOLD[key][1][getattr(self._settings, key)]}" for key in CHOICES]
        self.put(self._said or f"Settings, kept in {self._path}", lines)

    def on_option_list_option_selected(self, event: OptionList.OptionSelected) -> None:
        """The next choice of this setting."""
        event.stop()
        key = tuple(CHOICES)[event.option_index]
        words = CHOICES[key]
        value = words[(words.index(getattr(self._settings, key)) + 1) % len(words)]
        self._said = ""
        try:
            write(self._path, key, value)
            self._settings = read(self._path)[0]
            self._changed(self._settings)
        except Problems as found:
            self._said = found.problems[0].what
        except OSError as error:
            self._said = str(from_os(error, self._path))
        self.fill()
