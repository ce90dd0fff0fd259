"""Names of pieces, and file names made of them that every system takes: short, plain, never a reserved word."""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Collection, Iterator
from itertools import count

from companion.problems import plain, shorten

LONGEST = 100
"""A piece's name is kept to so many terminal cells."""

_LONGEST_STEM = 48
_RESERVED = re.compile(r"con|prn|aux|nul|(com|lpt)\d")


def tidy(name: str) -> str:
    """The name on one line, control characters shown, not too long; "" when nothing is left."""
    return shorten(" ".join(plain(name[: 8 * LONGEST]).split()), LONGEST)


def free_name(wanted: str, taken: Collection[str]) -> str:
    """The name, or the name and the first number from 2 on that is free. Capitals make no difference."""
    folded = {name.casefold() for name in taken}
    return next(name for name in _numbered(wanted, " ") if name.casefold() not in folded)


def file_stem(name: str) -> str:
    """The name as a file's name without its ending: a-z, 0-9 and "-" only."""
    ascii_only = unicodedata.normalize("NFKD", name).encode("ascii", "ignore").decode().lower()
    stem = re.sub(r"[^a-z0-9]+", "-", ascii_only)[:_LONGEST_STEM].strip("-")
    # Windows keeps these for devices, whatever the ending.
    return f"piece-{stem}" if _RESERVED.fullmatch(stem) else stem or "piece"


def free_page_name(name: str, taken: Collection[str]) -> str:
    """A person's name as a file's name without its ending: letters and digits of every script and "-" only, numbered
    from 2 where one is taken. Capitals make no difference."""
    signs = [sign if unicodedata.category(sign)[0] in "LMN" else "-" for sign in unicodedata.normalize("NFKC", name)]
    stem = re.sub("-+", "-", "".join(signs))[:_LONGEST_STEM].strip("-")
    folded = {one.casefold() for one in taken}
    wanted = f"student-{stem}" if _RESERVED.fullmatch(stem.lower()) else stem or "student"
    return next(free for free in _numbered(wanted, "-") if free.casefold() not in folded)


def free_stem(name: str, taken: Collection[str]) -> str:
    """``file_stem``, numbered from 2 where a file has it. Capitals make no difference."""
    folded = {stem.casefold() for stem in taken}
    return next(stem for stem in _numbered(file_stem(name), "-") if stem not in folded)


def _numbered(name: str, joint: str) -> Iterator[str]:
    yield name
    for number in count(2):
        yield f"{name}{joint}{number}"
