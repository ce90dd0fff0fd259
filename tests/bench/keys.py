"""From a key to its paint, saving included: one run after the other, against ``peers/parts_only.py``.

Both programs run side by side and take keys in turn: A, B, A, B. What is measured ends with the last byte that a key
paints, so a program that paints twice pays for it. How long a durable write takes is the disk's affair, from a
quarter of a millisecond to four on one and the same machine: a bare one is measured in the same turns and told
beside. Between two keys is a pause, as between two runs of stitches, in which the program works out what the next
step shows; a key that comes before that is answered by so much later. Run by hand:

    python tests/bench/keys.py [keys]
"""

from __future__ import annotations

import sqlite3
import sys
import tempfile
from pathlib import Path
from statistics import median
from time import perf_counter

from side_by_side import ours, peer, seconds_to_paint, settle, told

PLAN = "harbour-light-cushion"
WARMING = 20


def main() -> int:
    """Measure and report."""
    keys = int(sys.argv[1]) if len(sys.argv) > 1 else 400
    times: dict[str, list[float]] = {"peer": [], "on": [], "write": []}
    with tempfile.TemporaryDirectory() as folder, peer(Path(folder)) as other, ours(Path(folder), PLAN) as program:
        for terminal in (other, program):
            terminal.wait_for("Row 1 of ", "quit")
            settle(terminal)
        for count in range(keys + WARMING):
            found = {"peer": seconds_to_paint(other, b" "), "on": seconds_to_paint(program, b" ")}
            found["write"] = seconds_to_write(Path(folder) / "bare.db")
            for name, seconds in found.items() if count >= WARMING else ():
                times[name].append(seconds)
    print(told("key to repaint", times["on"], times["peer"], 1.3))
    write = median(times["write"])
    rest = (median(times["on"]) - write) / median(times["peer"])
    print(f"of these, a bare durable write {write * 1000:.1f} ms; ratio of the rest {rest:.2f}")
    return 0


def seconds_to_write(path: Path) -> float:
    """A durable commit of one row by the engine that the journal uses, with nothing around it."""
    db = sqlite3.connect(path, isolation_level=None)
    db.execute("PRAGMA journal_mode = WAL")
    db.execute("PRAGMA synchronous = FULL")
    db.execute("CREATE TABLE IF NOT EXISTS steps (step TEXT)")
    begin = perf_counter()
    db.execute("INSERT INTO steps VALUES (?)", ("a step" * 40,))
    seconds = perf_counter() - begin
    db.close()
    return seconds


if __name__ == "__main__":
    sys.exit(main())
