"""Which clicks count, from a mouse or a finger.

One click is one deed, and of two in quick succession the first alone counts, wherever the second lands: a finger that
bounces or a habit of clicking twice would work a run that no hands have worked, tick an end and untick it, or open a
piece and knit its first run. Nobody works a run in a third of a second, and whoever catches up on several clicks
slower than that. Keys are not held to it: a key that is pressed twice is felt twice.
"""

from __future__ import annotations

AGAIN = 0.3
"""Seconds in which another click is the same one. The intervals that desktops take for a double click are up to 0.5;
most double clicks take less than 0.3 (from memory)."""

LONG = 0.5
"""Seconds after which a press is a long one, as on most touch screens (from memory)."""


class Clicks:
    """``counted_at``: when the last click that counted came; ``pressed_at``: when a button went down. In seconds."""

    def __init__(self) -> None:
        self.counted_at = self.pressed_at = float("-inf")

    def counts(self, at: float) -> bool:
        """Whether this one is not the last one over again."""
        if at - self.counted_at < AGAIN:
            return False
        self.counted_at = at
        return True

    def is_long(self, at: float) -> bool:
        """Whether a button let go now was down for long."""
        return at - self.pressed_at >= LONG
