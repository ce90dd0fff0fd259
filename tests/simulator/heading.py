"""What stands above and below the written rows: the yarns, the rules of reading, what is sewn on and sewn up."""

from __future__ import annotations

import re
from collections.abc import Iterator

from tests.simulator.words import Manner, NotUnderstood


def read_heading(left: list[str], manner: Manner) -> tuple[str, ...]:
    left.pop(0)  # the title, in whatever words
    _line(left, "")
    _line(left, rf"{'Tension' if manner.is_uk else 'Gauge'}: [0-9.]+ sts and [0-9.]+ rows over [0-9.]+ (cm|in)")
    size = r"[0-9.]+( around)? x [0-9.]+"
    _line(left, rf"Size: {size} cm \({size} in\), [0-9]+ sts x [0-9]+ ro(ws|unds)")
    _line(left, r"Cast on: .+")
    _line(left, "Yarns:")
    yarns = []
    while left[0]:
        found = re.fullmatch(r"  \S  (.+) \(#[0-9a-f]{6}(, in balls of [^()]+)?\)", left.pop(0))
        if not found:
            raise NotUnderstood("a line of the yarns")
        yarns.append(found[1])
    _line(left, "")
    return tuple(yarns)


def _line(left: list[str], pattern: str) -> None:
    line = left.pop(0) if left else "(the end)"
    if not re.fullmatch(pattern, line):
        raise NotUnderstood(f"expected {pattern!r}, found {line!r}")


RULES = (
    "Right-side rows (RS) are worked with the right side toward you, wrong-side rows (WS) with the wrong side; "
    "every row is told in the order in which the hands work it.",
    "Cross at each change: the old strand before the new. On the fabric's wrong side (at the back on RS rows, in "
    "front on WS rows) lay the old strand to your {going} across the new one, then take the new one up from under "
    "it.",
)
ROUND_RULES = (
    "The right side (RS) is toward you in every round, which is told in the order of the hands.",
    "Cross at each change: the old strand before the new. At the back lay the old strand to your {going} across the "
    "new one, then take the new one up from under it.",
)
"""Where every row is a round."""
FETCHING = (
    'A strand that "hangs 3 sts ahead" lies over the next 3 on your {going} needle: bring it back to where you are. '
    'One that "hangs 3 sts back" lies over the last 3 on your {coming} needle: carry it on. Both lie slack on the '
    "fabric's wrong side."
)
SLIPPING = (
    "At a row's start slip the first stitch purlwise (sl1) where that is told, the strand on the fabric's wrong "
    "side: at the back on RS rows, in front on WS rows."
)
SHARING = (
    'Where two strands of a yarn share a run, cross where the one stops, and go on with "the other" one, which hangs '
    "there or as near as is told."
)
FLAT = re.compile(
    r"(?:Row (\d+) is worked flat|Rows (\d+) to (\d+) are worked flat, turning after every row), "
    r"with (1 stitch|[2-9] stitches) more for the seam, at the left edge as the right side looks\."
)


def read_rules(left: list[str], manner: Manner) -> tuple[tuple[int, int, int], ...]:
    """The rules above the rows; the flat rows of a tube, each with its stitches for the seam."""
    seams = []
    for rule in ROUND_RULES if left[:1] == [ROUND_RULES[0]] else RULES:
        _line(left, re.escape(rule.format(going=manner.going)))
    while left[0]:
        line = left.pop(0)
        if found := FLAT.fullmatch(line):
            first = int(found[1] or found[2])
            seams.append((first, int(found[3] or first), int(found[4].split()[0])))
        elif line not in (SLIPPING, SHARING, FETCHING.format(going=manner.going, coming=manner.coming)):
            raise NotUnderstood(line)
    _line(left, "")
    return tuple(seams)


def read_sewn_on(left: list[str], manner: Manner) -> None:
    name = "Swiss darning" if manner.is_uk else "duplicate stitch"
    if left[:2] == ["", f"Sewn on afterwards in {name}:"]:
        del left[:2]
        while left and left[0]:
            place = r"from (row|round) \d+, stitch \d+ from the right( of the \w+ part)?"
            what = rf"  (1 stitch|\d+ stitches) of .+ {place}"
            _line(left, rf"{what}, with (1 length|\d+ lengths)")


def read_sewn_up(left: list[str]) -> Iterator[tuple[int, int]]:
    if len(left) > 1 and left[1].startswith("Sew the side edges of "):
        left.pop(0)
        line = left.pop(0).removeprefix("Sew the side edges of ").removesuffix(".")
        for told in line.split("; those of "):
            found = re.fullmatch(
                r"(?:row (\d+)|rows (\d+) to (\d+)) together, (half a stitch|a whole stitch) from each edge", told
            )
            if not found:
                raise NotUnderstood(told)
            first = int(found[1] or found[2])
            yield first, int(found[3] or first)
