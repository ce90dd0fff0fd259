"""From a key to the paint of a stroke on the drawing board, against ``peers/one_cell.py``: the text and the piece
made, strands counted, what every yarn would cost told.

The plan is of 120 by 160 stitches in three yarns. Both programs take keys in turn; what is measured ends with the
last byte that a key paints. Figures that take longer come when the knitter rests and are not among it. The stroke is
saved after its paint: how long after its key the file has it is told beside, with a bare durable write of the same
text in the same turns, since that is the disk's affair. Run by hand:

    python tests/bench/strokes.py [strokes]
"""

from __future__ import annotations

import sys
import tempfile
from pathlib import Path
from statistics import median
from time import perf_counter, time

from side_by_side import HERE, Terminal, seconds_to_paint, settle, told

from companion.plan.files import replace_text

WARMING = 5
STITCHES, ROWS = 120, 160
AIM = 1.5


def plan() -> str:
    """Three grounds that lean, with spots in them."""
    spots = [[row % 40 > 30 and stitch % 30 < 6 for stitch in range(STITCHES)] for row in range(ROWS)]
    drawn = "\n".join(
        "      " + "".join("sct"[((stitch + row // 6) // 23 + is_spot) % 3] for stitch, is_spot in enumerate(spotted))
        for row, spotted in enumerate(spots)
    )
    return (
        "plan: 1\ntitle: A large one\ngauge: {stitches: 20, rows: 28, over: 10 cm}\n"
        "yarns:\n  shell: {colour: '#f2e6cf'}\n  coral: {colour: '#d9674b'}\n  tide: {colour: '#225f6e'}\n"
        f"symbols: {{s: shell, c: coral, t: tide}}\nrows:\n  - chart: |\n{drawn}\n"
    )


def main() -> int:
    """Measure and report."""
    strokes = int(sys.argv[1]) if len(sys.argv) > 1 else 60
    times: dict[str, list[float]] = {"peer": [], "stroke": [], "saved": [], "write": []}
    with tempfile.TemporaryDirectory() as name:
        folder, text = Path(name), plan()
        (folder / "large.yaml").write_text(text, encoding="utf-8")
        with (
            Terminal(folder, module="one_cell", variables={"PYTHONPATH": str(HERE / "peers")}) as other,
            Terminal(folder, "draw", "large.yaml") as board,
        ):
            board.wait_for("strands", "quit")
            for terminal in (other, board):
                settle(terminal)
            board.send(b"\x1b[5~\x1b[H ")  # ten rows up, ten stitches to the left: there the yarn in hand
            settle(board)
            for count in range(strokes + WARMING):
                board.send(b".")
                settle(board)
                found, pressed = {"peer": seconds_to_paint(other, b" ")}, time()
                found["stroke"] = seconds_to_paint(board, b" ")
                settle(board)
                found["saved"] = (folder / "large.yaml").stat().st_ctime - pressed
                assert found["saved"] > 0, "the stroke is not in the file"
                start = perf_counter()
                replace_text(folder / "bare.yaml", text)
                found["write"] = perf_counter() - start
                settle(board)
                for key, seconds in found.items() if count >= WARMING else ():
                    times[key].append(seconds)
    print(told("stroke", times["stroke"], times["peer"], AIM))
    saved, write = (median(times[key]) * 1000 for key in ("saved", "write"))
    print(f"in the file {saved:.1f} ms after the key; a bare durable write of it takes {write:.1f} ms")
    return 0


if __name__ == "__main__":
    sys.exit(main())
