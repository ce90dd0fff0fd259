"""Two programs on one shelf: one writes, a killed one locks nobody out, and no saved step is ever lost."""

from __future__ import annotations

import signal
import subprocess
import sys
import time
from pathlib import Path

import pytest
from plans_on_disk import resume, shelf, start, state

from companion.progress.actions import On
from companion.progress.fold import replay
from companion.progress.journal import read
from companion.progress.shelf import LookOnly

pytestmark = pytest.mark.skipif(sys.platform == "win32", reason="kills programs as POSIX has it")

KNITTER = """
import itertools, sys, time
from pathlib import Path
sys.path.insert(0, "tests/progress")
from plans_on_disk import resume
from companion.progress.actions import Back, Note, On
knitting = resume(Path(sys.argv[1]))
print("look-only" if knitting.is_look_only else "writing", flush=True)
for n in itertools.count():
    knitting.do(Note(1, f"saved {n}"))
    print(n, flush=True)
    if sys.argv[2:] and n == int(sys.argv[2]):
        sys.stdin.read()
        break
knitting.close()
"""


def knitter(home: Path, stop_at: int | None = None) -> subprocess.Popen[str]:
    """Another program that has the piece open, and saves notes until ``stop_at`` or for ever."""
    program = [sys.executable, "-c", KNITTER, str(home), *([] if stop_at is None else [str(stop_at)])]
    return subprocess.Popen(program, stdin=subprocess.PIPE, stdout=subprocess.PIPE, text=True)


def said(other: subprocess.Popen[str]) -> str:
    assert other.stdout is not None
    return other.stdout.readline().strip()


def test_while_another_program_writes_one_may_look(tmp_path: Path) -> None:
    start(tmp_path).close()
    with knitter(tmp_path, 2) as other:
        assert [said(other) for _ in range(4)] == ["writing", "0", "1", "2"]
        with resume(tmp_path) as knitting:
            assert knitting.is_look_only
            assert knitting.session.notes == {0: "saved 2"}
            with pytest.raises(LookOnly):
                knitting.do(On())
        assert shelf(tmp_path).cards()[0].trouble == ""
        other.communicate("")
    assert other.returncode == 0
    with resume(tmp_path) as knitting:
        assert not knitting.is_look_only
        knitting.do(On())
    assert sorted(found.name for found in (tmp_path / "pieces").iterdir()) == [
        "quay.lock", "quay.rowside", "shelf.lock"
    ]


def test_a_writer_killed_at_any_moment_locks_nobody_out_and_loses_nothing_it_had_told(tmp_path: Path) -> None:
    start(tmp_path).close()
    file = tmp_path / "pieces" / "quay.rowside"
    for round_ in range(5):
        with knitter(tmp_path) as other:
            assert said(other) == "writing"
            last = said(other)
            time.sleep(0.005 * round_)
            other.send_signal(signal.SIGKILL)
            assert other.stdout is not None
            last = (other.stdout.read().split() or [last])[-1]
        assert other.returncode == -signal.SIGKILL
        with resume(tmp_path, look_only=True) as looking:
            seen = state(looking.session)
        with resume(tmp_path) as knitting:
            assert not knitting.is_look_only
            assert state(knitting.session) == seen
            assert int(knitting.session.notes[0].removeprefix("saved ")) >= int(last)
            knitting.do(On())
            assert read(file).card == knitting.card
            entries = read(file).entries
            assert state(replay({0: knitting.session.piece}, entries)) == state(knitting.session)


START = """
import sys
from pathlib import Path
sys.path.insert(0, "tests/progress")
from plans_on_disk import shelf
from companion.plan.read import load
home = Path(sys.argv[1])
loaded = load(home / "quay.yaml")
sys.stdin.readline()
for _ in range(5):
    shelf(home).start(loaded, home / "quay.yaml").close()
"""


def test_pieces_begun_at_the_same_time_get_names_and_files_of_their_own(tmp_path: Path) -> None:
    start(tmp_path).close()
    program = [sys.executable, "-c", START, str(tmp_path)]
    others = [subprocess.Popen(program, stdin=subprocess.PIPE, text=True) for _ in range(2)]
    for other in others:
        assert other.stdin is not None
        other.stdin.write("\n")
        other.stdin.flush()
    for other in others:
        other.communicate()
        assert other.returncode == 0
    names = {card.name for card in shelf(tmp_path).cards()}
    assert names == {"Quay"} | {f"Quay {n}" for n in range(2, 12)}
