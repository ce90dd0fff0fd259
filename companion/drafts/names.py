"""What yarns of a drafted plan are called, and their symbols: the names of web colours, each once."""

from __future__ import annotations

from collections.abc import Collection, Sequence
from string import ascii_lowercase, ascii_uppercase

from companion.knitting.cloth.colour import apart, oklab
from companion.plan.colours import NAMED

_NOT_LIKE_OTHERS = [letter for letter in ascii_lowercase + ascii_uppercase if letter not in "lIoO"]


def colour_names(colours: Sequence[str]) -> list[str]:
    """For every "#rrggbb" the name of the web colour that looks most like it; where several look most like the same
    one, the nearest has it and the others what is left. What is nearly grey is called after a grey if one is left."""
    known = sorted(NAMED)
    pairs = (
        (_is_grey(colour) and not _is_grey(NAMED[name]), apart(colour, NAMED[name]), index, name)
        for index, colour in enumerate(colours) for name in known
    )
    names: dict[int, str] = {}
    taken: set[str] = set()
    for *_, index, name in sorted(pairs):
        if index not in names and NAMED[name] not in taken:
            names[index] = name
            taken.add(NAMED[name])
    return [names[index] for index in range(len(colours))]


def _is_grey(colour: str) -> bool:
    """It has hardly any hue: so little chroma (OKLab) that one calls it a grey or a white."""
    _, a, b = oklab(colour)
    return float(a ** 2 + b ** 2) < _LEAST_CHROMA ** 2


_LEAST_CHROMA = 0.02


def symbols_of(names: Sequence[str], taken: Collection[str] = ()) -> list[str]:
    """For every name one letter: of those in it the first that is free, none that is easily taken for another.
    Names and letters taken are 48 at most."""
    found: list[str] = []
    for name in names:
        free = [letter for letter in (*name.lower(), *_NOT_LIKE_OTHERS) if letter in _NOT_LIKE_OTHERS]
        found.append(next(letter for letter in free if letter not in found and letter not in taken))
    return found
