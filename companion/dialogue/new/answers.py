"""What typed answers mean: text in, an exact value out, or ``AmissError``, whose sentence goes on from "It"."""

from __future__ import annotations

import os
import re
from collections.abc import Callable, Collection
from fractions import Fraction
from pathlib import Path

from companion.knitting.cloth.fabric import Ball, Gauge
from companion.plan import amount
from companion.plan.amount import AmissError
from companion.plan.colours import NAMED, hex_of
from companion.problems import nearest, quoted

MOST_ACROSS = 4_000
"""Stitches in a row of a plan, and so many rows are drawn here at most."""

_HELD = re.compile(r"(\d+(?:\.\d+)?)\s*(m|metres?|meters?|yd|yards?|g|grams?|oz|ounces?)\b", re.ASCII)
_ROUND_IT = " \"'"
_COUNTED = re.compile(r"(\d{1,9})\s*(?:sts?|stitch|stitches|rows?|rounds?)?", re.ASCII)


def stripped(meant: Callable[[str], object]) -> Callable[[str], object]:
    """The same, whatever spaces stand round what was typed."""
    return lambda typed: meant(typed.strip())


def length(typed: str, *, is_inches: bool) -> Fraction:
    """A length in centimetres; a number alone is in the knitter's own units."""
    if re.fullmatch(r"[\d.]+", typed):
        typed += " in" if is_inches else " cm"
    return amount.length_cm(typed)


def length_told(cm: Fraction, *, is_inches: bool) -> str:
    """It as it is typed, in the knitter's own units."""
    return f"{float(cm / Fraction(254, 100) if is_inches else cm):.6g} {'in' if is_inches else 'cm'}"


def gauge(typed: str) -> Gauge:
    """Stitches x rows over a length."""
    if (found := amount.gauge(typed.replace(" over ", "/"))) is None:
        raise AmissError(f"must be stitches x rows over a length, such as 20x28/10cm, {amount.is_(typed)}.")
    return found


def extent(each_cm: Fraction, least: int, most: int) -> Callable[[str], int]:
    """So many stitches, or rows, told by their number or by a length; ``each_cm``: how long one is."""

    def meant(typed: str) -> int:
        counted = _COUNTED.fullmatch(typed)
        number = int(counted[1]) if counted else round(amount.length_cm(typed) / each_cm)
        if not least <= number <= most:
            raise AmissError(f"must be {least:,} to {most:,}, and comes to {number:,}.")
        return number

    return meant


def new_name(taken: Collection[str]) -> Callable[[str], str]:
    """A yarn's name that no other has."""

    def meant(typed: str) -> str:
        if (found := amount.name(typed)) in taken:
            raise AmissError(f"must be a name of its own: {quoted(found)} is another yarn already.")
        return found

    return meant


def colour_of(typed: str) -> str | None:
    """A colour by its English name, or in hexadecimal digits, also without the sign or in quotes; else None."""
    bare = typed.strip(_ROUND_IT)
    return hex_of(bare) or hex_of(f"#{bare}")


def colour(typed: str) -> str:
    """A colour that is typed."""
    if found := colour_of(typed):
        return found
    bare = typed.strip(_ROUND_IT)
    near = nearest(bare, NAMED)
    mend = f"Did you mean {quoted(near)}?" if near else ""
    raise AmissError(f"must be the English name of a colour, such as seagreen, or #rrggbb, {amount.is_(bare)}.", mend)


def ball(typed: str) -> Ball:
    """What one ball holds: "100 m 50 g", "110 yd, 1.75 oz", one of the two, or nothing."""
    from companion.plan.schema.plans import GRAMS_IN_AN_OUNCE, METRES_IN_A_YARD

    held: dict[str, Fraction] = {}
    for number, unit in _HELD.findall(typed):
        each = {"y": METRES_IN_A_YARD, "o": GRAMS_IN_AN_OUNCE}.get(unit[0], Fraction(1))
        what = "metres" if unit[0] in "my" else "grams"
        if what in held:
            raise AmissError(f"must say {what} once, {amount.is_(typed)}.")
        held[what] = amount.amount(number) * each
    if re.sub(r"[\s,;/]|and\b", "", _HELD.sub("", typed)):
        raise AmissError(f"must be such as 100 m 50 g, or nothing, {amount.is_(typed)}.")
    return Ball(held.get("metres"), held.get("grams"))


def ball_told(held: Ball) -> str:
    """It as it is typed."""
    parts = ((held.metres, "m"), (held.grams, "g"))
    return " ".join(f"{float(number):.6g} {unit}" for number, unit in parts if number is not None)


def rib(typed: str) -> tuple[int, int]:
    """Knit x purl columns."""
    found = re.fullmatch(r"(\d{1,2})\s*[x+ ,]\s*(\d{1,2})", typed, re.ASCII)
    if not found or not int(found[1]) * int(found[2]):
        raise AmissError(f"must be knit x purl stitches, such as 2x2, {amount.is_(typed)}.")
    return int(found[1]), int(found[2])


def path_in(folder: Path, typed: str) -> Path:
    """The file that is named, in this folder where nothing else is said; "~" is the home folder."""
    return folder / os.path.expanduser(typed)


def new_file(folder: Path) -> Callable[[str], Path]:
    """The file of a plan that is not there yet."""

    def meant(typed: str) -> Path:
        if not typed.lower().endswith((".yaml", ".yml")):
            raise AmissError(f"must end in .yaml or .yml, {amount.is_(typed)}.")
        path = path_in(folder, typed)
        if os.path.lexists(path):
            raise AmissError(f"must be a new file: {quoted(typed)} is there already.")
        return path

    return meant


def free_file(folder: Path, title: str) -> str:
    """A name for the file of a plan with this title, which no file has yet."""
    stem = re.sub(r"\W+", "-", title.casefold()).strip("-")[:50] or "new-piece"
    names = (f"{stem}{number}.yaml" for number in ("", *(f"-{again}" for again in range(2, 1_000))))
    return next((name for name in names if not os.path.lexists(folder / name)), f"{stem}.yaml")
