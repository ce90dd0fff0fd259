"""The craft knows no file, clock, screen or library: each of its modules, by what it says and by what it loads."""

from __future__ import annotations

import ast
import subprocess
import sys
from collections.abc import Iterator
from pathlib import Path

import pytest

import companion.knitting

FOLDER = Path(companion.knitting.__file__).parent
MODULES = sorted(
    ".".join(path.relative_to(FOLDER).with_suffix("").parts)
    for path in FOLDER.rglob("*.py") if path.stem != "__init__"
)

FORBIDDEN = {"os", "io", "pathlib", "time", "datetime", "random", "sqlite3", "subprocess", "socket", "logging"}
LIBRARIES = {"textual", "rich", "yaml", "pydantic", "sqlite3", "click", "platformdirs", "numpy"}

LOAD = """
import sys
__import__(sys.argv[1])
print(" ".join(sorted({name.partition(".")[0] for name in sys.modules})))
print(" ".join(sorted(name for name in sys.modules if name.startswith("companion."))))
"""


def imported(module: str) -> Iterator[str]:
    """Every module named in an import, wherever in the file it stands; the names of a whole path one by one."""
    for node in ast.walk(ast.parse((FOLDER / f"{module.replace('.', '/')}.py").read_text("utf-8"))):
        if isinstance(node, ast.Import):
            yield from (alias.name for alias in node.names)
        elif isinstance(node, ast.ImportFrom):
            assert node.level == 0, "imports are written out in full"
            yield str(node.module)


def test_the_craft_has_modules_to_look_at() -> None:
    assert {"cloth.fabric", "cloth.rows", "strands.plan", "hands.steps", "words.steps", "hands.ends"} <= set(MODULES)


@pytest.mark.parametrize("module", MODULES)
def test_a_module_of_the_craft_imports_the_standard_library_and_the_craft_alone(module: str) -> None:
    for name in imported(module):
        top = name.partition(".")[0]
        assert top not in FORBIDDEN
        assert top in sys.stdlib_module_names or name.startswith("companion.knitting.")


@pytest.mark.parametrize("module", MODULES)
def test_a_module_of_the_craft_opens_and_prints_nothing(module: str) -> None:
    tree = ast.parse((FOLDER / f"{module.replace('.', '/')}.py").read_text("utf-8"))
    names = {node.id for node in ast.walk(tree) if isinstance(node, ast.Name)}
    assert not names & {"open", "print", "input", "eval", "exec", "__import__", "breakpoint"}


@pytest.mark.parametrize("module", MODULES)
def test_loading_a_module_of_the_craft_loads_no_library(module: str) -> None:
    """In a fresh interpreter; the first line tells what it has loaded, the second which parts of the program."""
    ran = subprocess.run(
        [sys.executable, "-I", "-c", LOAD, f"companion.knitting.{module}"],
        capture_output=True, text=True, check=True,
    )
    loaded, own = ran.stdout.splitlines()
    assert not set(loaded.split()) & LIBRARIES
    assert f"companion.knitting.{module}" in own.split()
    assert all(name.startswith("companion.knitting") for name in own.split())
