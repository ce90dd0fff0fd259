"""Whose words: US or UK terms, plain or mirrored; and the small words that every sentence is made of."""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction
from typing import Literal

from companion.knitting.value import Record


class _Either:
    """A term in the words of the US and of the UK."""

    def __init__(self, us: str, uk: str) -> None:
        self._us, self._uk = us, uk

    def __get__(self, terms: Terms, _: object = None) -> str:
        return self._us if terms.dialect == "us" else self._uk


class _Asked(Record):
    dialect: Literal["us", "uk"] = "us"
    is_mirrored: bool = False
    is_inches: bool = False
    worn: Literal["", "front", "back"] = ""
    is_aloud: bool = False


class Terms(_Asked):
    """Whose words: the trade's US or UK terms, whether the knitter works mirrored (left-handed), and whether lengths
    are told in inches and yards. ``worn``: where a garment's piece is worn, "" = it is none. ``is_aloud``: what is
    told is heard, so that nothing in it may be an abbreviation."""

    @property
    def going(self) -> str:
        """The hand's side toward which the work goes."""
        return "right" if self.is_mirrored else "left"

    @property
    def coming(self) -> str:
        """The hand's side from which the work comes."""
        return "left" if self.is_mirrored else "right"

    bind_off = _Either("bind off", "cast off")
    bound_off = _Either("bound off", "cast off")
    gauge = _Either("gauge", "tension")
    stockinette = _Either("stockinette", "stocking stitch")
    seed = _Either("seed stitch", "moss stitch")  # knit and purl in turn, changed over in every row
    even = _Either("even", "straight")
    other = _Either("other", "alternate")
    weave_in = _Either("weave in", "sew in")
    woven_in = _Either("woven in", "sewn in")
    duplicate_stitch = _Either("duplicate stitch", "Swiss darning")


US = Terms()


def count(stitches: int) -> str:
    """So many stitches, in the trade's short form: "1 st", "2 sts"."""
    return "1 st" if stitches == 1 else f"{stitches} sts"


def stitches_in_full(stitches: int) -> str:
    """So many stitches: "1 stitch", "2 stitches"."""
    return "1 stitch" if stitches == 1 else f"{stitches} stitches"


def how_many(number: int, noun: str) -> str:
    """So many of a thing whose plural takes an s: "1 strand", "9 strands"."""
    return f"{number} {noun}" if number == 1 else f"{number} {noun}s"


def ordinal(number: int) -> str:
    """First, second ... in words up to ten, then 11th, 22nd."""
    words = ["first", "second", "third", "fourth", "fifth", "sixth", "seventh", "eighth", "ninth", "tenth"]
    if number <= len(words):
        return words[number - 1]
    ending = "th" if 10 <= number % 100 <= 20 else {1: "st", 2: "nd", 3: "rd"}.get(number % 10, "th")
    return f"{number}{ending}"


def listed(names: Sequence[str]) -> str:
    """Names in a row: "a", "a and b", "a, b and c"."""
    return " and ".join([", ".join(names[:-1]), names[-1]] if len(names) > 1 else list(names))


def sentence(text: str) -> str:
    """The text with its first letter large."""
    first = 1 + text.startswith("(")
    return text[:first].upper() + text[first:]


def measured(length: Fraction | float, terms: Terms) -> str:
    """A length on the fabric, in centimetres: "2.5 cm", "4 cm", to half a centimetre; "1.5 in" to half an inch."""
    halves = round(float(length) * 2 / (2.54 if terms.is_inches else 1))
    told = f"{halves // 2}{'.5' if halves % 2 else ''} {'in' if terms.is_inches else 'cm'}"
    if not terms.is_aloud:
        return told
    from companion.knitting.words.for_the_ear import length_aloud  # as in ``tell``

    return length_aloud(told)

