"""What a stroke on the drawing board takes at 120 by 160 stitches, without a screen: read, counted and saved.

Against the same done the long way: the stitches drawn into the text, the file saved, read and planned as ``rowside
check`` does. The board's part in milliseconds is what is added to a screen that repaints a cell. Run by hand:

    python tests/bench/board.py [strokes]
"""

from __future__ import annotations

import sys
import tempfile
import time
from collections.abc import Callable
from dataclasses import replace
from math import cos, sin
from pathlib import Path
from statistics import median

sys.path.insert(0, str(Path(__file__).resolve().parents[2]))

from companion.board.board import Board
from companion.knitting.cloth.areas import Cell, in_other_yarns
from companion.knitting.strands.plan import plan_strands
from companion.plan.drawing import repainted
from companion.plan.files import replace_text
from companion.plan.read import load

WIDE, HIGH = 120, 160
LIMITS = {"the usual limits": "", "strands that rest and pass behind": "carry: {reach: 3, behind: 4, rest: 3}\n"}


def plan(limits: str) -> str:
    """A chart of waves in four yarns."""
    rows = "".join(
        "      " + "".join("sbgr"[min(3, max(0, int(2 + sin(x / 11) + cos(y / 13) + sin((x + y) / 17))))]
                            for x in range(WIDE)) + "\n"
        for y in range(HIGH)
    )  # fmt: skip
    return (
        "plan: 1\ntitle: Harbour waves\ngauge: {stitches: 20, rows: 28}\n"
        "yarns: {sand: {colour: tan}, brick: {colour: brown}, green: {colour: green}, red: {colour: red}}\n"
        f"symbols: {{s: sand, b: brick, g: green, r: red}}\n{limits}rows:\n  - chart: |\n{rows}"
    )


def milliseconds(do: Callable[[int], object], times: int) -> float:
    """The median of so many."""
    taken = []
    for number in range(times):
        before = time.perf_counter()
        do(number)
        taken.append(time.perf_counter() - before)
    return 1000 * median(taken)


def bench(path: Path, limits: str, times: int) -> None:
    """One plan."""
    path.write_text(plan(LIMITS[limits]), encoding="utf-8")
    board = Board(path)

    def cell(number: int) -> Cell:
        return Cell(number * 37 % HIGH, 1 + number * 53 % WIDE)

    def stroke(number: int) -> None:
        board.paint([cell(number)], board.yarns[number % 4])
        assert board.counts.strands
        assert board.costs_at([cell(number + 1)])
        board.save()

    def the_long_way(number: int) -> None:
        loaded = load(path)
        fabric = in_other_yarns(loaded.piece.fabric, {cell(number): board.yarns[(number + 1) % 4]})
        replace_text(path, repainted(replace(loaded), fabric))
        piece = load(path).piece
        assert plan_strands(piece.rows, piece.carry).strands.total.strands

    own = milliseconds(stroke, times)
    undone = milliseconds(lambda _: board.undo(), times // 2)
    other = milliseconds(the_long_way, max(5, times // 10))
    board.look()
    later = milliseconds(lambda _: board.figures(), max(5, times // 10))
    print(f"{limits}: a stroke {own:.1f} ms, {own / other:.2f} of the long way; taken back {undone:.1f} ms; "
          f"all figures, a moment later, {later:.1f} ms")  # fmt: skip


def main() -> None:
    """Both plans."""
    times = int(sys.argv[1]) if len(sys.argv) > 1 else 100
    with tempfile.TemporaryDirectory() as folder:
        for limits in LIMITS:
            bench(Path(folder, "waves.yaml"), limits, times)


if __name__ == "__main__":
    main()
