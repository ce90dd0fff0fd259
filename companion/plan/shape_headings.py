"""Lines of a shape that say which stitches the next ones tell of: "Right part, on 19 sts:", "Both parts:", "Bind off
the middle 12 sts", "Both parts joined, on 44 sts, 6 of them cast on between them:".

Parts are the right and the left one as seen from the right side; shoulders and fronts are called by the wearer's
sides, and therefore not read (common practice, no source).
"""

from __future__ import annotations

from typing import Literal

from companion.knitting.value import Record
from companion.plan.phrases import NUMBER, STS, Amiss, Phrases
from companion.problems import quoted

Kind = Literal["right", "left", "both", "joined", "middle", "all off"]

_PARTS = r"(?:both|the|the two) (?:parts|sides|halves)\b"
_ON = rf"(?:,? ?(?:on|over|with) (?:the )?(?:rem\b\.? |remaining |other |first |last )?({NUMBER}) {STS}(?: each\b)?)?"
_END = r" ?[:.]?"
_PART = rf"(right|left)(?:[ -]hand)? part\b{_ON}{_END}"
_BOTH = rf"(?:{_PARTS}(?! joined)|each (?:part|side|half)\b){_ON}{_END}"
_JOINED = (
    rf"(?:{_PARTS} joined\b|join {_PARTS}){_ON}"
    rf"(?:,? ?({NUMBER})(?: of (?:them|these))? cast on between\b|,? ?(?:and )?cast(?:ing)? on ({NUMBER}) (?:{STS} )?"
    rf"between\b)?(?: them\b)?{_END}"
)
_WHICH = r"(?:middle|centre|center|central)"
_MIDDLE = (
    r"(?:(bind off|cast off|bo)|leave|hold|keep|put|place|slip)\b(?: the)?"
    rf" (?:{_WHICH} ({NUMBER}) {STS}|({NUMBER}) {_WHICH} {STS})"
    rf"(?: (?:on|onto|to) (?:a |the |their )?(?:stitch )?holder\b)?{_END}"
)
_WORN = r"(?:right|left)(?:[- ]hand)? (?:shoulder|front|back|neck|half|side of)\b"
_ALL_OFF = (
    rf"(?:bind off|cast off|bo)\b(?: the\b)?(?: all\b| rem\b\.?| remaining\b)+(?: of)?(?: the)?(?: ({NUMBER}))?"
    rf"(?: {STS})?(?: loosely)?{_END}"
)


class Heading(Record):
    """``stitches``: so many are worked on, lie in the middle, or are bound off; None: it is not said. ``between``: so
    many are cast on between parts that are joined; ``is_held``: the middle waits on a holder."""

    kind: Kind
    stitches: int | None
    between: int | None
    is_held: bool
    at: int


def heading_of(words: Phrases) -> Heading | None:
    """What stands here, read; None where it is no such line.

    Raises:
        Amiss: it is not said from where left and right are seen.
    """
    at = words.here
    if found := words.look(_WORN):
        what = f"{quoted(found[0])} may be so called as it is worn, or as seen from the right side."
        raise Amiss(at, what, 'Write "Right part:" or "Left part:", as seen from the right side.')

    def told(word: str | None) -> int | None:
        return words.number(word) if word else None

    if found := words.may(_MIDDLE):
        return Heading("middle", told(found[2] or found[3]), None, found[1] is None, at)
    if found := words.may(_JOINED):
        return Heading("joined", told(found[1]), told(found[2] or found[3]), False, at)
    if found := words.may(_BOTH):
        return Heading("both", told(found[1]), None, False, at)
    if found := words.may(_ALL_OFF):
        return Heading("all off", told(found[1]), None, False, at)
    if found := words.may(_PART):
        return Heading("right" if found[1].lower() == "right" else "left", told(found[2]), None, False, at)
    return None
