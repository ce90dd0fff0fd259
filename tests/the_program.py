"""The real program, run as its own process: its exit code, output and messages together."""

from __future__ import annotations

import json
import os
import subprocess
import sys
from dataclasses import dataclass
from pathlib import Path
from typing import Any

ROOT = Path(__file__).resolve().parent.parent

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


def run(folder: Path, *words: str, given: bytes = b"", **variables: str) -> Ran:
    """Run ``rowside`` with these words in a folder; its data goes below that folder. Lines are not broken
    unless COLUMNS says so. ``given`` is what stands on its standard input. A traceback is never right."""
    kept = ("PATH", "SYSTEMROOT", "HOME", "TEMP", "TMP", "TMPDIR", "LANG", "LC_ALL")
    environment = {name: value for name, value in os.environ.items() if name in kept}
    environment |= {"PYTHONPATH": str(ROOT), "ROWSIDE_HOME": str(folder / "data"), "PYTHONUTF8": "1"}
    environment |= {"COLUMNS": "1000"} | variables  # room for every line
    done = subprocess.run(
        [sys.executable, "-m", "companion", *words],
        cwd=folder, env=environment, input=given, capture_output=True, check=False, timeout=60,
    )
    ran = Ran(done.returncode, _text(done.stdout), _text(done.stderr))
    assert "Traceback" not in ran.err + ran.out, ran.err
    return ran


def _text(data: bytes) -> str:
    return data.decode().replace("\r\n", "\n")
