"""Words of a plan to values: counts, amounts, lengths, colours, names. Text in, exact value or ``AmissError`` out.

A value that leaves this file is within its bounds: counts never pass the largest piece, amounts are finite,
exact and above 0, names are short and visible."""

from __future__ import annotations

import re
import unicodedata
from fractions import Fraction
from pathlib import PureWindowsPath

from rich.cells import cell_len

from companion.plan.colours import NAMED, hex_of
from companion.problems import nearest, quoted

MOST_RUNS = 500_000
"""More runs than that no picture has; to plan their strands takes about a kilobyte of memory each."""

MOST_STITCHES = 4_000_000
"""The largest piece, in stitches."""

LONGEST_TITLE = 200
LONGEST_NAME = 40

_WHOLE = re.compile(r"\d+", re.ASCII)
_DECIMAL = re.compile(r"\d{1,12}(?:\.\d{1,12})?", re.ASCII)
_LENGTH = re.compile(r"(\S+?)\s*(cm|mm|in)", re.ASCII)
_YARN_LENGTH = re.compile(r"(\S+?)\s*(cm|mm|m|in|yd)", re.ASCII)
_CM = {
    "cm": Fraction(1), "mm": Fraction(1, 10), "m": Fraction(100), "in": Fraction(254, 100), "yd": Fraction(9144, 100),
}  # fmt: skip
_SWITCH = {"true": True, "yes": True, "on": True, "false": False, "no": False, "off": False}


class AmissError(ValueError):
    """A value that is not what its key needs. ``what`` goes on from the key's name: "must be ..."."""

    def __init__(self, what: str, mend: str = "") -> None:
        super().__init__(what)
        self.what = what
        self.mend = mend


def is_(value: str) -> str:
    """How a message ends that has said what must be: what stands there instead."""
    return f"and is {quoted(value)}" if value.strip() else "and is empty"


def count(value: str, least: int = 1) -> int:
    """A whole number from ``least`` up, no larger than the largest piece."""
    digits = value.lstrip("0")[:9] or "0"  # nine digits are beyond every limit
    if not _WHOLE.fullmatch(value) or int(digits) < least:
        raise AmissError(f"must be a whole number from {least} up, {is_(value)}.")
    if int(digits) > MOST_STITCHES:
        raise AmissError(f"must be {MOST_STITCHES:,} at most, {is_(value)}.")
    return int(digits)


def amount(value: str) -> Fraction:
    """A finite number above 0, exact. Twelve digits before and after the point at most."""
    if not _DECIMAL.fullmatch(value) or not Fraction(value):
        mend = "Write decimals with a point." if "," in value else ""
        raise AmissError(f'must be a number above 0, such as 22 or 22.5, {is_(value)}.', mend)
    return Fraction(value)


def yarn_cm(value: str) -> Fraction:
    """A length of yarn with its unit, in centimetres, exact: metres and yards (36 in) too."""
    return length_cm(value, _YARN_LENGTH, "38 cm, 5 m, 15 in or 6 yd")


def length_cm(value: str, form: re.Pattern[str] = _LENGTH, such_as: str = "10 cm, 100 mm or 4 in") -> Fraction:
    """A length with its unit, in centimetres, exact: 4 in = 10.16 cm (the inch is 2.54 cm)."""
    found = form.fullmatch(value)
    if not found or not _DECIMAL.fullmatch(found[1]) or not Fraction(found[1]):
        raise AmissError(f"must be a length such as {such_as}, {is_(value)}.")
    return Fraction(found[1]) * _CM[found[2]]


def switch(value: str) -> bool:
    """Yes or no, in any of the usual words."""
    if value.lower() not in _SWITCH:
        raise AmissError(f"must be yes or no, {is_(value)}.")
    return _SWITCH[value.lower()]


def colour(value: str) -> str:
    """A CSS colour as "#rrggbb"."""
    found = hex_of(value)
    if found:
        return found
    if not value.strip():
        raise AmissError("is empty.", 'YAML takes # for a comment: write the colour in quotes, "#a8432f".')
    near = nearest(value, NAMED)
    mend = f'Did you mean "{near}"?' if near else ""
    raise AmissError(f'must be a CSS colour name or of the form "#a8432f", {is_(value)}.', mend)


def title(value: str) -> str:
    """The piece's title: one line of visible text."""
    return _visible(value, LONGEST_TITLE)


def name(value: str) -> str:
    """A yarn's name: short visible text."""
    return _visible(value, LONGEST_NAME)


def _visible(value: str, longest: int) -> str:
    if not value.strip():
        raise AmissError("is empty.")
    if len(value) > longest:
        raise AmissError(f"must be {longest} characters long at most, and has {len(value):,}.")
    hidden = any(unicodedata.category(character) in ("Cc", "Cf", "Cs", "Co", "Cn", "Zl", "Zp") for character in value)
    if hidden or value != value.strip() or not cell_len(value):
        raise AmissError(f"must be one line of visible text, {is_(value)}.")
    return value


def file_name(value: str) -> str:
    """The name of a file in the plan's folder or below it, with "/" between folders on every system."""
    if not value.strip():
        raise AmissError("is empty.")
    windows = PureWindowsPath(value)
    is_outside = value.startswith("/") or windows.drive or windows.root or ".." in windows.parts
    if is_outside or "\\" in value:
        what = f"must name a file in the plan's folder, {is_(value)}."
        raise AmissError(what, "Put the chart beside the plan and write its name alone, such as light.txt")
    return value


def symbol(value: str) -> str:
    """A chart symbol: one visible character of its own, one or two cells wide, not "."."""
    if value == ".":
        raise AmissError('stands for "no stitch" in every chart.', "Choose another symbol.")
    if len(value) != 1 or unicodedata.category(value)[0] in "CMZ" or cell_len(value) not in (1, 2):
        mend = "In a chart every character is a stitch." if value else "Quote a symbol that YAML would take away."
        raise AmissError("must be one visible character.", mend)
    return value
