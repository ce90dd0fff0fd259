"""Ended, hung up, stopped and gone on with, its screen taken away: nothing that was shown is lost."""

from __future__ import annotations

import os
import signal
import subprocess
import sys
from pathlib import Path

import pytest

if sys.platform == "win32":
    pytest.skip("no pseudo-terminals", allow_module_level=True)

from tests.patience import PATIENCE, until
from tests.terminal.pseudo_terminal import ROOT, SPACE, Terminal, knitting
from tests.terminal.swatch import places, shown

STEPS = 6


def worked(terminal: Terminal, steps: int = STEPS) -> None:
    terminal.send(SPACE * steps)
    terminal.wait_until(lambda: shown(terminal.text) == places()[steps], "the steps")


def comes_back(home: Path, steps: int = STEPS) -> None:
    """The next one opens at the stitch, is a writer, and its keys work."""
    with knitting(home) as terminal:
        terminal.wait_until(lambda: shown(terminal.text) == places()[steps], "the same stitch")
        terminal.send(SPACE)
        terminal.wait_until(lambda: shown(terminal.text) == places()[steps + 1], "the next stitch")


@pytest.mark.parametrize(("name", "code"), [("SIGTERM", -15), ("SIGHUP", -1), ("SIGINT", 130)])
@pytest.mark.parametrize("keys", [b"", b"n"], ids=["at the needles", "in a question"])
def test_told_to_end_it_loses_nothing_and_leaves_the_terminal_as_it_was(
    tmp_path: Path, name: str, code: int, keys: bytes
) -> None:
    with knitting(tmp_path) as terminal:
        worked(terminal)
        terminal.send(keys)
        terminal.wait_for("A note on" if keys else "q quit")
        terminal.process.send_signal(signal.Signals[name])
        assert terminal.wait_for_end() == code
        assert terminal.left_on == []
        assert terminal.settings() == terminal.before
        assert b"Traceback" not in terminal.written
    comes_back(tmp_path)


def test_when_its_terminal_is_closed_it_ends_and_loses_nothing(tmp_path: Path) -> None:
    with knitting(tmp_path) as terminal:
        worked(terminal)
        os.close(terminal._master)
        terminal._master = os.open(os.devnull, os.O_RDONLY)
        terminal.process.send_signal(signal.SIGHUP)  # what a terminal sends as it goes
        terminal.process.wait(PATIENCE)
    comes_back(tmp_path)


@pytest.mark.parametrize("is_deaf", [False, True], ids=["as usual", "hang-ups ignored"])
def test_when_its_terminal_is_gone_without_a_signal_it_ends_and_loses_nothing(tmp_path: Path, is_deaf: bool) -> None:
    usual = signal.getsignal(signal.SIGHUP)
    signal.signal(signal.SIGHUP, signal.SIG_IGN if is_deaf else usual)  # what its parent ignores a program ignores
    try:
        with knitting(tmp_path, is_fresh=True) as terminal:
            worked(terminal)
            os.close(terminal._master)
            terminal._master = os.open(os.devnull, os.O_RDONLY)
            assert terminal.process.wait(PATIENCE) == (-signal.SIGTERM if is_deaf else -signal.SIGHUP)
    finally:
        signal.signal(signal.SIGHUP, usual)
    comes_back(tmp_path)


def test_stopped_and_gone_on_with_it_shows_the_same_stitch_and_takes_keys(tmp_path: Path) -> None:
    with knitting(tmp_path) as terminal:
        worked(terminal)
        terminal.send(b"\x1a")
        terminal.process.send_signal(signal.SIGTSTP)
        until(lambda: "T" in _state(terminal.process.pid), "it is stopped")
        terminal.process.send_signal(signal.SIGCONT)
        terminal.send(SPACE)
        terminal.wait_until(lambda: shown(terminal.text) == places()[STEPS + 1], "the next stitch")
    comes_back(tmp_path, STEPS + 1)


def _state(pid: int) -> str:
    """How the system says a process is: T when it is stopped."""
    return subprocess.run(["ps", "-o", "stat=", "-p", str(pid)], capture_output=True, text=True, check=False).stdout


@pytest.mark.parametrize("words", [["rows", "swatch"], ["strands", "swatch", "--json"], ["check", "swatch"]])
def test_a_closed_output_is_quiet(tmp_path: Path, words: list[str]) -> None:
    environment = os.environ | {"PYTHONPATH": str(ROOT), "ROWSIDE_HOME": str(tmp_path)}
    process = subprocess.Popen(
        [sys.executable, "-m", "companion", *words],
        cwd=tmp_path, env=environment, stdout=subprocess.PIPE, stderr=subprocess.PIPE,
    )  # fmt: skip
    assert process.stdout is not None
    process.stdout.close()
    assert process.stderr is not None
    assert b"Traceback" not in process.stderr.read()
    process.stderr.close()
    assert process.wait(60) in (0, 1)
