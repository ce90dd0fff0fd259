"""Text made fit to be heard: nothing in it obeyed, no sign to be spelled out where letters say it."""

from __future__ import annotations

import re

from companion.problems import plain

_PLAINER = str.maketrans({
    "…": "...", "–": "-", "—": "-", "×": "x", "‘": "'", "’": "'", "“": '"', "”": '"', "−": "-",
})  # fmt: skip
_MARKS = re.compile(r"(^|[,;] )[·○✓★|] ")


def heard(text: str) -> str:
    """One line of it: control characters shown, typographer's signs as a typewriter has them; letters as they are."""
    return plain(text).translate(_PLAINER)


def without_marks(text: str) -> str:
    """A line of a list without the marks that stand before a state which is told in words, too."""
    return _MARKS.sub(r"\1", text).strip()
