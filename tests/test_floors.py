"""Each floor stays on its ground: what importing a module brings along, each in a process of its own. And no file is
longer than is read in one go.
"""

from __future__ import annotations

import json
import os
import subprocess
import sys
from pathlib import Path

import pytest
from the_program import ROOT

KNITTING = ROOT / "companion" / "knitting"
DIALOGUE = ROOT / "companion" / "dialogue"
CORE = sorted(".".join(path.relative_to(ROOT).with_suffix("").parts) for path in KNITTING.rglob("[!_]*.py"))

OUTSIDE = {
    "textual", "rich", "yaml", "pydantic", "click", "platformdirs", "sqlite3", "numpy", "scipy",
    "subprocess", "socket", "logging", "random", "datetime",
}


def brought_along(code: str, folder: Path) -> set[str]:
    """The top-level modules that running ``code`` in a fresh interpreter loads."""
    tail = "import json, sys; print(json.dumps(sorted({name.partition('.')[0] for name in sys.modules})))"
    done = subprocess.run(
        [sys.executable, "-c", f"{code}\n{tail}"], cwd=folder, env={**os.environ, "PYTHONPATH": str(ROOT)},
        stdin=subprocess.DEVNULL, capture_output=True, text=True, check=True, timeout=60,
    )
    return set(json.loads(done.stdout.splitlines()[-1]))


@pytest.fixture(scope="module")
def bare(tmp_path_factory: pytest.TempPathFactory) -> set[str]:
    """What an interpreter loads by itself."""
    return brought_along("", tmp_path_factory.mktemp("bare"))


@pytest.mark.parametrize("module", CORE)
def test_the_craft_brings_nothing_from_outside(module: str, bare: set[str], tmp_path: Path) -> None:
    loaded = brought_along(f"import {module}", tmp_path) - bare
    assert loaded & OUTSIDE == set()
    assert "companion" in loaded


def test_the_session_is_as_pure_as_the_craft(bare: set[str], tmp_path: Path) -> None:
    """But for msgspec, which makes its values, and knows how dates are written."""
    loaded = brought_along("import companion.progress.deciding", tmp_path) - bare
    assert loaded & (OUTSIDE - {"rich", "datetime"}) == set()


@pytest.mark.parametrize("words", ["--version", "rows swatch", "strands swatch --json", "check swatch"])
def test_commands_that_print_bring_no_screen_and_no_database(words: str, bare: set[str], tmp_path: Path) -> None:
    loaded = brought_along(f"from companion.cli import main; assert main({words.split()}) == 0", tmp_path) - bare
    assert loaded & {"textual", "sqlite3", "numpy", "scipy"} == set()


@pytest.mark.parametrize("module", sorted(path.stem for path in DIALOGUE.glob("[!_]*.py")))
def test_what_is_said_and_asked_brings_no_screen(module: str, bare: set[str], tmp_path: Path) -> None:
    loaded = brought_along(f"import companion.dialogue.{module}", tmp_path) - bare
    assert loaded & {"textual", "click", "subprocess", "socket"} == set()


def test_the_command_line_alone_brings_no_plan_reader(bare: set[str], tmp_path: Path) -> None:
    loaded = brought_along("import companion.cli", tmp_path) - bare
    assert loaded & {"textual", "sqlite3", "yaml", "pydantic", "platformdirs"} == set()


@pytest.mark.parametrize("folder", ["companion", "tests"])
def test_no_file_is_longer_than_400_lines(folder: str) -> None:
    lengths = {path: len(path.read_text(encoding="utf-8").splitlines()) for path in (ROOT / folder).rglob("*.py")}
    assert len(lengths) > 100
    assert [(str(path.relative_to(ROOT)), lines) for path, lines in lengths.items() if lines > 400] == []
