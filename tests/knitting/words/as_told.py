"""Steps in full, in each dialect and for both hands."""

from __future__ import annotations

import re

from companion.knitting.hands.steps import Step
from companion.knitting.words import US, Terms, tell

MIRRORED = Terms(is_mirrored=True)
UK = Terms(dialect="uk")


def full(step: Step, terms: Terms = US) -> str:
    return tell(step, "full", terms)


def swapped(text: str) -> str:
    """The text with left and right exchanged; the right side of the fabric stays what it is."""
    return re.sub(r"\b(left|right)\b(?! side)", lambda m: {"left": "right", "right": "left"}[m[1]], text)
