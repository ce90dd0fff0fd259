"""What the computer's own speaker is given to say of a sitting: each step once, as much as the knitter wants."""

from __future__ import annotations

from typing import Literal

from companion.dialogue.aloud import Aloud
from companion.dialogue.sitting import Sitting
from companion.dialogue.telling import Telling
from companion.knitting import words

HowMuch = Literal["count", "short", "full"]


class Speaking:
    """Speaks of one sitting."""

    def __init__(self, sitting: Sitting) -> None:
        self._sitting = sitting
        self._how: HowMuch = "short"
        self._aloud = Aloud(sitting, self._telling)

    def text(self, how: HowMuch) -> str:
        """What is new since it was asked for last. A count alone where that is wanted, but for what is refused."""
        self._how, before = how, self._aloud.last
        lines, now = self._aloud.lines(), self._aloud.last
        is_new = before is None or now is None or now.session is not before.session
        if how != "count" or now is None or not is_new:
            return " ".join(lines)
        if now.run is None:
            return now.short
        runs = [one.run for one in now.runs if not one.is_done] if self._sitting.view.is_row_mode else [now.run]
        return " ".join(words.counted(run, now.terms) for run in runs)

    def _telling(self) -> Telling:
        """Not the one that is shown: a screen that asks for it again finds it as it was."""
        sitting = self._sitting
        saying = sitting.saying._replace(how="full" if self._how == "full" else "short")
        return Telling(sitting.session, sitting.terms._replace(is_aloud=True), saying)
