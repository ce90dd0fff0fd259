"""The practice swatch as its chart is read by eye: what the terminal must show after so many runs."""

from __future__ import annotations

from tests.terminal.places import Place as Place
from tests.terminal.places import Shape

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

SWATCH = Shape(32, 24, {
    4: "Have ready: new tide", 18: "Have ready: new coral (90 cm, loose), new shell", 23: "Cut, leaving a tail",
    26: "Have ready: new ", 27: "Cut, leaving a tail", 28: "Cut, leaving a tail",
})  # fmt: skip
"""Row 5 brings in tide, row 19 coral and a second shell, row 23 is the coral's last; in row 27 there is one more
stitch of coral, and row 28 is the tide's last."""

shown = SWATCH.shown


def places() -> list[Place]:
    """Where one is after 0, 1, 2, ... presses. Even rows are wrong-side rows and are worked back."""
    found = []
    for row, runs in enumerate(_EDGE_TO_EDGE, 1):
        left = 24
        for yarn, stitches in runs if row % 2 else reversed(runs):
            found.append((row, yarn, left))
            left -= stitches
        if row in SWATCH.asks:
            found.append((row, "", 0))
    return found
