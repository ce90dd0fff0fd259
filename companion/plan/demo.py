"""Where the demo plans lie: in the package when it is installed, beside it when it is worked on."""

from __future__ import annotations

from pathlib import Path

SCHEMA_FILE = "plan.schema.json"
"""Lies beside the demo plans, and tells their folder from another one of the same name."""


def demo_folder() -> Path | None:
    """The folder of the demo plans; None where they were left out of the installation."""
    package = Path(__file__).resolve().parent.parent
    for folder in (package / "demo", package.parent / "plans"):
        if (folder / SCHEMA_FILE).is_file():
            return folder
    return None


def demo_plans() -> tuple[Path, ...]:
    """The demo plan files, by name."""
    folder = demo_folder()
    return tuple(sorted(folder.glob("*.yaml"))) if folder else ()
