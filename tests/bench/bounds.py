"""The longest work there is: how long it takes, how much memory, and how soon Ctrl-C is answered.

Charts of noise are what makes most work; no picture has as many runs. Every plan ends within 20 seconds and 600 MB,
done or refused. Bare figures of this machine, since there is no peer: processor time of the whole program, start and
all; run it while nothing else runs. By hand:

    python tests/bench/bounds.py [part of a name]
"""

from __future__ import annotations

import os
import random
import signal
import subprocess
import sys
import tempfile
import time
from collections.abc import Iterator, Sequence
from pathlib import Path
from typing import NamedTuple

ROOT = Path(__file__).resolve().parents[2]
LETTERS = "abcdefghijkl"
MOST_SECONDS, MOST_MB = 20.0, 600


class Work(NamedTuple):
    """A command on a plan, and how many seconds of processor time it may take."""

    words: tuple[str, ...]
    plan: str
    aim: float = MOST_SECONDS


def plan(lines: Sequence[str], keys: str = "", of_section: str = "", yarns: int = 6) -> str:
    """A plan of these lines."""
    named = "".join(f'  y{c}: {{colour: "#{15 + 20 * LETTERS.index(c):02x}8080"}}\n' for c in LETTERS[:yarns])
    symbols = ", ".join(f"{c}: y{c}" for c in LETTERS[:yarns])
    drawn = "".join(f"      {line}\n" for line in lines)
    return (
        f"plan: 1\ntitle: Noise\ngauge: {{stitches: 20, rows: 28}}\nyarns:\n{named}symbols: {{{symbols}}}\n{keys}"
        f"rows:\n  - {of_section}chart: |\n{drawn}"
    )


def noise(columns: int, rows: int, yarns: int = 6) -> list[str]:
    """Lines of a chart without any order."""
    dice = random.Random(7)
    return ["".join(dice.choices(LETTERS[:yarns], k=columns)) for _ in range(rows)]


def areas(columns: int, rows: int) -> list[str]:
    """Lines of a picture of forty areas: each stitch is in the yarn of the point that lies nearest."""
    dice = random.Random(3)
    points = [(dice.random() * columns, dice.random() * rows, LETTERS[at % 6]) for at in range(40)]

    def nearest(x: int, y: int) -> str:
        return min(points, key=lambda point: (point[0] - x) ** 2 + (point[1] - y) ** 2)[2]

    return ["".join(nearest(x, y) for x in range(columns)) for y in range(rows)]


def narrowing(columns: int, rows: int) -> list[str]:
    """The same between edges that come in by a stitch on every second row."""
    gone = [min(row // 2, columns // 3) for row in reversed(range(rows))]
    return ["." * n + line[n:columns - n] + "." * n for n, line in zip(gone, noise(columns, rows, 2), strict=True)]


def unknown(columns: int, rows: int) -> list[str]:
    """Lines of which no symbol is declared."""
    dice = random.Random(3)
    return ["".join(chr(dice.randrange(0x4E00, 0x9000)) for _ in range(columns)) for _ in range(rows)]


def works() -> Iterator[tuple[str, Work]]:
    """Everything that is measured, by name."""
    check, knitted = ("check",), noise(160, 200)
    yield "speed: areas, 160 x 200", Work(("areas",), plan(knitted), 5)
    yield "speed: strands --prove, 160 x 200", Work(("strands", "--prove"), plan(knitted), 4)
    yield "speed: check, 500 x 1,000", Work(check, plan(noise(500, 1000)), 4)
    for side in ((), ("--wrong-side",)):
        drawn = ("picture", "-o", "drawn.png", "--force", *side)
        name = " ".join(("picture", *side))
        yield f"speed: {name}, 120 x 160", Work(drawn, plan(areas(120, 160)), 1)
        yield f"{name}, 120 x 160", Work(drawn, plan(noise(120, 160)))
        yield f"{name}, 500 x 1,000", Work(drawn, plan(noise(500, 1000)))
        yield f"{name}, 250,000 rows", Work(drawn, plan(["ab"], "", "repeat: 250000\n    ", 2))
        yield f"{name}, 4,000 x 125", Work(drawn, plan(["ab"] * 125, "", "across: 2000\n    ", 2))
    yield "rest 4,000,000", Work(check, plan(noise(10, 12), "carry: {rest: 4000000}\n"))
    yield "rest 4,000,000, 4,000 x 12", Work(check, plan(noise(4000, 12), "carry: {rest: 4000000}\n"))
    wide = plan(["1a 1b"] * 10, "carry: {behind: 4000}\n", "across: 2000\n    ", 2)
    yield "behind 4,000 on 4,000 x 10", Work(check, wide)
    yield "reach 100, rest 200", Work(check, plan(noise(100, 1000), "carry: {reach: 100, rest: 200}\n"))
    yield "round, 500 x 1,000", Work(check, plan(noise(500, 1000), "", "worked: round\n    "))
    yield "small areas, 100 x 100", Work(check, plan(noise(100, 100), "small_areas: 8\n"))
    yield "small areas, rest 2", Work(check, plan(noise(100, 100), "small_areas: 8\ncarry: {rest: 2}\n"))
    yield "small areas, round", Work(check, plan(noise(60, 60), "small_areas: 8\n", "worked: round\n    "))
    yield "small areas, shared", Work(check, plan(noise(30, 30), "small_areas: 8\ncarry: {share: true}\n"))
    for reach in (400, 3):
        keys = f"carry: {{reach: {reach}, rest: 20}}\n"
        yield f"outline, reach {reach}, rest 20", Work(check, plan(narrowing(400, 400), keys, "", 2))
    yield "hard to weigh", Work(check, plan(noise(160, 300), "carry: {reach: 8, behind: 5, rest: 4}\n"))
    yield "250,000 rows of 2", Work(check, plan(["ab"], "", "repeat: 250000\n    ", 2))
    yield "125 rows of 4,000, every stitch a run", Work(check, plan(["ab"] * 125, "", "across: 2000\n    ", 2))
    yield "unknown symbols", Work(check, plan(unknown(1300, 3900)))


def measured(folder: Path, work: Work) -> str:
    """A line of the report."""
    process = started(folder, work, subprocess.DEVNULL)
    start = time.perf_counter()
    _, status, used = os.wait4(process.pid, 0)
    process.returncode = os.waitstatus_to_exitcode(status)
    wall, seconds, mb = time.perf_counter() - start, used.ru_utime + used.ru_stime, used.ru_maxrss // 1024
    is_met = seconds <= work.aim and mb <= MOST_MB and process.returncode in (0, 2)
    end = "done" if process.returncode == 0 else f"exit {process.returncode}"
    aim = f"aim {work.aim:g} s{'' if is_met else '   <-- misses its aim'}"
    return f"{seconds:6.2f} s of processor time ({wall:.2f} s in all)  {mb:4} MB   {end:<7} {aim}"


def interrupted(folder: Path, work: Work, after: float) -> str:
    """How long Ctrl-C takes that is pressed so many seconds after the start."""
    process = started(folder, work, subprocess.PIPE)
    time.sleep(after)
    start = time.perf_counter()
    process.send_signal(signal.SIGINT)
    _, said = process.communicate(timeout=60)
    seconds = time.perf_counter() - start
    mark = "" if seconds <= 1 else "   <-- misses its aim"
    return f"after {after:.1f} s: {seconds:5.2f} s, exit {process.returncode}, {said.decode().strip()!r}{mark}"


def started(folder: Path, work: Work, messages: int) -> subprocess.Popen[bytes]:
    """The real program at the plan."""
    (folder / "noise.yaml").write_text(work.plan, encoding="utf-8")
    command, *options = work.words
    environment = os.environ | {"PYTHONPATH": str(ROOT), "ROWSIDE_HOME": str(folder / "data")}
    return subprocess.Popen(
        [sys.executable, "-m", "companion", command, "noise.yaml", *options], cwd=folder, env=environment,
        stdout=subprocess.DEVNULL, stderr=messages,
    )  # fmt: skip


if __name__ == "__main__":
    wanted = sys.argv[1] if len(sys.argv) > 1 else ""
    with tempfile.TemporaryDirectory() as made:
        here = Path(made)
        for name, work in works():
            if wanted in name:
                print(f"{name:<38} {measured(here, work)}", flush=True)
        if wanted in "Ctrl-C":
            for work in (Work(("check",), plan(noise(500, 1000))), Work(("areas",), plan(noise(160, 200)))):
                for after in (0.3, 0.8, 1.5, 2.5):
                    print(f"Ctrl-C at {' '.join(work.words):<29} {interrupted(here, work, after)}", flush=True)
