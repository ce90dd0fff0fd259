"""From a key to its paint, saving included: one run after the other, against ``peers/parts_only.py``.

Both programs run side by side and take keys in turn: A, B, A, B. What is measured ends with the last byte that a key
paints, so a program that paints twice pays for it. Run by hand:

    python tests/bench/keys.py [keys]
"""

from __future__ import annotations

import sys
import tempfile
from pathlib import Path

from side_by_side import ours, peer, seconds_to_paint, settle, told

PLAN = "harbour-light-cushion"
WARMING = 20


def main() -> int:
    """Measure and report."""
    keys = int(sys.argv[1]) if len(sys.argv) > 1 else 400
    times: dict[str, list[float]] = {"peer": [], "on": []}
    with tempfile.TemporaryDirectory() as folder, peer(Path(folder)) as other, ours(Path(folder), PLAN) as program:
        for terminal in (other, program):
            terminal.wait_for("Row 1 of ", "quit")
            settle(terminal)
        for count in range(keys + WARMING):
            found = {"peer": seconds_to_paint(other, b" "), "on": seconds_to_paint(program, b" ")}
            for name, seconds in found.items() if count >= WARMING else ():
                times[name].append(seconds)
    print(told("key to repaint", times["on"], times["peer"], 1.4))
    return 0


if __name__ == "__main__":
    sys.exit(main())
