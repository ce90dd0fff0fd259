"""A hand-out, from the piece to the text of its page, against reportlab drawing the same chart to a PDF.

Measured: the chart of the cushion, and its whole hand-out, strands planned anew and the fabric drawn. Needs the extra
``bench``. Run by hand:

    python tests/bench/printing.py [rounds]
"""

from __future__ import annotations

import statistics
import sys
import time
from collections.abc import Callable
from pathlib import Path

sys.path.insert(0, str(Path(__file__).resolve().parents[2]))

from peers.chart_by_reportlab import chart_pdf

from companion.commands.given import planned_for, read_plan
from companion.knitting.words import US
from companion.knitting.words.paper import PAPER_PARTS
from companion.pages.hand_out.page import page
from companion.pages.hand_out.request import HandOut
from companion.progress.session import Session

AIMS = {"chart": 0.5, "whole hand-out": 0.0}
"""Of the peer's time; 0: none is set."""


def printed(*parts: str) -> int:
    """Make a page of the cushion with these parts; how long its text is."""
    piece = read_plan("harbour-light-cushion").piece
    session = Session({1: piece}, 1, piece.carry, planned_for(piece).strands)
    return len("".join(page(HandOut(session, US, parts))))


def drawn() -> int:
    """The same chart by the peer."""
    piece = read_plan("harbour-light-cushion").piece
    return len(chart_pdf(piece))


def seconds(make: Callable[[], object], rounds: int) -> float:
    """The middle one of so many times, after one that does not count."""
    times = []
    for _ in range(rounds + 1):
        start = time.process_time()
        make()
        times.append(time.process_time() - start)
    return statistics.median(times[1:])


def main() -> int:
    """Measure and report."""
    rounds = int(sys.argv[1]) if len(sys.argv) > 1 else 7
    peer = seconds(drawn, rounds)
    made = {"chart": lambda: printed("chart"), "whole hand-out": lambda: printed(*PAPER_PARTS)}
    for name, make in made.items():
        ratio = seconds(make, rounds) / peer
        aim = AIMS[name]
        told = f"   aim {aim:.1f}{'' if ratio <= aim else '   <-- misses its aim'}" if aim else ""
        print(f"{name}: {ratio:.2f} of the peer's time{told}")
    return 0


if __name__ == "__main__":
    sys.exit(main())
