"""Whatever stands in a plan, a chart file, the settings or an exported piece: it is taken, or told in words."""

from __future__ import annotations

import os
import subprocess
import sys
from pathlib import Path
from random import Random

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tests.faults.hostile import MOST_MEGABYTES, MOST_SECONDS, OBEYED, material, mutated, outcome
from tests.the_program import AT_LAST, ROOT, run

CASES = sorted((Path(__file__).parent / "cases").iterdir())
MATERIAL = material()


@given(st.sampled_from(MATERIAL), st.integers(0, 2**32))
def test_mutated_demo_plans_settings_and_pieces_are_taken_or_told(known: tuple[str, str], seed: int) -> None:
    kind, text = known
    assert outcome(kind, mutated(text, Random(seed)), {}) in ("taken", "told")


@pytest.mark.parametrize("case", CASES, ids=lambda case: case.name)
def test_what_was_found_once_is_told_for_ever(case: Path) -> None:
    """Cases are named kind-what."""
    text = case.read_bytes().decode("utf-8", "surrogatepass")
    assert outcome(case.name.split("-")[0], text, {}) in ("taken", "told")


RUN = f"""
import resource, sys
resource.setrlimit(resource.RLIMIT_CPU, ({MOST_SECONDS}, {MOST_SECONDS}))
from companion.cli import main
code = main(sys.argv[1:])
if sys.platform == "linux":
    used = int(open("/proc/self/status").read().partition("VmHWM:")[2].split()[0]) / 1024
else:
    used = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024 / 1024
print(f"{{used:.0f}}", file=sys.stderr)
sys.exit(code)
"""
"""What takes more of the processor's time is ended by the system, however busy that is. On Linux ``resource`` may
tell what the parent of this program took."""

HEAD = "plan: 1\ntitle: Bomb\ngauge: {stitches: 20, rows: 28}\nyarns: {sand: {colour: tan}, ink: {colour: black}}\n"
SYMBOLS = "symbols: {s: sand, i: ink}\n"



def noise(columns: int, rows: int) -> str:
    """A chart in which nearly every second stitch begins a run."""
    dice = Random(1)
    lines = (f"{dice.getrandbits(columns):0{columns}b}" for _ in range(rows))
    return "".join(f"      {line}\n" for line in lines).replace("0", "s").replace("1", "i")


BOMBS = {
    "a chart beyond the limits": HEAD + SYMBOLS + "rows:\n  - chart: 999999999s\n",
    "rows beyond the limits": HEAD + SYMBOLS + "rows:\n  - chart: 2s 2i\n    repeat: 999999999\n",
    "repeats of repeats": HEAD + SYMBOLS + "rows:\n" + "  - {chart: 1000s, repeat: 3000}\n" * 5000,
    "deep lists": "plan: " + "[" * 100_000,
    "deep keys": "plan: " + "{a: " * 100_000,
    "aliases of aliases": "a: &a [x]\n" + "".join(f"b{i}: &b{i} [*a,*a]\n" for i in range(2000)),
    "a long title": HEAD.replace("Bomb", "x" * 10_000) + SYMBOLS + "rows:\n  - chart: 4s\n",
    "many yarns": HEAD + "".join(f"# {i}\n" for i in range(200_000)) + SYMBOLS + "rows: []\n",
    "one long line": HEAD + SYMBOLS + "rows:\n  - chart: |\n      " + "si" * 3_000_000 + "\n",
    "many motifs": HEAD + SYMBOLS + "rows:\n  - field: {rows: 9, stitches: 9, yarn: sand}\n    motifs:\n"
    + "      - {from: x.txt, right: 0, bottom: 0}\n" * 20_000,
    "noise as large as may be": HEAD + SYMBOLS + "rows:\n  - chart: |\n" + noise(500, 1000),
    "rests over far rows of an outline": HEAD + "carry: {reach: 3, rest: 200}\n" + SYMBOLS
    + "rows:\n  - chart: |\n" + "      sisisisisi.\n" * 3 + "      sisisisisis\n    repeat: 50\n",
    "noise beyond it": HEAD + SYMBOLS + "rows:\n  - chart: |\n" + noise(1100, 1000),
}


@pytest.mark.skipif(sys.platform == "win32", reason="memory is measured the POSIX way")
@pytest.mark.parametrize("what", BOMBS)
def test_a_bomb_is_told_in_time_within_bounds(tmp_path: Path, what: str) -> None:
    (tmp_path / "bomb.yaml").write_text(BOMBS[what], encoding="utf-8")
    (tmp_path / "x.txt").write_text("si\n", encoding="utf-8")
    environment = os.environ | {"PYTHONPATH": str(ROOT), "ROWSIDE_HOME": str(tmp_path / "data")}
    ran = subprocess.run(
        [sys.executable, "-c", RUN, "check", "bomb.yaml"], cwd=tmp_path, env=environment,
        capture_output=True, text=True, check=False, timeout=AT_LAST,
    )  # fmt: skip
    *told, used = ran.stderr.splitlines()
    assert ran.returncode in (0, 2)
    assert ran.returncode == 0 or told
    assert "Traceback" not in ran.stderr
    assert int(used) < MOST_MEGABYTES
    assert not OBEYED.search((ran.stdout + "".join(told)).replace("\n", ""))
    assert sorted(path.name for path in tmp_path.iterdir()) == ["bomb.yaml", "x.txt"]


@pytest.mark.skipif(not hasattr(os, "mkfifo"), reason="this system has no such files")
def test_links_pipes_devices_and_ways_out_are_told(tmp_path: Path) -> None:
    os.mkfifo(tmp_path / "pipe.txt")
    (tmp_path / "loop.txt").symlink_to("loop.txt")
    (tmp_path / "zero.txt").symlink_to("/dev/zero")
    (tmp_path / "folder.txt").mkdir()
    ways = ("pipe.txt", "loop.txt", "zero.txt", "folder.txt", "../out.txt", "/etc/hostname", "x" * 5000, "nul\0")
    for name in ways:
        plan = HEAD + SYMBOLS + f'rows:\n  - chart: {{from: "{name}"}}\n'
        (tmp_path / "way.yaml").write_text(plan.replace("\0", "\\0"), encoding="utf-8")
        ran = run(tmp_path, "check", "way.yaml")
        assert ran.code == 2, name
        assert "way.yaml:" in ran.err


@pytest.mark.skipif(sys.platform == "win32", reason="Windows takes no such names")
@pytest.mark.parametrize("words", [("progress", "export", "x"), ("ends", "way.yaml"), ("check", "\x1b[2J.yaml")])
def test_an_environment_and_words_that_would_paint_are_shown_and_not_obeyed(
    tmp_path: Path, words: tuple[str, ...]
) -> None:
    (tmp_path / "way.yaml").write_text(HEAD + SYMBOLS + "rows:\n  - chart: 4s 4i\n", encoding="utf-8")
    (tmp_path / "\x1b[31mhome\u202e").write_text("a file, not a folder", encoding="utf-8")
    environment = os.environ | {
        "PYTHONPATH": str(ROOT), "ROWSIDE_HOME": str(tmp_path / "\x1b[31mhome\u202e"), "COLUMNS": "-3", "LINES": "x",
        "TERM": "\x1b]0;x\x07", "LANG": "[/red]",
    }  # fmt: skip
    ran = subprocess.run(
        [sys.executable, "-m", "companion", *words], cwd=tmp_path, env=environment,
        capture_output=True, check=False, timeout=AT_LAST,
    )  # fmt: skip
    told = (ran.stdout + ran.stderr).decode()
    assert ran.returncode in (1, 2)
    assert "Traceback" not in told
    assert not OBEYED.search(told.replace("\n", ""))
