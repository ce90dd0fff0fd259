"""Each floor stays on its ground: what importing a module brings along, each in a process of its own. And no file is
longer than is read in one go.
"""

from __future__ import annotations

import json
import os
import subprocess
import sys
from collections.abc import Iterator
from pathlib import Path

import pytest
from the_program import ROOT

KNITTING = ROOT / "companion" / "knitting"
DIALOGUE = ROOT / "companion" / "dialogue"
SCREENS = ROOT / "companion" / "screens"
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
        stdin=subprocess.DEVNULL, capture_output=True, text=True, check=True, timeout=300,
    )
    return set(json.loads(done.stdout.splitlines()[-1]))


EACH = """
import os, sys
known = set(sys.modules)
for module in sys.argv[1:]:
    if not (hasattr(os, "fork") and os.fork()):
        __import__(module)
        print(*sorted(set(sys.modules) - known), flush=True)
        os._exit(0)
    if os.wait()[1]:
        sys.exit(module)
"""
"""Each module in a process of its own, forked from one that has loaded nothing yet."""


def brought_along_by_each(modules: list[str], folder: Path) -> Iterator[tuple[str, set[str]]]:
    """Each module with all that importing it into a fresh interpreter loads."""
    for some in [modules] if hasattr(os, "fork") else [[module] for module in modules]:
        done = subprocess.run(
            [sys.executable, "-c", EACH, *some], cwd=folder, env={**os.environ, "PYTHONPATH": str(ROOT)},
            stdin=subprocess.DEVNULL, stdout=subprocess.PIPE, text=True, check=True, timeout=300,
        )  # fmt: skip
        yield from zip(some, map(set, map(str.split, done.stdout.splitlines())), strict=True)


def _tops(modules: set[str]) -> set[str]:
    return {name.partition(".")[0] for name in modules}


@pytest.fixture(scope="module")
def bare(tmp_path_factory: pytest.TempPathFactory) -> set[str]:
    """What an interpreter loads by itself."""
    return brought_along("", tmp_path_factory.mktemp("bare"))


def test_the_craft_brings_nothing_from_outside_nor_of_the_other_floors(tmp_path: Path) -> None:
    assert len(CORE) > 50
    for module, loaded in brought_along_by_each(CORE, tmp_path):
        assert module in loaded
        assert _tops(loaded) & OUTSIDE == set(), module
        others = {name for name in loaded if not f"{name}.".startswith("companion.knitting.")}
        assert {name for name in others if name.startswith("companion.")} == set(), module


def test_the_session_is_as_pure_as_the_craft(bare: set[str], tmp_path: Path) -> None:
    """But for msgspec, which makes its values, and knows how dates are written."""
    loaded = brought_along("import companion.progress.deciding", tmp_path) - bare
    assert loaded & (OUTSIDE - {"rich", "datetime"}) == set()


@pytest.mark.parametrize("words", ["--version", "rows swatch", "strands swatch --json", "check swatch"])
def test_commands_that_print_bring_no_screen_and_no_database(words: str, bare: set[str], tmp_path: Path) -> None:
    loaded = brought_along(f"from companion.cli import main; assert main({words.split()}) == 0", tmp_path) - bare
    assert loaded & {"textual", "sqlite3", "numpy", "scipy"} == set()


def test_what_is_said_and_asked_brings_no_screen(tmp_path: Path) -> None:
    files = sorted(path.relative_to(ROOT).with_suffix("") for path in DIALOGUE.rglob("[!_]*.py"))
    modules = [".".join(path.parts) for path in files]
    assert len(modules) > 20
    for module, loaded in brought_along_by_each(modules, tmp_path):
        assert module in loaded
        assert _tops(loaded) & {"textual", "click", "subprocess", "socket"} == set(), module


def test_the_command_line_alone_brings_no_plan_reader(bare: set[str], tmp_path: Path) -> None:
    loaded = brought_along("import companion.cli", tmp_path) - bare
    assert loaded & {"textual", "sqlite3", "yaml", "pydantic", "platformdirs"} == set()


@pytest.mark.parametrize("folder", ["companion", "tests"])
def test_no_file_is_longer_than_400_lines(folder: str) -> None:
    lengths = {path: len(path.read_text(encoding="utf-8").splitlines()) for path in (ROOT / folder).rglob("*.py")}
    assert len(lengths) > 100
    assert [(str(path.relative_to(ROOT)), lines) for path, lines in lengths.items() if lines > 400] == []


def test_no_file_of_the_screens_is_longer_than_250_lines() -> None:
    lengths = {path.name: len(path.read_text(encoding="utf-8").splitlines()) for path in SCREENS.glob("*.py")}
    assert len(lengths) > 40
    assert {name: lines for name, lines in lengths.items() if lines > 250} == {}
