"""The practice swatch as its chart is read by eye: what the terminal must show after so many runs."""

from __future__ import annotations

import re

# The yarns of each row from the right edge to the left, edges included, counted in plans/swatch.yaml.
_EDGE_TO_EDGE: list[tuple[tuple[str, int], ...]] = [
    *[(("shell", 24),)] * 4,
    *[(("shell", 12), ("tide", 12))] * 4,
    (("shell", 11), ("tide", 13)),
    (("shell", 10), ("tide", 14)),
    (("shell", 9), ("tide", 15)),
    (("shell", 10), ("tide", 14)),
    (("shell", 11), ("tide", 13)),
    (("shell", 12), ("tide", 12)),
    *[(("shell", 15), ("tide", 9))] * 2,
    *[(("shell", 12), ("tide", 12))] * 2,
    (("shell", 6), ("coral", 2), ("shell", 4), ("tide", 12)),
    (("shell", 5), ("coral", 4), ("shell", 3), ("tide", 12)),
    (("shell", 4), ("coral", 6), ("shell", 2), ("tide", 12)),
    (("shell", 5), ("coral", 4), ("shell", 3), ("tide", 12)),
    (("shell", 6), ("coral", 2), ("shell", 4), ("tide", 12)),
]

Place = tuple[int, str, int]
"""A row, the yarn of the run in work, and how many stitches of the row are still on the left needle."""


def places() -> list[Place]:
    """Where one is after 0, 1, 2, ... runs. Even rows are wrong-side rows and are worked back."""
    found = []
    for row, runs in enumerate(_EDGE_TO_EDGE, 1):
        left = 24
        for yarn, stitches in runs if row % 2 else reversed(runs):
            found.append((row, yarn, left))
            left -= stitches
    return found


def shown(screen: str) -> Place | None:
    """The place a screen tells: the row on top, the yarn in the strip of runs, the rest beside the count."""
    row = re.search(r"^ Row (\d+) of 32 ", screen)
    yarn = re.search(r"▶\S [^▶◀]*?(\w+)◀", screen)
    left = re.search(r" (\d+) of 24 ", screen)
    return (int(row[1]), yarn[1], int(left[1])) if row and yarn and left else None
