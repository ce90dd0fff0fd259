"""The craft knows no file, clock, screen or library: each of its modules, by what it says.

What it loads, ``tests/test_floors.py`` looks at."""

from __future__ import annotations

import ast
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
