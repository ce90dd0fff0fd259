"""A bug inside the app: a report in a file, one sentence, exit code 1, and the terminal as it was; bytes that are no
text are no bug."""

from __future__ import annotations

import sys
from pathlib import Path

import pytest

if sys.platform == "win32":
    pytest.skip("no pseudo-terminals", allow_module_level=True)

from pseudo_terminal import ROOT, SPACE, Terminal, knitting
from swatch import places, shown

BREAKS = {
    "dialogue/resting.py": (
        "class Resting:\n    def __init__(self, *_):\n        self.is_due = lambda *_, **__: 1 // 0\n"
    ),
    "dialogue/strands.py": "class StrandsList:\n    def __init__(self, *_):\n        1 // 0\n",
    "screens/hanging.py": (
        "from companion.screens.lines import Lines\n"
        "class HangingPanel(Lines):\n    def draw(self, width, height):\n"
        "        return [] if self.session is None or not self.session.rows_done else 1 // 0\n"
    ),
}
"""Files that break, after a step, at a key, in painting."""


def broken(folder: Path, file: str) -> dict[str, str]:
    """Variables under which the program finds this file in the place of its own: that stands for any bug."""
    there = folder / "companion" / file
    there.parent.mkdir(parents=True)
    for package in (folder / "companion", there.parent):
        path = f"__path__ = [{str(package)!r}, {str(ROOT / package.relative_to(folder))!r}]\n__version__ = '0'\n"
        (package / "__init__.py").write_text(path, encoding="utf-8")
    there.write_text(BREAKS[file], encoding="utf-8")
    return {"PYTHONPATH": str(folder)}


@pytest.mark.parametrize(
    ("file", "keys"), [("dialogue/resting.py", SPACE), ("dialogue/strands.py", b"s"), ("screens/hanging.py", SPACE)]
)
def test_a_bug_at_the_needles_is_a_report_and_one_sentence(tmp_path: Path, file: str, keys: bytes) -> None:
    with Terminal(tmp_path, "knit", "swatch", variables=broken(tmp_path / "broken", file)) as terminal:
        terminal.wait_for("Row 1 of 32", "q quit")
        terminal.send(keys)
        assert terminal.wait_for_end() == 1
        assert terminal.left_on == []
        assert terminal.settings() == terminal.before
        assert b"Traceback" not in terminal.written
        after = terminal.written.rpartition(b"\x1b[?1049l")[2]
        report = tmp_path / "bug-report-1.txt"
        sentence = f"rowside: This is a bug in Rowside, not in your plan; {report} tells more."
        assert " ".join(after.decode().replace("\r\n", " ").split()).endswith(sentence)
        told = report.read_text(encoding="utf-8")
        assert "ZeroDivisionError" in told
        assert file in told
        assert "'knit' 'swatch'" in told
    with knitting(tmp_path) as terminal:
        done = int(keys == SPACE)
        terminal.wait_until(lambda: shown(terminal.text) == places()[done], "what was saved")


def test_bytes_that_are_no_text_end_nothing_and_the_keys_beside_them_count(tmp_path: Path) -> None:
    with knitting(tmp_path) as terminal:
        terminal.send(SPACE + b"\xe9" + SPACE)
        terminal.wait_until(lambda: shown(terminal.text) == places()[2], "both keys")
        terminal.send(b"\xff\xfe\xc3(" + SPACE)
        terminal.wait_until(lambda: shown(terminal.text) == places()[3], "the key")
        terminal.send(b"n")
        terminal.wait_for("A note on")
        terminal.send(b"lo\xf6se\r")
        terminal.wait_for("Note: lose")
        terminal.send(SPACE)
        terminal.wait_until(lambda: shown(terminal.text) == places()[4], "the next key")
