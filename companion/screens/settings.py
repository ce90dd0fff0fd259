"""The settings screen: each choice in one line, changed with enter, kept for every piece from then on."""

from __future__ import annotations

from collections.abc import Callable
from functools import partial
from pathlib import Path

from companion.problems import Problems
from companion.progress.trouble import from_os
from companion.screens.asking import AskWords
from companion.screens.picking import PickingScreen
from companion.settings import CHOICES, NUMBERS, Settings, is_value, read, write

_TOLD = {
    "terms": ("Terms", {"us": "US (bind off, gauge)", "uk": "UK (cast off, tension)"}),
    "hands": ("Hands, for pieces begun from now on", {"right": "right-handed", "left": "left-handed, mirrored"}),
    "units": ("Lengths", {"cm": "centimetres", "in": "inches"}),
    "light": ("Screen", {"dark": "dark", "light": "light"}),
    "tails": ("Tails", {"weave": "woven in afterwards", "trap": "laid in while knitting, where there is room"}),
}

_NUMBERS = {
    "offer_at": "Ends are offered at a turn when so many are ready (0: never)",
    "shows_by": "An end may show through a colour lighter by (L*, 0 to 100)",
    "break_after": "Minutes after which a break is suggested (0: never)",
}


class SettingsScreen(PickingScreen):
    """Enter changes the setting under the highlight and saves it; ``changed`` is told at once."""

    keys = "enter: change   escape: back"

    def __init__(self, path: Path, settings: Settings, changed: Callable[[Settings], None]) -> None:
        super().__init__()
        self._path = path
        self._settings = settings
        self._changed = changed

    def fill(self) -> None:
        """A line a setting."""
        lines = [f"{_TOLD[key][0]}: {_TOLD[key][1][getattr(self._settings, key)]}" for key in CHOICES]
        lines += [f"{_NUMBERS[key]}: {getattr(self._settings, key)}" for key in NUMBERS]
        self.put(f"Settings, kept in {self._path}", lines)

    def choose(self, at: int) -> None:
        """The next choice of this setting, or another number."""
        key = (*CHOICES, *NUMBERS)[at]
        if key in NUMBERS:
            self.ask(partial(self._ask, key))
            return
        words = CHOICES[key]
        self._save(key, words[(words.index(getattr(self._settings, key)) + 1) % len(words)])

    async def _ask(self, key: str) -> None:
        _, least, most = NUMBERS[key]
        question = f"{_NUMBERS[key]}, {least} to {most}:"
        value = await self.app.push_screen_wait(AskWords(question, str(getattr(self._settings, key)), kind="number"))
        if value is not None and is_value(key, value):
            self._save(key, value)

    def _save(self, key: str, value: str) -> None:
        self.said = ""
        try:
            write(self._path, key, value)
            self._settings = read(self._path)[0]
            self._changed(self._settings)
        except Problems as found:
            self.said = found.problems[0].what
        except OSError as error:
            self.said = str(from_os(error, self._path))
        self.fill()
