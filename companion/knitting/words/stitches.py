"""Knits, purls and slips in words, and the trade's abbreviations spelled out for the ear."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from companion.knitting.cloth.rows import Hand
from companion.knitting.words.terms import listed

Hands = Sequence[tuple[Hand, int]]

VERBS: dict[Hand, str] = {"k": "knit", "p": "purl", "sl": "slip"}

SPELLED_OUT = {
    "ssk": "slip, slip, knit them together", "ssp": "slip, slip, purl them together",
    "k2tog": "knit two together", "p2tog": "purl two together",
    "sssk": "slip three, knit them together", "sssp": "slip three, purl them together",
    "k3tog": "knit three together", "p3tog": "purl three together",
    "m1R": "make one right", "m1L": "make one left",
    "m1R purlwise": "make one right, purlwise", "m1L purlwise": "make one left, purlwise",
}  # fmt: skip
"""How stitches are made or lost, where the trade has an abbreviation for it."""


def verb_of(hands: Hands) -> str:
    """Knit or purl where stitches are all one of them, else ""."""
    return VERBS[hands[0][0]] if len(hands) == 1 else ""


def in_full(hands: Hands) -> str:
    """Knits and purls in words: "knit 8", "(knit 2, purl 2) 3 times, knit 2"."""
    return _repeats([f"{VERBS[hand]} {n}" for hand, n in hands])


def in_short(hands: Hands) -> str:
    """Knits and purls in the trade's abbreviations: "k8", "(k2, p2) 3 times, k2"."""
    return _repeats([f"{hand}{n}" for hand, n in hands])


def aloud(hands: Hands) -> str:
    """Knits and purls as they are read out: "knit 8", "3 times knit 2 and purl 2, then knit 2"."""
    parts = [
        (f"{times} times " if times > 1 else "") + listed(group)
        for group, times in _groups([f"{VERBS[hand]} {n}" for hand, n in hands])
    ]
    return ", then ".join(parts)


def _repeats(items: Sequence[str]) -> str:
    """The pieces in a list, a pair that repeats told once with its number of times."""
    return ", ".join(
        f"({', '.join(group)}) {times} times" if times > 1 else group[0] for group, times in _groups(items)
    )


def _groups(items: Sequence[str]) -> Iterator[tuple[Sequence[str], int]]:
    """Single pieces, and pairs that repeat with their number of times."""
    at = 0
    while at < len(items):
        pair = items[at:at + 2]
        times = 1
        while len(pair) == 2 and items[at + 2 * times:at + 2 * times + 2] == pair:
            times += 1
        yield (pair, times) if times > 1 else (pair[:1], 1)
        at += 2 * times if times > 1 else 1
