"""What stands at a row's end, read: its count, where the piece divides, how all is bound off. What Rowside's own
pages say there of strands is read over, since strands are reckoned anew."""

from __future__ import annotations

from re import Match
from typing import Literal, cast

from companion.drafts.rows.doings import Count, Divide, End, Join, OffAll
from companion.drafts.rows.scanner import Scanner
from companion.knitting.cloth.fabric import Part
from companion.plan.edge_words import count_of
from companion.plan.phrases import NUMBER, STS

_PART = r"(?:right|left) part(?: \(the wearer's (?:right|left)\))?"

_OWN_ENDS = (
    r"From here work flat: turn after every row\.",
    r"(?:Turn\. )?From here work round[^.]{0,160}\.",
    r"Join into a round, the cast-on not twisted\.?",
    r"Take up the [^.]{0,160}\.",
    rf"Put the \d{{1,7}} stitch(?:es)? of the {_PART} on a holder[^.]{{0,80}}\.",
    r"Turn\b\.?",
)
_SENTENCES = r"(?:Cut, leaving a tail|Cut too, not needed any more|Leave hanging, do not cut):"
"""Sentences at a row's end about strands, which are reckoned anew."""

_DIVIDES = (
    r"The piece divides here: the (right|left) part(?: \(the wearer's (right|left)\))? is worked first, on (\d{1,7})"
    r" stitch(?:es)?(?:, of which the (\d{1,7}) in the middle go first)?\. On a holder wait (?:(\d{1,7}) in the"
    r" middle(, to stay there,)? and )?(\d{1,7}) of the (?:right|left) part(?: \(the wearer's (?:right|left)\))?\."
)


_JOINS = (
    rf"Join the parts: put the \d{{1,7}} stitch(?:es)? of the {_PART} back on the needle\."
    rf"(?: The next row is worked across the {_PART}, (\d{{1,7}}) stitch(?:es)?, then the {_PART}, (\d{{1,7}})"
    r" stitch(?:es)?(?:, (\d{1,7}) cast on between them)?\.)?"
)


def ends(scanner: Scanner) -> tuple[End, ...] | None:
    """What is said here; () where it says nothing of the fabric, None where it is no end of a row.

    Raises:
        Amiss: a yarn is not known.
    """
    at = scanner.here
    if (stitches := count_of(scanner)) is not None:
        return (Count(stitches, at),)
    if scanner.may(_SENTENCES):
        _skip_sentence(scanner)
        return ()
    if found := scanner.may(_DIVIDES):
        return (_divided(found, at),)
    if found := scanner.may(_JOINS):
        return (Join(int(found[1]), int(found[2]), int(found[3] or 0), at),) if found[1] else ()
    if any(scanner.may(own) for own in _OWN_ENDS):
        return ()
    return _all_off(scanner)


def _skip_sentence(scanner: Scanner) -> None:
    """To the sentence's end; a yarn's name may hold a full stop."""
    while not scanner.is_over:
        if scanner.known_yarn() or scanner.may(r"[^\W_]+"):
            continue
        at = scanner.here
        scanner.at = at + 1
        if scanner.text[at] == ".":
            return


def _all_off(scanner: Scanner) -> tuple[End, ...] | None:
    at, off = scanner.here, r"(?:bind off|cast off|bo)\b"
    if scanner.look(rf"{off} {NUMBER}") or not scanner.may(off):
        return None
    scanner.may(rf"(?: ?all)?(?: ?{STS})?(?: ?loosely)?(?: ?in patt(?:ern)?\b\.?)?(?: ?loosely)?")
    if scanner.may(r",? ?(?:right|wrong) side toward you, crossed at each change, each run in its own strand"):
        _skip_sentence(scanner)
        scanner.may(r"Cut all \d{1,7}\.")
        return (OffAll("", True, at),)
    yarn = scanner.named_yarn() if scanner.may(r"(?:in|with|using)\b") else ""
    scanner.may(r", (?:right|wrong) side toward you")
    scanner.may(r",? ?and cut it\b")
    scanner.may(r"The \d{1,7} stitch(?:es)? in the middle stay on their holder, for an edging\.")
    return (OffAll(yarn, False, at),)


def _divided(found: Match[str], at: int) -> Divide:
    first, wearers = cast(Part, found[1].lower()), (found[2] or "").lower()
    is_first = found[4] is not None
    middle = int(found[4] or found[5] or 0)
    works = int(found[3]) - (middle if is_first else 0)
    worn: Literal["", "front", "back"] = "" if not wearers else "back" if wearers == first else "front"
    return Divide(first, works, middle, int(found[7]), found[6] is not None, is_first, worn, at)
