"""The settings: each choice in one line, changed when it is chosen, kept for every piece from then on."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from typing import ClassVar

from companion.dialogue.deed import Where
from companion.dialogue.deeds import USUAL
from companion.dialogue.keys_list import KeysList
from companion.dialogue.knitter import Knitter
from companion.dialogue.listing import Listing
from companion.dialogue.questions import Asking, Words
from companion.dialogue.saying import SAYINGS
from companion.dialogue.table import plain_table
from companion.knitting import words
from companion.problems import Problems
from companion.progress.trouble import from_os
from companion.settings import CHOICES, NUMBERS, is_value, read, write

_TOLD: Mapping[str, tuple[str, Mapping[str, str]]] = {
    "terms": ("Terms", {"us": "US (bind off, gauge)", "uk": "UK (cast off, tension)"}),
    "hands": ("Hands, for pieces begun from now on", {"right": "right-handed", "left": "left-handed, mirrored"}),
    "units": ("Lengths", {"cm": "centimetres", "in": "inches"}),
    "light": ("Screen", {"dark": "dark", "light": "light", "contrast": "high contrast"}),
    "tails": ("Tails", {"weave": "woven in afterwards", "trap": "laid in while knitting, where there is room"}),
    "say": ("Said at a change", SAYINGS),
    "pace": ("How long the rest takes", {"turn": "told at a turn", "off": "not told at a turn"}),
    "speak": (
        "Said aloud by this computer",
        {"off": "nothing", "count": "yarn and stitches", "short": "each step in short", "full": "each step in full"},
    ),
    "pedal": ("A pedal that is held down", {"off": "goes on and on", "on": "counts once"}),
}

_NUMBERS = {
    "offer_at": "Ends are offered at a turn when so many are ready (0: never)",
    "shows_by": "An end may show through a colour lighter by (L*, 0 to 100)",
    "break_after": "Minutes after which a break is suggested (0: never)",
}


class SettingsList(Listing):
    """A line a setting; one that is chosen is changed, saved and in force at once."""

    where: ClassVar[Where] = "settings"
    verbs = {"choose": "change"}

    def __init__(self, knitter: Knitter) -> None:
        super().__init__()
        self._knitter = knitter
        self._settings = knitter.settings

    def fill(self) -> None:
        """All settings."""
        lines = [f"{_TOLD[key][0]}: {_TOLD[key][1][getattr(self._settings, key)]}" for key in CHOICES]
        if (voice := self._knitter.voice) is not None:
            lines[[*CHOICES].index("speak")] += f" ({voice.name or 'but it has no speaker'})"
        lines += [f"{_NUMBERS[key]}: {getattr(self._settings, key)}" for key in NUMBERS]
        own = sum(deed.keys != USUAL[deed.name].keys for deed in self._knitter.deeds)
        lines += [f"Keys: {words.how_many(own, 'thing')} with keys of your own" if own else "Keys: the usual ones"]
        self.title = f"Settings, kept in {self._knitter.settings_file}"
        self.put(plain_table(lines))

    def choose(self) -> Asking[None]:
        """The next choice of this setting, or another number."""
        assert self.meant is not None
        if self.meant == len(CHOICES) + len(NUMBERS):
            yield KeysList(self._knitter, self._saved)
            return
        key = (*CHOICES, *NUMBERS)[self.meant]
        now = str(getattr(self._settings, key))
        if key in CHOICES:
            self._save(key, CHOICES[key][(CHOICES[key].index(now) + 1) % len(CHOICES[key])])
            return
        _, least, most = NUMBERS[key]
        value = yield Words(f"{_NUMBERS[key]}, {least} to {most}:", now, is_number=True)
        if value is not None and is_value(key, value):
            self._save(key, value)

    def _save(self, key: str, value: str) -> None:
        self.said = self._saved(lambda: write(self._knitter.settings_file, key, value))

    def _saved(self, change: Callable[[], None]) -> str:
        """Change the file and take it up; why it cannot be."""
        path = self._knitter.settings_file
        try:
            change()
            self._settings = read(path)[0]
            self._knitter.take_up(self._settings)
        except Problems as found:
            return found.problems[0].what
        except OSError as error:
            return str(from_os(error, path))
        return ""
