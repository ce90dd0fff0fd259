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

_ASKS = {
    4: "Have ready: new tide", 18: "Have ready: new coral (90 cm, loose), new shell", 23: "Cut, leaving a tail",
    26: "Have ready: new ", 27: "Cut, leaving a tail", 28: "Cut, leaving a tail",
}  # fmt: skip
"""Rows whose end asks for something that is marked done: row 5 brings in tide, row 19 coral and a second shell, row
23 is the coral's last; in row 27 there is one more stitch of coral, and row 28 is the tide's last."""

Place = tuple[int, str, int]
"""A row, the yarn of the run in work, and how many stitches of the row are still on the left needle; at a row's end
that asks for something no yarn and no stitch."""


def places() -> list[Place]:
    """Where one is after 0, 1, 2, ... presses. Even rows are wrong-side rows and are worked back."""
    found = []
    for row, runs in enumerate(_EDGE_TO_EDGE, 1):
        left = 24
        for yarn, stitches in runs if row % 2 else reversed(runs):
            found.append((row, yarn, left))
            left -= stitches
        if row in _ASKS:
            found.append((row, "", 0))
    return found


def shown(screen: str) -> Place | None:
    """The place a screen tells: the row on top, the yarn in the strip of runs, the rest beside the count; at a row's
    end what it asks for."""
    row = re.search(r"^ Row (\d+) of 32 ", screen)
    yarn = re.search(r"▶\S [^▶◀]*?(\w+)◀", screen)
    left = re.search(r"\b(\d+) of 24 ", screen) or re.search(r" (\d+) on the left\.", " ".join(screen.split()))
    if row and (asks := _ASKS.get(int(row[1]))) and asks in " ".join(screen.split()) and not yarn:
        return int(row[1]), "", 0
    return (int(row[1]), yarn[1], int(left[1])) if row and yarn and left else None
