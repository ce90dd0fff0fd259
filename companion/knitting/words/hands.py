"""The knits and purls of a run, in full and in the trade's abbreviations, with the catches made on the way."""

from __future__ import annotations

from collections.abc import Callable, Sequence

from companion.knitting.cloth.rows import Hand
from companion.knitting.hands.steps import Work
from companion.knitting.strands.floats import Mark
from companion.knitting.words.terms import US, Terms, count, how_many

VERBS: dict[Hand, str] = {"k": "knit", "p": "purl", "sl": "slip"}


def verb_of(hands: Sequence[tuple[Hand, int]]) -> str:
    """Knit or purl where a run is all one of them, else ""."""
    return VERBS[hands[0][0]] if len(hands) == 1 else ""


def in_full(hands: Sequence[tuple[Hand, int]]) -> str:
    """Knits and purls in words: "knit 8", "(knit 2, purl 2) 3 times, knit 2"."""
    return _repeats([f"{VERBS[hand]} {n}{_purlwise(hand)}" for hand, n in hands])


def in_short(hands: Sequence[tuple[Hand, int]]) -> str:
    """Knits and purls in the trade's abbreviations: "k8", "(k2, p2) 3 times, k2"."""
    return _repeats([f"{hand}{n}{_purlwise(hand)}" for hand, n in hands])


def _purlwise(hand: Hand) -> str:
    return " purlwise" if hand == "sl" else ""


def _repeats(told: Sequence[str]) -> str:
    """The pieces in a list, a pair that repeats told once with its number of times."""
    parts: list[str] = []
    at = 0
    while at < len(told):
        pair = told[at:at + 2]
        times = 1
        while len(pair) == 2 and told[at + 2 * times:at + 2 * times + 2] == pair:
            times += 1
        if times > 1:
            parts.append(f"({', '.join(pair)}) {times} times")
            at += 2 * times
        else:
            parts.append(told[at])
            at += 1
    return ", ".join(parts)


def work_in_full(work: Work, terms: Terms = US) -> str:
    """A run's knits and purls, and what is done on the way: "knit 3, catch sand, knit 4"."""
    return _with_marks(work, in_full, terms)


def work_in_short(work: Work, terms: Terms = US) -> str:
    """The same in the trade's abbreviations: "k3, catch sand, k4"."""
    return _with_marks(work, in_short, terms)


def _with_marks(work: Work, told_as: Callable[[Sequence[tuple[Hand, int]]], str], terms: Terms) -> str:
    told: list[str] = []
    at = 0
    more = ""
    for mark in work.marks:
        if part := _part(work.hands, at, mark.after):
            told.append(told_as(part) + more)
            more = ""
        told.append(_marked(mark, terms))
        at = max(at, mark.after + mark.takes)
        more = " more" if mark.shaping == "bind off" else more
    if part := _part(work.hands, at, work.stitches):
        told.append(told_as(part) + more)
    return ", ".join(told)


def _marked(mark: Mark, terms: Terms) -> str:
    if mark.shaping:
        return _shaped(mark, terms)
    if mark.trapped:
        return f"lay the {mark.yarn} tail in under the next {mark.trapped}"
    if mark.renewed:
        return f"{mark.renewed} {'new ' if mark.renewed == 'join' else ''}{mark.yarn}"
    if mark.is_resting:
        return f"catch the resting {mark.yarn}" if mark.is_caught else f"leave the resting {mark.yarn}"
    return f"catch {mark.yarn}"


def _shaped(mark: Mark, terms: Terms) -> str:
    """How stitches are made or lost, in the trade's abbreviations where there are some."""
    match mark.shaping:
        case "bind off":
            return f"{terms.bind_off} {mark.stitches} (1 on the {terms.coming} needle)"
        case "cast on":
            return f"cast on {mark.stitches} (knitted or cable)"
        case "loops":
            return f"cast on {how_many(mark.stitches, 'loop')}"
        case "loop":
            return "make 1 by a backward loop"
        case "lost":
            return f"{count(mark.stitches)} fewer"
        case how:
            return how


def _part(hands: Sequence[tuple[Hand, int]], start: int, stop: int) -> list[tuple[Hand, int]]:
    """The knits and purls of the stitches ``start + 1`` to ``stop``."""
    part: list[tuple[Hand, int]] = []
    at = 0
    for hand, n in hands:
        taken = min(at + n, stop) - max(at, start)
        if taken > 0:
            part.append((hand, taken))
        at += n
    return part
