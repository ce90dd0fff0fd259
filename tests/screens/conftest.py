"""Pictures of the screen are compared letter by letter, so they hold for one Python and the pinned textual alone."""

from __future__ import annotations

import sys

import pytest


@pytest.hookimpl(tryfirst=True)
def pytest_collection_modifyitems(items: list[pytest.Item]) -> None:
    """Leave out pictures on other Pythons than that of the stored ones."""
    if sys.version_info[:2] == (3, 11):
        return
    other = pytest.mark.skip(reason="the stored pictures are of Python 3.11")
    for item in items:
        if "snap_compare" in getattr(item, "fixturenames", ()):
            item.add_marker(other)
