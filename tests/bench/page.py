"""From nothing to the page's first picture: a new process, its imports, the journal, the HTML and the first event;
and from a press to the event that tells of it.

The peer of the start is the same piece on the screen, from nothing to its first row. Files are warm, processes are
new. Run by hand:

    python tests/bench/page.py [rounds]
"""

from __future__ import annotations

import json
import sys
import tempfile
import time
from pathlib import Path
from statistics import median

HERE = Path(__file__).resolve().parent
sys.path[:0] = [str(HERE), str(HERE.parents[1])]

from side_by_side import ours, seconds_to, settle, told  # noqa: E402

from tests.page.at_page import AtPage  # noqa: E402
from tests.page.browser import running  # noqa: E402

AIM = 0.5


def _first_picture(home: Path) -> float:
    start = time.perf_counter()
    with running(home, "swatch") as program:
        page = AtPage.at(program.link)  # asks for the HTML and the first event
        taken = time.perf_counter() - start
        assert page.state["work"]["row"] == "Row 5 of 32"
    return taken


def _first_row(home: Path) -> float:
    start = time.perf_counter()
    with ours(home, "swatch") as terminal:
        return seconds_to(terminal, start, b"Row 5 of 32", b"quit")


def _presses(home: Path, rounds: int) -> list[float]:
    """Seconds from a press to the event, on and back in turn."""
    found = []
    with running(home, "swatch") as program:
        page = AtPage.at(program.link)
        news = page.listen()
        next(news)
        for at in range(2 * rounds):
            start = time.perf_counter()
            page.post({"seen": page.state["seen"], "deed": "back" if at % 2 else "on"})
            page.state = next(news)
            found.append(time.perf_counter() - start)
    return found


def main() -> int:
    """Measure and report; the exit code tells whether the aim is met."""
    rounds = int(sys.argv[1]) if len(sys.argv) > 1 else 15
    times: dict[str, list[float]] = {"page": [], "screen": []}
    with tempfile.TemporaryDirectory() as folder:
        home = Path(folder)
        with ours(home, "swatch") as terminal:
            terminal.wait_for("Row 1 of 32", "q quit")
            terminal.send(b" " * 6)  # four rows, the next one's yarn had ready, a run of row 5
            terminal.wait_for("Row 5 of 32", "12 of 24")
            settle(terminal)
        for count in range(rounds + 1):
            found = {"page": _first_picture(home), "screen": _first_row(home)}
            for name, seconds in found.items() if count else ():  # the first round warms the files
                times[name].append(seconds)
        presses = _presses(home, rounds)
    print(told("first picture", times["page"], times["screen"], AIM))
    print(json.dumps({"press to event, part of the page's start": round(median(presses) / median(times["page"]), 3)}))
    return int(median(times["page"]) > AIM * median(times["screen"]))


if __name__ == "__main__":
    sys.exit(main())
