"""Who sits at the needles: her settings and her keys, for whichever piece."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

from companion.dialogue.deeds import with_keys
from companion.dialogue.saying import WAYS, How
from companion.progress import folders
from companion.settings import CHOICES, Settings, read

if TYPE_CHECKING:
    from companion.knitting.piece import Piece
    from companion.knitting.words import Terms
    from companion.speech import Voice


def own_settings() -> tuple[Settings, str]:
    """The settings in her file, and what must be said of them; "" where they are right."""
    settings, problems = read(folders.settings_file())
    return settings, f"Settings: {problems[0].what}" if problems else ""


class Knitter:
    """``deeds``: the table of actions with her own keys. ``notice``: what must be said on opening. ``light``: the
    screen's ground now, and ``say``: how much is said at a change now, which are not always those of the settings.
    ``is_heard``: what is told is heard, not seen. ``unwritten``: what she is asked for, of which nothing is
    written yet; "" = all that she did is saved."""

    is_heard = False

    def __init__(self, settings: Settings | None = None, notice: str = "") -> None:
        self.settings = settings or Settings()
        self.deeds, wrong = with_keys(self.settings.keys)
        self.notice = " ".join([notice, *wrong]).strip()
        self.light: str = self.settings.light
        self.say: How = self.settings.say
        self.unwritten = ""
        self._voice: Voice | None = None

    @property
    def voice(self) -> Voice | None:
        """What says things aloud; None where that is not wanted."""
        if self.settings.speak == "off":
            return None
        if self._voice is None:
            from companion.speech import Voice, speakers_here

            self._voice = Voice(speakers_here())
        return self._voice

    def hush(self) -> None:
        """Nothing is said aloud any more until there is something new to say."""
        if self._voice is not None:
            self._voice.say("")

    @property
    def settings_file(self) -> Path:
        """Where her settings are kept."""
        return folders.settings_file()

    @property
    def is_mirrored(self) -> bool:
        """She works mirrored, in pieces begun from now on."""
        return self.settings.hands == "left"

    def terms_for(self, piece: Piece) -> Terms:
        """Whose words a piece is told in."""
        return self.settings.terms_for(piece)._replace(is_aloud=self.is_heard)

    def take_up(self, settings: Settings) -> None:
        """Go on with other settings."""
        self.settings = settings
        self.deeds, _ = with_keys(settings.keys)
        self.light, self.say = settings.light, settings.say
        if settings.speak == "off":
            self.hush()

    def change_light(self) -> None:
        """A dark screen, a light one, one of high contrast, until the settings say otherwise."""
        lights = CHOICES["light"]
        self.light = lights[(lights.index(self.light) + 1) % len(lights)]

    def change_say(self) -> None:
        """All, in short, no more than a mark, and all for the first time again, until the settings say otherwise."""
        self.say = WAYS[(WAYS.index(self.say) + 1) % len(WAYS)]

    def key_of(self, name: str) -> str:
        """The key that stands in sentences for a deed."""
        return next(deed.key for deed in self.deeds if deed.name == name)
