"""What written rows say where a piece divides, where its parts wait, and where they are joined again."""

from __future__ import annotations

from tests.simulator.told import Divide, JoinParts, SetAside, TakeUp
from tests.simulator.words import Words


def parts_told(words: Words) -> Divide | SetAside | TakeUp | JoinParts:
    """Which of these is told."""
    if words.may("The piece divides here: the "):
        return _divide(words)
    if words.may("Put the "):
        stitches = words.counted("stitch", "stitches")
        words.must(" of the ")
        part = _part(words)
        words.must(" on a holder")
        is_hung = words.may("; its strands hang there")
        words.must(".")
        return SetAside(part, stitches, is_hung)
    if words.may("Join the parts: put the "):
        return _parts_joined(words)
    words.must("Take up the ")
    part = _part(words)
    words.must(": its ")
    stitches = words.counted("stitch", "stitches")
    middle = 0
    if words.may(" and the "):
        middle = words.number()
        words.must(" in the middle")
    words.must(" back on the needle, ")
    side = side_toward(words)
    words.must(".")
    return TakeUp(part, stitches, middle, side)


def _parts_joined(words: Words) -> JoinParts:
    waited = words.counted("stitch", "stitches")
    words.must(" of the ")
    held = _part(words)
    words.must(" back on the needle. The next row is worked across the ")
    first = _part(words)
    words.must(", ")
    stitches = words.counted("stitch", "stitches")
    words.must(", then the ")
    then = _part(words)
    words.must(", ")
    then_stitches, between = words.counted("stitch", "stitches"), 0
    if words.may(", "):
        between = words.number()
        words.must(" cast on between them")
    words.must(".")
    return JoinParts(held, waited, first, stitches, then, then_stitches, between)


def side_toward(words: Words) -> str:
    """The side toward the knitter."""
    side = "RS" if words.one_of("right", "wrong") == "right" else "WS"
    words.must(" side toward you")
    return side


def _part(words: Words) -> str:
    part = words.one_of("left", "right")
    words.must(" part")
    if words.may(" (the wearer's "):
        words.one_of("left", "right")
        words.must(")")
    return part


def _divide(words: Words) -> Divide:
    first = _part(words)
    words.must(" is worked first, on ")
    works = words.counted("stitch", "stitches")
    goes_first = middle = 0
    if words.may(", of which the "):
        goes_first = words.number()
        words.must(" in the middle go first")
    words.must(". On a holder wait ")
    number = words.number()
    is_held = False
    if words.may(" in the middle"):
        middle = number
        is_held = words.may(", to stay there,")
        words.must(" and ")
        number = words.number()
    words.must(" of the ")
    other = _part(words)
    if other == first:
        words.fail("the other part")
    words.must(".")
    return Divide(first, works, goes_first, middle, is_held, number)
