"""Text as HTML: whatever comes from a plan is data, and makes neither an element nor an attribute."""

from __future__ import annotations

import html
import re
import unicodedata
from collections.abc import Callable, Iterable

from companion.problems import plain

Telling = Callable[[str], str]
"""Makes a sentence HTML."""


def text(words: str) -> str:
    """What stands between two tags, or in quotes."""
    return html.escape(plain(words))


def name(words: str) -> str:
    """A name by itself, which may be written from right to left."""
    return f"<bdi>{text(words)}</bdi>"


def telling(names: Iterable[str]) -> Telling:
    """What makes sentences HTML in which these names stand: those written from right to left keep to themselves, so
    that the rest of a sentence stays in its order (Unicode standard annex 9)."""
    backward = sorted({one for one in map(plain, names) if _runs_backward(one)}, key=len, reverse=True)
    if not backward:
        return text
    known = re.compile("(" + "|".join(map(re.escape, backward)) + ")")

    def told(sentence: str) -> str:
        parts = known.split(plain(sentence))
        return "".join(name(part) if at % 2 else text(part) for at, part in enumerate(parts))

    return told


def _runs_backward(words: str) -> bool:
    return any(unicodedata.bidirectional(letter) in ("R", "AL") for letter in words)


def number(value: float) -> str:
    """A length in a drawing, to a hundredth."""
    return f"{value:.2f}".rstrip("0").rstrip(".") or "0"


def boxed(lines: Iterable[str], done: int = 0) -> str:
    """A list to be ticked off, of lines in HTML; the first ``done`` of them are."""
    items = (f'<li class="{"done" if at < done else "to-do"}">{line}</li>' for at, line in enumerate(lines))
    return f'<ol class="boxes">{"".join(items)}</ol>'


def paragraphs(lines: Iterable[str]) -> str:
    """Lines in HTML, a paragraph each."""
    return "".join(f"<p>{line}</p>" for line in lines)
