"""Techniques and what they cost, in words."""

from __future__ import annotations

from collections.abc import Sequence

from companion.knitting.piece import Piece
from companion.knitting.reckoning.choices import Choice, free_cm, recommended
from companion.knitting.strands.limits import Carry, default_reach
from companion.knitting.words.places import rows_noun
from companion.knitting.words.terms import count, how_many


def technique(limits: Carry, piece: Piece, sewn: int = 0) -> str:
    """Limits by name: "strict", "up to 3 sts behind, waiting up to 4 rows"; ``sewn`` areas are sewn on afterwards."""
    usual = default_reach(piece.gauge)
    parts = []
    if limits.reach != usual:
        parts.append(f"reaching {count(limits.reach)}" if limits.reach else "straight up only")
    if limits.behind:
        parts.append(f"up to {count(limits.behind)} behind")
    if limits.rest:
        parts.append(f"waiting up to {how_many(limits.rest, rows_noun(piece.rows))}")
    parts = parts or ["strict"]
    if limits.share:
        parts.append("starts shared")
    if limits.share_runs:
        parts.append("runs shared")
    if sewn:
        parts.append(f"{how_many(sewn, 'area')} sewn on")
    return ", ".join(parts)


def technique_in_short(limits: Carry, piece: Piece) -> str:
    """The same where there is little room: "strict", "behind 3, rest 4"."""
    parts = [f"reach {limits.reach}"] if limits.reach != default_reach(piece.gauge) else []
    parts += [f"{name} {number}" for name, number in (("behind", limits.behind), ("rest", limits.rest)) if number]
    shared = [name for name, is_so in (("shared", limits.share), ("runs shared", limits.share_runs)) if is_so]
    return ", ".join([*(parts or ["strict"]), *shared])


def what_strict_is(choices: Sequence[Choice], piece: Piece) -> str:
    """What "strict" means, where it is among them; "" where it is not."""
    if not any(technique(choice.limits, piece).startswith("strict") for choice in choices):
        return ""
    reach, noun = count(default_reach(piece.gauge)), rows_noun(piece.rows)
    once = f"a strand works once in a {noun} and goes on in the very next {noun}"
    return f"Strict: {once}, at most {reach} further along."


def nothing_to_gain(choices: Sequence[Choice]) -> str:
    """All techniques come out alike."""
    strands, ends = choices[0].figures[:2]
    return (
        f"Nothing to gain here: {how_many(len(choices), 'technique')} compared, and every one comes out the same, "
        f"{how_many(strands, 'strand')} and {how_many(ends, 'end')}."
    )


def why_recommended(piece: Piece, choices: Sequence[Choice], length: str) -> str:
    """One sentence on why the recommended choice is. ``length``: how long a float may lie uncaught, in words."""
    best = recommended(piece, choices)
    lead = f'Recommended: "{technique(best.limits, piece, len(best.sewn))}", the fewest ends ({best.figures.ends})'
    if best.figures.longest_cm <= free_cm(piece):
        return f"{lead} with no float over {length}, so that none has to be caught."
    return f"{lead}; all have floats over {length}, which must be caught."


BEATEN = "Beaten: another choice is better in some count and worse in none."
