"""From nothing to the first row on the screen: a new process, its imports, the plan or the journal, the first paint.

Measured: taking up a piece in the middle of row 5 (resume), and beginning one where none is (first opening), against
``peers/parts_only.py``. Files are warm, processes are new. Run by hand:

    python tests/bench/start.py [rounds]
"""

from __future__ import annotations

import sys
import tempfile
import time
from pathlib import Path

from side_by_side import Terminal, ours, peer, seconds_to, told

AIMS = {"resume": 1.2, "first opening": 1.6}


def _cold(open_it: type[Terminal] | object, home: Path, row: bytes) -> float:
    start = time.perf_counter()
    with open_it(home) as terminal:
        return seconds_to(terminal, start, row, b"quit")


def main() -> int:
    """Measure and report; the exit code tells whether the aims are met."""
    rounds = int(sys.argv[1]) if len(sys.argv) > 1 else 25
    times: dict[str, list[float]] = {"peer": [], "resume": [], "first opening": []}
    with tempfile.TemporaryDirectory() as folder:
        begun = Path(folder)
        with ours(begun, "swatch") as terminal:
            terminal.wait_for("Row 1 of 32", "q quit")
            terminal.send(b" " * 6)  # four rows, the next one's yarn had ready, a run of row 5
            terminal.wait_for("Row 5 of 32", "12 of 24")
        for count in range(rounds + 1):
            with tempfile.TemporaryDirectory() as empty:
                found = {
                    "peer": _cold(peer, begun, b"Row 1 of 90"),
                    "resume": _cold(lambda home: ours(home, "swatch"), begun, b"Row 5 of 32"),
                    "first opening": _cold(lambda home: ours(home, "swatch"), Path(empty), b"Row 1 of 32"),
                }
            for name, seconds in found.items() if count else ():  # the first round warms the files
                times[name].append(seconds)
    for name, aim in AIMS.items():
        print(told(name, times[name], times["peer"], aim))
    return 0


if __name__ == "__main__":
    sys.exit(main())
