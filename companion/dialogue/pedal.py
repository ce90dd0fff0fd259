"""A pedal, or a key, that is held down: a terminal tells each of its presses, and does not tell that it is held."""

from __future__ import annotations

HELD = 0.08
"""Seconds. Held keys come again some 30 times a second; nobody taps twice in so short a time on purpose (common
practice, no source)."""


class Pedal:
    """Which presses count. Each is measured from the one before it, whether that counted or not."""

    def __init__(self) -> None:
        self._last: float | None = None

    def counts(self, at: float) -> bool:
        """Whether a press counts, in seconds of a clock that only goes forward."""
        last, self._last = self._last, at
        return last is None or at - last >= HELD
