"""Line mode: how many of its short sentences fit a braille display, and how long from a key to its line.

The share of what is told now, in short, within 40 and within 80 cells, over every step of every demo; then, on a
pseudo-terminal each, from Enter to the last byte of its lines against a key of the screen, in turns, saving included;
and from nothing to the first line against the screen's first row. Run by hand:

    python tests/bench/lines.py [keys]
"""

from __future__ import annotations

import sys
import tempfile
import time
from collections import Counter
from collections.abc import Iterator
from pathlib import Path
from statistics import median

from keys import seconds_to_write
from side_by_side import ROOT, Terminal, ours, seconds_to, seconds_to_paint, settle, told

sys.path.insert(0, str(ROOT))

from companion.dialogue.saying import Saying
from companion.dialogue.telling import telling
from companion.knitting.words import Terms
from companion.plan.demo import demo_plans
from companion.plan.read import load
from companion.progress.actions import On
from companion.progress.knitting import Knitting
from companion.progress.shelf import Shelf

PLAN = "harbour-light-cushion"
CELLS = (40, 80)
WARMING = 5
STARTS = 9


def main() -> int:
    """Measure and report."""
    keys = int(sys.argv[1]) if len(sys.argv) > 1 else 100
    with tempfile.TemporaryDirectory() as folder:
        _tell_lengths(Path(folder))
    with tempfile.TemporaryDirectory() as one, tempfile.TemporaryDirectory() as other:
        lines, screen = _keys(Path(one), Path(other), keys)
        print(told("key to line", lines, screen, 0.4))
        write = median(seconds_to_write(Path(one) / "bare.db") for _ in range(keys))
        rest = (median(lines) - write) / (median(screen) - write)
        print(f"of both, a bare durable write {write * 1000:.1f} ms; ratio of the rest {rest:.2f}")
        print(told("first line", *_starts(Path(one), Path(other)), 0.6))
    return 0


def by_lines(home: Path, plan: str) -> Terminal:
    """The real program at a plan, by lines."""
    return Terminal(home, "knit", plan, "--plain")


def _tell_lengths(folder: Path) -> None:
    """Each step of a demo is told with its first press; the end of the last row is where a demo ends here."""
    fits, steps = Counter[tuple[str, int]](), Counter[str]()
    for plan in demo_plans():
        with Shelf(folder).start(load(plan), plan) as knitting:
            for text, name in ((text, name) for text in _shorts(knitting) for name in (plan.stem, "all demos")):
                steps[name] += 1
                fits.update((name, cells) for cells in CELLS if len(text) <= cells)
    for name, number in steps.items():
        shares = ", ".join(f"{fits[name, cells] / number:4.0%} within {cells} cells" for cells in CELLS)
        print(f"{name:<22} {number:5d} steps: {shares}")


def _shorts(knitting: Knitting) -> Iterator[str]:
    terms, saying = Terms(), Saying("short", key="Enter")
    while not knitting.session.is_worked:
        yield telling(knitting.session, terms, saying).short
        knitting.do(On())


def _keys(home: Path, other: Path, keys: int) -> tuple[list[float], list[float]]:
    found: tuple[list[float], list[float]] = [], []
    with by_lines(home, PLAN) as lines, ours(other, PLAN) as screen:
        screen.wait_for("Row 1 of ", "quit")
        for terminal in (lines, screen):
            settle(terminal)
        for count in range(keys + WARMING):
            times = seconds_to_paint(lines, b"\n"), seconds_to_paint(screen, b" ")
            for each, seconds in zip(found, times, strict=True) if count >= WARMING else ():
                each.append(seconds)
    return found


def _starts(home: Path, other: Path) -> tuple[list[float], list[float]]:
    """Both go on with the piece that the keys left."""
    found: tuple[list[float], list[float]] = [], []
    for count in range(STARTS + 1):
        for each, program, folder in ((found[0], by_lines, home), (found[1], ours, other)):
            start = time.perf_counter()
            with program(folder, PLAN) as terminal:
                seconds = seconds_to(terminal, start, b"toward you", *([b"quit"] if program is ours else []))
            if count:
                each.append(seconds)
    return found


if __name__ == "__main__":
    sys.exit(main())
