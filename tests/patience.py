"""How long a test waits for what it expects: until it is there. It fails when that does not come, however slow the
machine is and though it may stand still for a while."""

from __future__ import annotations

import time
from collections.abc import Callable

PATIENCE = 60.0
"""Seconds after which what is waited for is held not to come."""

MOST_AT_ONCE = 0.5
"""What counts of them between two looks, at most: whoever looks more seldom was kept from it."""

NAP = 0.005


class Patience:
    """Used up by looking in vain, and not by being stopped."""

    def __init__(self) -> None:
        self._left, self._last = PATIENCE, time.monotonic()

    @property
    def is_over(self) -> bool:
        """Whether it is used up; ask with every look."""
        now = time.monotonic()
        self._left -= min(now - self._last, MOST_AT_ONCE)
        self._last = now
        return self._left <= 0


def until(is_so: Callable[[], object], what: str = "what was waited for", nap: float = NAP) -> None:
    """Wait until something is so, looking every so many seconds."""
    patience = Patience()
    while not is_so():
        assert not patience.is_over, f"in vain: {what}"
        time.sleep(nap)
