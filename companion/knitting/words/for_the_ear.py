"""Sentences for the ear: what is abbreviated after a number is spelled out, and which side of a row is meant.

Steps have words of their own for that (``tell``); this is for lengths, and for all that is said beside them. It takes
time to load, and only who listens needs it.
"""

from __future__ import annotations

import re

_NOUNS = {
    "st": "stitch", "sts": "stitch", "cm": "centimetre", "mm": "millimetre", "m": "metre", "yd": "yard", "g": "gram",
    "min": "minute", "h": "hour", "in": "inch",
}  # fmt: skip
_COUNTED = re.compile(r"\b([0-9]+(?:\.[0-9]+)?) (sts?|cm|mm|m|yd|g|min|h)\b")
_LONG = re.compile(r"\b([0-9]+(?:\.[0-9]+)?) (in|cm|mm|m|yd)\b")
_HOURS = re.compile(r"\b([0-9]+ h [0-9]+)\b")
_SIDES = re.compile(r"\b((?:row|round|left|right) [0-9]+),? ([RW])S\b|\(([RW])S\)", re.IGNORECASE)


def spelled_out(text: str) -> str:
    """A sentence with what is abbreviated after a number, and the sides of rows, in words: "24 stitches", "row 7,
    wrong side". Not inches: "purl 12 in tide" has none."""
    text = _HOURS.sub(r"\1 min", text)
    return _SIDES.sub(_side_aloud, _COUNTED.sub(_counted_aloud, text))


def spelled_out_but_quoted(text: str) -> str:
    """The same, but for what stands in quotation marks: names, and what somebody wrote."""
    return '"'.join(part if at % 2 else spelled_out(part) for at, part in enumerate(text.split('"')))


def length_aloud(text: str) -> str:
    """A length, and how it is kept, with its units in words: "6.5 metres, bobbin", "60 inches, loose"."""
    return _LONG.sub(_counted_aloud, text)


def _counted_aloud(found: re.Match[str]) -> str:
    noun = _NOUNS[found[2]]
    return f"{found[1]} {noun}" if found[1] == "1" else f"{found[1]} {noun}{'es' if noun.endswith('ch') else 's'}"


def _side_aloud(found: re.Match[str]) -> str:
    side = "right side" if (found[2] or found[3]).upper() == "R" else "wrong side"
    return f"{found[1]}, {side}" if found[1] else f"({side})"
