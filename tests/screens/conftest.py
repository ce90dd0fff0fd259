"""Pictures of the screen are compared letter by letter, so they hold for one Python and the pinned textual alone.

The screens are those of a terminal of all colours, unless a test says otherwise.
"""

from __future__ import annotations

import sys

import pytest


@pytest.fixture(autouse=True)
def all_colours(monkeypatch: pytest.MonkeyPatch) -> None:
    """What the terminal says of itself, wherever the tests run."""
    monkeypatch.setenv("COLORTERM", "truecolor")
    monkeypatch.delenv("NO_COLOR", raising=False)


@pytest.hookimpl(tryfirst=True)
def pytest_collection_modifyitems(items: list[pytest.Item]) -> None:
    """Leave out pictures on other Pythons than that of the stored ones."""
    if sys.version_info[:2] == (3, 11):
        return
    other = pytest.mark.skip(reason="the stored pictures are of Python 3.11")
    for item in items:
        if "snap_compare" in getattr(item, "fixturenames", ()):
            item.add_marker(other)
