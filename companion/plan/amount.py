"""Words of a plan to values: counts, amounts, lengths, colours, names. Text in, exact value or ``AmissError`` out.

A value that leaves this file is within its bounds: counts never pass the largest piece, amounts are finite,
exact and above 0, names are short and visible."""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Callable
from fractions import Fraction
from pathlib import PureWindowsPath
from typing import Literal

from companion.knitting.cloth.fabric import Gauge
from companion.plan.colours import NAMED, hex_of
from companion.problems import cells_of, nearest, quoted

MOST_RUNS = 500_000
"""More runs than that no picture has; to plan their strands takes about a kilobyte of memory each."""

MOST_STITCHES = 4_000_000
"""The largest piece, in stitches."""

LONGEST_TITLE = 200
LONGEST_NAME = 40
LONGEST_SAID = 400

_WHOLE = re.compile(r"\d+", re.ASCII)
_DECIMAL = re.compile(r"\d{1,12}(?:\.\d{1,12})?", re.ASCII)
_LENGTH = re.compile(r"(\S+?)\s*(cm|mm|in)", re.ASCII)
_YARN_LENGTH = re.compile(r"(\S+?)\s*(cm|mm|m|in|yd)", re.ASCII)
_CM = {
    "cm": Fraction(1), "mm": Fraction(1, 10), "m": Fraction(100), "in": Fraction(254, 100), "yd": Fraction(9144, 100),
}  # fmt: skip
_UNITS = {
    "cm": ("cms", "centimetre", "centimetres", "centimeter", "centimeters"),
    "mm": ("mms", "millimetre", "millimetres", "millimeter", "millimeters"),
    "m": ("metre", "metres", "meter", "meters"),
    "in": ("inch", "inches", "ins", '"', "\u2033", "\u201d"),
    "yd": ("yds", "yard", "yards"),
}
"""Each unit, and how else it may be typed."""
_CURLY = ("\u201c", "\u201d", "\u201e", "\u2018", "\u2019", "\u201a", "\u00ab", "\u00bb")
SWITCH = {"true": True, "yes": True, "on": True, "false": False, "no": False, "off": False}


class AmissError(ValueError):
    """A value that is not what its key needs. ``what`` goes on from the key's name: "must be ..."."""

    def __init__(self, what: str, mend: str = "") -> None:
        super().__init__(what)
        self.what = what
        self.mend = mend


def is_(value: str) -> str:
    """How a message ends that has said what must be: what stands there instead."""
    return f"and is {quoted(value)}" if value.strip() else "and is empty"


def slip_in(value: str) -> str:
    """How to mend a value that is amiss for what was typed by a slip; "" where nothing of the kind is seen."""
    if value[:1] in _CURLY or value[-1:] in _CURLY:
        return f'Type straight quotes in place of the curly ones: "{value.strip("".join(_CURLY))}"'
    if any(unicodedata.category(sign) == "Zs" and sign != " " for sign in value):
        return "A space in it is a no-break space, which only looks like one: type a plain space."
    if re.fullmatch(r"\d+,\d+( ?[a-z]+)?", value, re.ASCII):
        return f"Write decimals with a point: {value.replace(',', '.')}"
    if re.fullmatch(r"[0-9.]+ ?\([0-9., ]*\)( ?[a-z]+)?", value):
        return (
            "A number for each size needs a line that names them, sizes: [S, M, L]; "
            "a gauge and a yarn have one for all."
        )
    return ""


def count(value: str, least: int = 1) -> int:
    """A whole number from ``least`` up, no larger than the largest piece."""
    digits = value.lstrip("0")[:9] or "0"  # nine digits are beyond every limit
    if not _WHOLE.fullmatch(value) or int(digits) < least:
        raise AmissError(f"must be a whole number from {least} up, {is_(value)}.", _alone(value))
    if int(digits) > MOST_STITCHES:
        raise AmissError(f"must be {MOST_STITCHES:,} at most, {is_(value)}.")
    return int(digits)


def whole(least: int, most: int | None = None) -> Callable[[str], int]:
    """Takes a whole number from ``least`` to ``most``, typed alone; of another it says which are taken."""
    upto = "on" if most is None else f"to {most:,}"

    def number(typed: str) -> int:
        if not re.fullmatch(r"-?[0-9]{1,9}", typed) or not least <= int(typed) <= (most or int(typed)):
            raise AmissError(f"takes a whole number from {least} {upto}, not {quoted(typed)}.")
        return int(typed)

    return number


def gauge(value: str) -> Gauge | None:
    """Stitches x rows over a length, such as 20x28/10cm, over 10 cm where none is said; None where it is not written
    so."""
    match = re.fullmatch(r"([\d.]+)\s*x\s*([\d.]+)(?:\s*/\s*(.+))?", value)
    return Gauge(amount(match[1]), amount(match[2]), length_cm(match[3] or "10 cm")) if match else None


def from_right(value: str) -> int | Literal["middle"]:
    """How far something lies from the right edge of its ground: a whole number from 0 up, or "middle"."""
    if value.lower() == "middle":
        return "middle"
    if not _WHOLE.fullmatch(value):
        raise AmissError(f'must be a whole number from 0 up, or "middle", {is_(value)}.', _alone(value))
    return count(value, least=0)


def amount(value: str) -> Fraction:
    """A finite number above 0, exact. Twelve digits before and after the point at most."""
    if not _DECIMAL.fullmatch(value) or not Fraction(value):
        raise AmissError(f"must be a number above 0, such as 22 or 22.5, {is_(value)}.", _alone(value))
    return Fraction(value)


def _alone(value: str) -> str:
    """How a number is written behind which its unit, or what is counted, was typed; "" where none was."""
    if re.fullmatch(r"\d+( +\d+)+", value, re.ASCII):
        return f"Write a comma between them: {', '.join(value.split())}"
    found = re.fullmatch(r"(\d+(?:\.\d+)?)\s*[A-Za-z]+\.?", value, re.ASCII)
    return f"Write the number alone: {found[1]}" if found else ""


def yarn_cm(value: str) -> Fraction:
    """A length of yarn with its unit, in centimetres, exact: metres and yards (36 in) too."""
    return length_cm(value, _YARN_LENGTH, "38 cm, 5 m, 15 in or 6 yd")


def length_cm(value: str, form: re.Pattern[str] = _LENGTH, such_as: str = "10 cm, 100 mm or 4 in") -> Fraction:
    """A length with its unit, in centimetres, exact: 4 in = 10.16 cm (the inch is 2.54 cm)."""
    found = form.fullmatch(value)
    if not found or not _DECIMAL.fullmatch(found[1]) or not Fraction(found[1]):
        raise AmissError(f"must be a length such as {such_as}, {is_(value)}.", _in_our_units(value, form))
    return Fraction(found[1]) * _CM[found[2]]


def _in_our_units(value: str, form: re.Pattern[str]) -> str:
    """How a length is written whose unit was typed in another way; "" where that is not what is amiss."""
    found = re.fullmatch(r"([\d.]+)\s*(\D+?)\.?", value, re.ASCII)
    typed = found[2].lower() if found else ""
    ours = next((unit for unit, others in _UNITS.items() if typed in (unit, *others)), "")
    written = f"{found[1]} {ours}" if found and ours else ""
    return f"Write {written}" if written != value and form.fullmatch(written) else ""


def switch(value: str) -> bool:
    """Yes or no, in any of the usual words."""
    if value.lower() not in SWITCH:
        raise AmissError(f"must be yes or no, {is_(value)}.")
    return SWITCH[value.lower()]


def colour(value: str) -> str:
    """A CSS colour as "#rrggbb"."""
    found = hex_of(value)
    if found:
        return found
    if not value.strip():
        raise AmissError("is empty.", 'YAML takes # for a comment: write the colour in quotes, "#a8432f".')
    near = nearest(value, NAMED)
    mend = f'Did you mean "{near}"?' if near else ""
    if re.fullmatch(r"(?:[0-9a-fA-F]{3}){1,2}", value):
        mend = f'Write "#{value}", with the quotes.'
    raise AmissError(f'must be a CSS colour name or of the form "#a8432f", {is_(value)}.', mend)


def title(value: str) -> str:
    """The piece's title: one line of visible text."""
    return _visible(value, LONGEST_TITLE)


def name(value: str) -> str:
    """A yarn's name: short visible text."""
    return _visible(value, LONGEST_NAME)


def yarn_meant(value: str) -> str:
    """The name by which a yarn is meant. How long it may be is told where the yarn is named, once."""
    return _visible(value, len(value))


def said(value: str) -> str:
    """What a section says: some sentences of visible text. Line breaks and indents are as good as spaces."""
    return _visible(" ".join(value.split()), LONGEST_SAID)


def _visible(value: str, longest: int) -> str:
    if not value.strip():
        raise AmissError("is empty.")
    if len(value) > longest:
        raise AmissError(f"must be {longest} characters long at most, and has {len(value):,}.")
    hidden = any(unicodedata.category(character) in ("Cc", "Cf", "Cs", "Co", "Cn", "Zl", "Zp") for character in value)
    if hidden or value != value.strip() or not cells_of(value):
        raise AmissError(f"must be one line of visible text, {is_(value)}.")
    return value


def file_name(value: str) -> str:
    """The name of a file in the plan's folder or below it, with "/" between folders on every system."""
    what = f"must name a file in the plan's folder, {is_(value)}."
    return _beside(value, what, "Put the chart beside the plan and write its name alone, such as light.txt")


def plan_name(value: str) -> str:
    """The name of a demo plan, or that of a plan file in the folder of the class or below it."""
    what = f"must name a plan in the folder of this file, or a demo plan, {is_(value)}."
    return _beside(value, what, "Put the plan beside this file and write its name alone, such as my-mat.yaml")


def _beside(value: str, what: str, mend: str) -> str:
    if not value.strip():
        raise AmissError("is empty.")
    windows = PureWindowsPath(value)
    is_outside = value.startswith("/") or windows.drive or windows.root or ".." in windows.parts
    if is_outside or "\\" in value:
        raise AmissError(what, mend)
    return value


def symbol(value: str) -> str:
    """A chart symbol: one visible character of its own, one or two cells wide, not "."."""
    if value == ".":
        raise AmissError('stands for "no stitch" in every chart.', "Choose another symbol.")
    if len(value) != 1 or unicodedata.category(value)[0] in "CMZ" or cells_of(value) not in (1, 2):
        mend = "In a chart every character is a stitch." if value else "Quote a symbol that YAML would take away."
        raise AmissError("must be one visible character.", mend)
    return value
