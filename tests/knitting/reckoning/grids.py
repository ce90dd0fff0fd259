"""Pictures for tests, as text."""

from __future__ import annotations

from companion.knitting.cloth.fabric import Stitch
from companion.knitting.reckoning.bands import Grid


def grid(*lines: str) -> Grid:
    """A picture as it is drawn, the top line last; "." is no stitch."""
    return [tuple(None if sign == "." else Stitch(sign) for sign in reversed(line)) for line in reversed(lines)]


def drawn(picture: Grid) -> list[str]:
    """The same again."""
    return ["".join(cell.yarn if cell else "." for cell in reversed(row)) for row in reversed(picture)]
