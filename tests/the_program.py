"""The real program, run as its own process: its exit code, output and messages together."""

from __future__ import annotations

import json
import os
import re
import subprocess
import sys
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from tests.loaded_program import loaded_program

ROOT = Path(__file__).resolve().parent.parent
AT_LAST = 300
"""Seconds after which a run is ended, and fails: one that hangs. How long one may take is another question."""
ROOM = 1 << 14
"""Bytes that a pipe has room for on every system before anybody reads them."""
_READ_AT_START = re.compile("PYTHON|LANG|LC_|TZ")

PIER_SIGN = """\
plan: 1
title: Pier sign
gauge: {stitches: 20, rows: 28, over: 10 cm}
yarns:
  sand: {colour: "#d9c9a5", ball: {metres: 120, grams: 50}}
  brick: {colour: "#a8432f"}
symbols:
  s: sand
  b: brick
carry: {reach: 1}
rows:
  - chart: |
      sssss
      sbbss
      ssbbs
      sssss
"""
"""Four rows small enough to be worked out by hand. From column 1, the right edge: row 1 is sand; row 2, a wrong-side
row, is worked from column 5 down: 2 sand, 2 brick, 1 sand; row 3 from column 1 up: 2 sand, 2 brick, 1 sand; row 4 is
sand. The sand left of the brick goes on from row 1 to row 4, the sand right of it is a strand of its own."""


@dataclass(frozen=True)
class Ran:
    """What one run of the program came to."""

    code: int
    out: str
    err: str

    @property
    def value(self) -> Any:
        """The one JSON value on standard output."""
        return json.loads(self.out)


def run(folder: Path, *words: str, given: bytes = b"", is_fresh: bool = False, **variables: str) -> Ran:
    """Run ``rowside`` with these words in a folder; its data goes below that folder. Lines are not broken
    unless COLUMNS says so. ``given`` is what stands on its standard input. A traceback is never right.

    What is ``is_fresh`` is loaded anew; so is what has variables that Python itself reads when it starts. Other runs
    are forked from a program that is loaded already, where the system can do that."""
    environment = bare() | {"ROWSIDE_HOME": str(folder / "data"), "COLUMNS": "1000"}  # room for every line
    environment |= variables
    if is_fresh or len(given) > ROOM or not hasattr(os, "fork") or any(map(_READ_AT_START.match, variables)):
        done = subprocess.run(
            [sys.executable, "-m", "companion", *words],
            cwd=folder, env=environment, input=given, capture_output=True, check=False, timeout=AT_LAST,
        )
        code, out, err = done.returncode, done.stdout, done.stderr
    else:
        code, out, err = loaded_program(**bare()).run(folder, words, environment, given, AT_LAST)
    ran = Ran(code, _text(out), _text(err))
    assert "Traceback" not in ran.err + ran.out, ran.err
    return ran


def bare() -> dict[str, str]:
    """What every run finds in its environment."""
    kept = ("PATH", "SYSTEMROOT", "HOME", "TEMP", "TMP", "TMPDIR", "LANG", "LC_ALL")
    environment = {name: value for name, value in os.environ.items() if name in kept}
    return environment | {"PYTHONPATH": str(ROOT), "PYTHONUTF8": "1"}


def _text(data: bytes) -> str:
    return data.decode().replace("\r\n", "\n")
