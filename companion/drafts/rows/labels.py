"""What rows are called: "Row 1 (RS):", "Rows 3-8:", "2nd and 4th rows.", "Next row:", "Row 5 of the left part (RS):".
"""

from __future__ import annotations

import re
from typing import Literal, cast

from companion.drafts.rows.doings import Label
from companion.drafts.rows.scanner import Scanner
from companion.knitting.cloth.fabric import Part
from companion.knitting.value import Record
from companion.plan.phrases import NTH, NUMBER, Amiss, compiled
from companion.problems import quoted

MOST_ROWS = 10_000

_NOUN = r"(?:rows?|rounds?|rnds?)\b\.?"
_TO, _AND = r"\s*(?:-|–|—|\bto\b|\bthrough\b)\s*", r"\s*(?:,\s*and\b|,|\band\b|&)\s*"
_SIDE = r"(?:RS|WS|right side|wrong side)\b"
_PART = r"of the (left|right) part(?: \(the wearer's (?:left|right)\))?"

STARTS = compiled(
    rf"\s*(?:[(\[]?{_SIDE}[)\]]?\s*)?(?:(?:rows?|rounds?|rnds?)\b\.?\s*\d|r\d{{1,5}}\s*[:(\[]|{NTH}[^:.]{{0,80}}\b{_NOUN}"
    rf"|(?:next|following|foll|all|every|each|even|odd|alternate|alt|remaining)\b[^:.,;]{{0,60}}\b{_NOUN}"
    r"|\d{1,7}\s*(?:[(\[]\s*(?:RS|WS)\s*[)\]]\s*)?:)"
)
"""What begins a row at the start of a line."""

INSIDE = re.compile(
    rf"(?<=[.)\]])[ \t]+(?=(?:rows?|rounds?|rnds?)\s*\d{{1,7}}\s*(?:[(\[]\s*{_SIDE}\s*[)\]]\s*)?:)", re.IGNORECASE
)
"""What lies between two rows in one line."""

_REFUSED = (
    r"(?:RS|WS|right side|wrong side) rows\b|(?:all|every|each|even|odd|alternate|alt|remaining)\b[^:.;]{0,60}\b"
    + _NOUN
)


class Span(Record):
    """Rows that are told together, each by its number; ``part`` "" in a whole piece; ``is_round`` None: not said."""

    numbers: tuple[int, ...]
    part: Part
    is_round: bool | None


def labels(scanner: Scanner, last: int) -> tuple[Label, ...]:
    """The rows of a label, which is read. ``last``: the number of the row told before.

    Raises:
        Amiss: it is not understood.
    """
    at = scanner.here
    if found := scanner.look(_REFUSED):
        _refuse(at, found.group())
    side = _side(scanner)
    if found := scanner.may(rf"(?:the )?(?:next|following|foll)\b\.?(?: ({NUMBER}))?\s*{_NOUN}"):
        rows = scanner.number(found[1]) if found[1] else 1
        _check_many(at, rows)
        is_round = _is_round(found.group())
        part: Part = ""
        numbers: tuple[int, ...] = tuple(range(last + 1, last + 1 + rows))
    else:
        span = span_of(scanner, is_label=True)
        numbers, part, is_round = span.numbers, span.part, bool(span.is_round)
    if found := scanner.look(r"(?:,\s*)?(?:and )?(?:all|every|each|foll|following|alt)\b[^:.]{0,60}"):
        _refuse(at, scanner.text[at:found.end()])
    side = _side(scanner) or side
    if scanner.may(r"[:.)]\s*[—–-]?|—|[–-](?=\s)") is None and not scanner.is_over:
        raise Amiss(
            scanner.here, f"After a row's number stands {quoted(scanner.rest())}.",
            'A row is called like this: "Row 1:", "Row 2 (WS):", "Rows 3-8:".', "label",
        )  # fmt: skip
    side = _side(scanner, is_bracketed=True) or side
    return tuple(Label(part, number, is_round, side, at) for number in numbers)


def span_of(scanner: Scanner, *, is_label: bool = False) -> Span:
    """The rows of "Rows 3-8", "1st and 2nd rows" or "Row 5 of the left part", read.

    Raises:
        Amiss: they are none.
    """
    at = scanner.here
    numbers: tuple[int, ...] = ()
    noun = scanner.may(r"(?:rows?|rounds?|rnds?)\b\.?|r(?=\d)")
    if noun:
        numbers = _list(scanner, r"\d{1,7}\b", at)
    else:
        numbers = _list(scanner, NTH, at)
        noun = scanner.may(_NOUN) if numbers else None
        if numbers and noun is None:
            numbers = ()
        elif not numbers and is_label:
            numbers = _list(scanner, r"\d{1,7}\b", at)
    if not numbers:
        raise Amiss(at, f"{quoted(scanner.rest())} names no row.", 'Such as "Row 3" or "Rows 3-8".', "label")
    part = scanner.may(_PART)
    return Span(numbers, cast(Part, part[1].lower()) if part else "", _is_round(noun.group()) if noun else None)


def _is_round(noun: str) -> bool:
    return re.search(r"round|rnd", noun, re.IGNORECASE) is not None


def _list(scanner: Scanner, pattern: str, start: int) -> tuple[int, ...]:
    """Numbers in a list, with spans in it."""
    found: list[int] = []
    while one := scanner.may(rf"({pattern})(?:{_TO}({pattern}))?"):
        first = scanner.nth(one[1])
        last = scanner.nth(one[2]) if one[2] else first
        if not 1 <= first <= last:
            raise Amiss(start, "Rows are told upward, from row 1.", 'Such as "Rows 3-8".', "label")
        _check_many(start, len(found) + last - first + 1)
        found += range(first, last + 1)
        if scanner.look(rf"{_AND}(?={pattern})") is None:
            break
        scanner.may(_AND)
    return tuple(found)


def _check_many(at: int, rows: int) -> None:
    if rows > MOST_ROWS:
        raise Amiss(at, f"A piece of written rows has {MOST_ROWS:,} rows at most.", cause="rows")


def _side(scanner: Scanner, *, is_bracketed: bool = False) -> Literal["", "RS", "WS"]:
    """The side that is named, read."""
    inner = rf"({_SIDE})(?: facing)?"
    found = scanner.may(rf"[(\[]\s*{inner}\s*[)\]]") if is_bracketed else scanner.may(
        rf"(?:[(\[]\s*{inner}\s*[)\]]|,?\s*\b{inner}(?! rows))"
    )  # fmt: skip
    if found is None:
        return ""
    return "RS" if next(group for group in found.groups() if group)[0] in "rR" else "WS"


def _refuse(at: int, words: str) -> None:
    raise Amiss(
        at, f"{quoted(words)} can be read two ways: the rows so far, or those still to come as well.",
        'Name them by their numbers, each row once: "Rows 1, 3 and 5:".', "which rows",
    )  # fmt: skip
