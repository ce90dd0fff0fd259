"""Colours for the yarns of a text: those that it lists, those at hand, those that their names say, and for the others
colours that look different from all of these."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence

from companion.drafts.rows.heading import colour_in
from companion.knitting.cloth.colour import apart
from companion.plan.colours import NAMED

_OTHERS = ("linen", "steelblue", "indianred", "seagreen", "goldenrod", "mediumpurple", "saddlebrown", "darkslategray",
           "lightpink", "skyblue", "darkkhaki", "maroon", "navy", "orange", "darkolivegreen", "silver")  # fmt: skip
_LEAST = 0.12
"""Colours so far apart in OKLab are told from one another at a glance (tried on those above)."""


def colours_of(
    names: Sequence[str], listed: Mapping[str, str], at_hand: Mapping[str, str]
) -> tuple[dict[str, str], list[str]]:
    """The colour of every yarn, and the names of those for which one was chosen. ``listed``: what the text says;
    ``at_hand``: what a file of yarns says, which goes before it."""
    hand = {name.casefold(): colour for name, colour in at_hand.items()}
    found = {name: hand.get(name.casefold()) or listed.get(name) or colour_in(name) for name in names}
    chosen = [name for name in names if not found[name]]
    free = _free([colour for colour in found.values() if colour])
    return {name: colour or next(free) for name, colour in found.items()}, chosen


def _free(taken: list[str]) -> Iterator[str]:
    """Colours that look different from those taken and from one another, as far as there are some."""
    for least in (_LEAST, _LEAST / 2, 0.01, 0.0):
        for name in (*_OTHERS, *sorted(NAMED)):
            if all(apart(NAMED[name], one) > least for one in taken):
                taken.append(NAMED[name])
                yield NAMED[name]
