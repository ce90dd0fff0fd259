"""A break is suggested, if the knitter wants that: modestly, at a turn, after so many minutes without one."""

from __future__ import annotations

from collections.abc import Callable

from companion.progress.stored import PAUSE


class Resting:
    """Keeps the time between breaks. ``clock`` tells seconds that only ever go forward."""

    def __init__(self, clock: Callable[[], float]) -> None:
        self._clock = clock
        self._since = self._last = clock()

    def is_due(self, minutes: int, *, is_at_turn: bool) -> bool:
        """Whether to suggest a break now that something was done; once, then the time runs anew. 0 minutes: never."""
        now = self._clock()
        if now - self._last >= PAUSE:
            self._since = now
        self._last = now
        if not minutes or not is_at_turn or now - self._since < 60 * minutes:
            return False
        self._since = now
        return True
