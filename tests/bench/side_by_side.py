"""Programs measured in turn in one run, each on a pseudo-terminal of 80 by 24, and the ratios of their medians.

Taking turns cancels what the rest of the machine does meanwhile. A time ends with the last byte of the paint, as the
terminal gets it.
"""

from __future__ import annotations

import sys
import time
from collections.abc import Sequence
from pathlib import Path
from statistics import median

HERE = Path(__file__).resolve().parent
sys.path.insert(0, str(HERE.parent / "terminal"))

from pseudo_terminal import ROOT, Terminal  # noqa: E402

QUIET = 0.06
"""Seconds without a byte after which a paint has ended. Three times the longest pause between its parts."""


def peer(home: Path) -> Terminal:
    """The app with the same parts and nothing behind them."""
    return Terminal(home, module="parts_only", variables={"PYTHONPATH": str(HERE / "peers")})


def ours(home: Path, plan: str) -> Terminal:
    """The real program at a plan."""
    return Terminal(home, "knit", plan)


def seconds_to(terminal: Terminal, since: float, *texts: bytes) -> float:
    """Seconds from ``since`` until a program has written all of the texts."""
    while not all(text in terminal.written for text in texts):
        assert terminal.take(30), f"nothing more comes: {bytes(terminal.written[-500:])!r}"
    return time.perf_counter() - since


def seconds_to_paint(terminal: Terminal, key: bytes) -> float:
    """Seconds from a key to the last byte of what it paints."""
    start = last = time.perf_counter()
    terminal.send(key)
    while terminal.take(QUIET if last > start else 10):
        last = time.perf_counter()
    assert last > start, "the key painted nothing"
    return last - start


def settle(terminal: Terminal) -> None:
    """Take in everything until nothing more comes, the start of the program included."""
    while terminal.take(0.5 if terminal.written else 30):
        pass


def told(name: str, times: Sequence[float], peers: Sequence[float], aim: float) -> str:
    """A line of the report: both medians, their ratio, the aim."""
    ratio = median(times) / median(peers)
    mark = "" if ratio <= aim else "   <-- misses its aim"
    return (
        f"{name:<16} {median(times) * 1000:7.1f} ms   peer {median(peers) * 1000:7.1f} ms"
        f"   ratio {ratio:4.2f}   aim {aim}{mark}"
    )


__all__ = ["ROOT", "Terminal", "ours", "peer", "seconds_to", "seconds_to_paint", "settle", "told"]
