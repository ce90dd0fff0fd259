"""What the computer's own speaker is given to say of a sitting: each step once, as much as the knitter wants."""

from __future__ import annotations

from companion.dialogue.aloud import Aloud
from companion.dialogue.saying import How
from companion.dialogue.sitting import Sitting
from companion.dialogue.telling import Telling
from companion.knitting import words


class Speaking:
    """Speaks of one sitting."""

    def __init__(self, sitting: Sitting) -> None:
        self._sitting = sitting
        self._aloud = Aloud(sitting, self._telling)

    def text(self) -> str:
        """What is new since it was asked for last. A count alone where that is wanted, but for what is refused."""
        before = self._aloud.last
        lines = self._aloud.lines()
        now = self._aloud.last
        is_new = before is None or (now is not None and now.session is not before.session)
        if now is None or not is_new or self._sitting.knitter.settings.speak != "count":
            return " ".join(lines)
        runs = [one.run for one in now.runs if not one.is_done] if self._sitting.view.is_row_mode else [now.run]
        return " ".join(words.counted(run, now.terms) for run in runs if run and now.run) or now.short

    def _telling(self) -> Telling:
        """Not the one that is shown: a screen that asks for it again finds it as it was."""
        sitting = self._sitting
        how: How = "full" if sitting.knitter.settings.speak == "full" else "short"
        saying = sitting.saying._replace(how=how)
        return Telling(sitting.session, sitting.terms._replace(is_aloud=True), saying)
