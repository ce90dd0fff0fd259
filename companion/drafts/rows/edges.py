"""Edges of rows in words: stitches bound off, cast on, decreased or increased where rows begin or end."""

from __future__ import annotations

from companion.drafts.rows.doings import Edge
from companion.drafts.rows.scanner import NUMBER, STS, Amiss, Scanner

_EDGE = (
    rf"(bind off|cast off|bo|cast on|co|dec(?:rease)?|inc(?:rease)?)\b\.? (?:({NUMBER}) )?(?:{STS} )?(?:at )?"
    r"(?:the )?(beg(?:inning)?\b\.?|start\b|end\b|(?:each|both) (?:ends?|edges?|sides?)\b)"
)


def edge_of(scanner: Scanner) -> Edge | None:
    """What is made or lost at the edges of rows, read; None where it is nothing of the kind.

    Raises:
        Amiss: no hands could do it there.
    """
    at = scanner.here
    found = scanner.may(_EDGE)
    if found is None:
        return None
    verb, place = found[1].lower(), found[3].lower()
    many = scanner.number(found[2]) if found[2] else 1
    is_off = verb in ("bind off", "cast off", "bo") or verb.split() in (["bind", "off"], ["cast", "off"])
    is_on = verb == "co" or verb.split() == ["cast", "on"]
    if is_off and not place.startswith(("beg", "start")):
        raise Amiss(at, "Stitches are bound off where a row begins, not where it ends.",
                    "Bind them off at the beginning of the next row.", "off at end")  # fmt: skip
    if not is_off and not is_on and many > (2 if verb.startswith("dec") else 1):
        how = "decreased" if verb.startswith("dec") else "increased"
        what = f"{many} stitches at once are not {how} at an edge."
        raise Amiss(at, what, "Bind off, or cast on, so many.", "at once")
    more = -many if is_off or verb.startswith("dec") else many
    if place.startswith(("beg", "start")):
        return Edge(more, 0, at)
    return Edge(0, more, at) if place == "end" else Edge(more, more, at)
