"""A large piece and a long history, against small ones in the same run.

A chart of 1,000 by 2,000 stitches (noise smoothed with sigma 30, 12 colours): how it opens, what a step in row 1,500
costs against one in the demo swatch, and the memory it takes. A piece of 20,000 steps taken up again, against one
of a single step. Run by hand:

    python tests/bench/load.py [rounds]
"""

from __future__ import annotations

import sys
import tempfile
import time
from pathlib import Path
from statistics import median

import numpy as np
from scipy.ndimage import gaussian_filter
from side_by_side import Terminal, ours, seconds_to, seconds_to_paint, settle, told

sys.path.insert(0, str(Path(__file__).resolve().parents[2]))

from companion.plan.read import load
from companion.progress import journal
from companion.progress.actions import Action, AtRow, Back, On, RipBack, Unpick
from companion.progress.deciding import decide
from companion.progress.fold import apply
from companion.progress.shelf import Shelf
from companion.progress.stored import Contents

SWATCH = Path(__file__).resolve().parents[2] / "plans" / "swatch.yaml"
LETTERS = "abcdefghijkl"
AIM_STEP, AIM_RESUME = 1.3, 1.5
STEPS = 20_000


def large_plan(folder: Path) -> Path:
    """The large chart as a plan."""
    field = gaussian_filter(np.random.default_rng(20).random((2000, 1000)), 30)
    grid = np.digitize(field, np.quantile(field, np.linspace(0, 1, len(LETTERS) + 1)[1:-1]))
    yarns = "".join(f'  y{c}: {{colour: "#{15 + 20 * i:02x}{255 - 19 * i:02x}80"}}\n' for i, c in enumerate(LETTERS))
    rows = "".join(f"      {''.join(LETTERS[value] for value in row)}\n" for row in grid)
    symbols = ", ".join(f"{c}: y{c}" for c in LETTERS)
    path = folder / "wall.yaml"
    path.write_text(
        f"plan: 1\ntitle: Harbour wall\ngauge: {{stitches: 20, rows: 28}}\nyarns:\n{yarns}"
        f"symbols: {{{symbols}}}\nrows:\n  - chart: |\n{rows}",
        encoding="utf-8",
    )
    return path


def long_history(home: Path) -> None:
    """A swatch with so many steps behind it: runs worked, unpicked, taken back and ripped."""
    shelf, loaded = Shelf(home / "pieces"), load(SWATCH)
    with shelf.start(loaded, SWATCH) as knitting:
        session, card = knitting.session, knitting.card
    begun = shelf.contents(card.name)
    entries = list(begun.entries)
    turns: list[Action] = [On(), On(), On(), Unpick(), Unpick(), On(), Back()]
    while len(entries) < STEPS:
        action = RipBack(1) if session.is_worked else turns[len(entries) % len(turns)]
        entry = decide(session, action)
        session = apply(session, entry)
        entries.append(entry)
    [file] = (home / "pieces").glob("*.rowside")
    file.unlink()
    journal.create(file, Contents(card, begun.plans, tuple(entries), begun.times * len(entries)))


def memory(terminal: Terminal) -> int:
    """The most memory a program has taken so far, in megabytes; Linux only."""
    status = Path(f"/proc/{terminal.process.pid}/status").read_text(encoding="ascii")
    return int(next(line for line in status.splitlines() if line.startswith("VmHWM")).split()[1]) // 1024


def steps(rounds: int) -> None:
    """A step in row 1,500 of the large piece and one in the swatch, in turn."""
    times: dict[str, list[float]] = {"large": [], "small": []}
    with tempfile.TemporaryDirectory() as one, tempfile.TemporaryDirectory() as other:
        plan, shelf = large_plan(Path(one)), Shelf(Path(one) / "pieces")
        start = time.perf_counter()
        with Terminal(Path(one), "knit", str(plan)) as terminal:
            print(f"first opening of 1,000 x 2,000: {seconds_to(terminal, start, b'Row 1 of 2000', b'quit'):.1f} s")
        with shelf.resume("Harbour wall") as knitting:
            knitting.do(AtRow(1500))
        start = time.perf_counter()
        with Terminal(Path(one), "knit", str(plan)) as large, ours(Path(other), "swatch") as small:
            seconds_to(large, start, b"Row 1500 of 2000", b"quit")
            print(f"taken up in row 1,500: {time.perf_counter() - start:.1f} s, {memory(large)} MB")
            for terminal in (large, small):
                settle(terminal)
            for count in range(rounds + 10):
                found = {"large": seconds_to_paint(large, b" "), "small": seconds_to_paint(small, b" ")}
                for name, seconds in found.items() if count >= 10 else ():
                    times[name].append(seconds)
                if count % 25 == 24:
                    small.send(b"\x7f" * 25)
                    settle(small)
            print(f"after {rounds + 10} steps: {memory(large)} MB, the swatch {memory(small)} MB")
    print(told("step in row 1,500", times["large"], times["small"], AIM_STEP))


def resuming(rounds: int) -> None:
    """A history of 20,000 steps and one of a step, taken up again in turn."""
    times: dict[str, list[float]] = {"long": [], "short": []}
    with tempfile.TemporaryDirectory() as one, tempfile.TemporaryDirectory() as other:
        long_history(Path(one))
        with ours(Path(other), "swatch") as terminal:
            terminal.wait_for("Row 1 of 32", "q quit")
        for count in range(rounds + 1):
            for name, home in (("long", one), ("short", other)):
                start = time.perf_counter()
                with ours(Path(home), "swatch") as terminal:
                    seconds = seconds_to(terminal, start, b" of 32", b"quit")
                if count:
                    times[name].append(seconds)
    print(told("20,000 steps", times["long"], times["short"], AIM_RESUME))
    print(f"so each step of a history takes {(median(times['long']) - median(times['short'])) / STEPS * 1e6:.0f} us")


if __name__ == "__main__":
    number = int(sys.argv[1]) if len(sys.argv) > 1 else 40
    steps(number)
    resuming(max(3, number // 4))
