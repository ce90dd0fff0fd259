"""Text made fit to be heard: nothing in it obeyed, no sign to be spelled out where letters say it."""

from __future__ import annotations

import re

from companion.knitting.words.for_the_ear import spelled_out_but_quoted
from companion.problems import plain

_PLAINER = str.maketrans({
    "…": "...", "–": "-", "—": "-", "×": "x", "‘": "'", "’": "'", "“": '"', "”": '"', "−": "-",
})  # fmt: skip
_MARKS = re.compile(r"(^|[,;] )[·○✓★|] ")


class AsItStands(str):
    """Text of a file: nothing in it is spelled out or written otherwise, and nothing obeyed."""


def heard(text: str) -> str:
    """One line of it: control characters shown, typographer's signs as a typewriter has them, what is abbreviated
    after a number spelled out; letters as they are, and all that stands in quotation marks."""
    if isinstance(text, AsItStands):
        return plain(text)
    return spelled_out_but_quoted(plain(text).translate(_PLAINER))


def without_marks(text: str) -> str:
    """A line of a list without the marks that stand before a state which is told in words, too."""
    return _MARKS.sub(r"\1", text).strip()
