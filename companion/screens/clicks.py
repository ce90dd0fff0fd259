"""Which clicks count, from a mouse or a finger.

One click is one deed, and of two in the same spot in quick succession the first alone counts, whatever the second
lands on: a finger that bounces or a habit of clicking twice would work a run that no hands have worked, tick an end
and untick it, or open a piece and knit its first run. Nobody works a run in a third of a second, and whoever catches
up on several clicks slower than that. Keys are not held to it: a key that is pressed twice is felt twice.
"""

from __future__ import annotations

AGAIN = 0.3
"""Seconds in which another click is the same one. The intervals that desktops take for a double click are up to 0.5;
most double clicks take less than 0.3 (from memory)."""

NEAR = 1
"""Cells in which another spot is the same one."""

LONG = 0.5
"""Seconds after which a press is a long one, as on most touch screens (from memory)."""


class Clicks:
    """``pressed_at``: when a button went down, in seconds. ``again``: so many in which a second click does not count.
    """

    def __init__(self, again: float = AGAIN) -> None:
        self.again = again
        self.pressed_at = float("-inf")
        self._last = float("-inf"), 0, 0

    def counts(self, at: float, x: int, y: int) -> bool:
        """Whether this one, in a cell of the screen, is not the last one over again."""
        was, last_x, last_y = self._last
        if at - was < self.again and abs(x - last_x) <= NEAR and abs(y - last_y) <= NEAR:
            return False
        self._last = at, x, y
        return True

    def is_long(self, at: float) -> bool:
        """Whether a button let go now was down for long."""
        return at - self.pressed_at >= LONG
