"""The real program and a real browser: Debian's Chromium, driven by Playwright."""

from __future__ import annotations

import re
import shutil
import signal
import subprocess
import sys
from collections.abc import Iterator
from contextlib import contextmanager
from importlib.util import find_spec
from pathlib import Path

from tests.patience import PATIENCE
from tests.the_program import bare

CHROMIUM = shutil.which("chromium") or shutil.which("chromium-browser") or ""
WHY_NOT = "" if CHROMIUM and find_spec("playwright") else "no Chromium here, or no Playwright to drive it with"

FLAGS = ("--no-sandbox", "--disable-gpu", "--disable-dev-shm-usage", "--disable-extensions", "--no-first-run")


class Program:
    """``rowside knit PLAN --page`` in a process of its own. ``link`` and ``look``: the addresses that it prints."""

    def __init__(self, home: Path, *words: str) -> None:
        self.process = subprocess.Popen(
            [sys.executable, "-m", "companion", "knit", *words, "--page"],
            env=bare() | {"ROWSIDE_HOME": str(home), "PYTHONUNBUFFERED": "1"}, stdout=subprocess.PIPE,
            stderr=subprocess.PIPE, text=True,
        )
        assert self.process.stdout
        self.printed, links = "", list[str]()
        while len(links) < 2:
            line = self.process.stdout.readline()
            assert line, self.process.communicate()
            self.printed += line
            links += re.findall(r"http\S+", line)
        self.link, self.look = links

    def kill(self) -> None:
        """As a machine that loses its power, for this program."""
        self.process.kill()
        self.process.communicate(timeout=PATIENCE)

    def interrupt(self) -> tuple[int, str, str]:
        """Ctrl-C: its exit code, what it still prints, and its messages."""
        self.process.send_signal(signal.SIGINT)
        out, err = self.process.communicate(timeout=PATIENCE)
        return self.process.returncode, out, err


@contextmanager
def running(home: Path, *words: str) -> Iterator[Program]:
    """The program as long as it is wanted."""
    program = Program(home, *words)
    try:
        yield program
    finally:
        if program.process.poll() is None:
            program.kill()


__all__ = ["CHROMIUM", "FLAGS", "WHY_NOT", "Program", "running"]
