"""How an end is made to vanish, told as one looks at the fabric's wrong side, the last row at the top."""

from __future__ import annotations

from companion.knitting.hands.weaving import SHOWS_BY, Leg, Weaving
from companion.knitting.words.terms import Terms, count, how_many, measured, sentence

TURNED_OVER = "As you look at the wrong side, with the last row at the top:"
NOT_TRIMMED = "Trim no end before the piece is washed and dry."

_WAYS = {"up": "up", "down": "down", "left": "to the left", "right": "to the right"}


def how_to_weave(weaving: Weaving, terms: Terms, shows_by: float = SHOWS_BY) -> list[str]:
    """What to do with one end, a sentence or two each. ``shows_by``: behind what is so much lighter it may show."""
    if weaving.is_for_seam:
        return [f"Leave it: this edge is sewn up, and the end is {terms.woven_in} along the seam then."]
    lines = []
    if weaving.neighbour == weaving.yarn:
        lines.append(f"Another length of {weaving.yarn} was joined here: draw both ends just tight enough.")
    elif weaving.neighbour:
        if weaving.end.kind == "start" and not weaving.is_of_cast_on:
            lines.append("Undo the half-knot first, if there is one.")
        lines.append(f"Keep the tail looped through the {weaving.neighbour} beside it, so that no hole opens.")
    if weaving.closes:
        lines.append(f"Draw it to the {weaving.closes}, toward its own colour, until the hole is closed.")
    lines.append(_route(weaving, terms))
    lines += _no_room(weaving, shows_by)
    return lines


def _route(weaving: Weaving, terms: Terms) -> str:
    if not weaving.legs:
        return "There is no room for it in its own colour."
    backs = f"through the backs of {weaving.yarn} only"
    if weaving.on_edge:
        edge = weaving.on_edge if weaving.on_edge == "cast-on" else terms.bind_off.replace(" ", "-")
        backs = f"along the {edge} edge, which is of its own colour"
    legs = ", ".join(_leg(leg, has_line=bool(weaving.neighbour) and not at) for at, leg in enumerate(weaving.legs))
    return f"{sentence(terms.weave_in)} {backs}: {legs} ({measured(weaving.cm, terms)})."


def _leg(leg: Leg, *, has_line: bool) -> str:
    """One leg; that it follows the line where the colours change is told once."""
    if leg.way in ("left", "right"):
        return f"{_WAYS[leg.way]} {count(leg.length)}"
    line = " along the line of crossings" if has_line else ""
    leans = f" and {count(abs(leg.leans))} {_WAYS['right' if leg.leans > 0 else 'left']}" if leg.leans else ""
    return f"{_WAYS[leg.way]} {how_many(leg.length, 'row')}{leans}{line}"


def _no_room(weaving: Weaving, shows_by: float) -> list[str]:
    """Where its own area is too small."""
    if not weaving.is_split:
        return []
    lines = ["That is little room: split the plies, and take each half thinly another way."]
    if weaving.hides and weaving.lighter_by > shows_by:
        lines.append(
            f"Behind the colours round it, all clearly lighter, it may show through; {weaving.hides} hides it best."
        )
    elif weaving.hides:
        lines.append(f"Where more is needed, go on behind {weaving.hides}, which hides it best.")
    return lines


def ends_offered(ready: int, terms: Terms, key: str) -> str:
    """At a turn with the wrong side facing. ``key`` shows them."""
    are = "is" if ready == 1 else "are"
    ends = f"{how_many(ready, 'end')} {are} ready to {terms.weave_in}"
    return f"{ends}, and the wrong side faces you: press {key}, or knit on."


def ends_offered_on_leaving(ready: int, terms: Terms, key: str) -> str:
    """Before one stops. ``key`` shows them."""
    are, them = ("is", "it") if ready == 1 else ("are", "them")
    return f"{how_many(ready, 'end')} {are} ready to {terms.weave_in}; {key} shows {them}."
