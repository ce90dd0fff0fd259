"""What stands above the rows: title, gauge, yarns, the cast-on; and how Rowside's own pages say it."""

from __future__ import annotations

import re
from fractions import Fraction
from typing import Literal

from companion.drafts.rows.scanner import RESERVED, Scanner
from companion.knitting.cloth.fabric import Ball, Gauge
from companion.knitting.value import Record
from companion.plan.amount import AmissError, amount, name
from companion.plan.colours import hex_of
from companion.plan.phrases import NUMBER, STS, Amiss, compiled
from companion.problems import quoted

INCH = Fraction(254, 100)
METRES_IN_A_YARD = Fraction(9144, 10_000)


class Said(Record):
    """What is said of a yarn; "" = nothing."""

    colour: str = ""
    symbol: str = ""
    ball: Ball = Ball()


class CastOnTold(Record):
    """How the piece is cast on; 0 and "" where it is not said. ``is_joined``: into a round."""

    stitches: int = 0
    yarn: str = ""
    method: str = ""
    is_each: bool = False
    is_joined: bool = False
    at: int = 0


_LENGTH = r'(\d{1,6}(?:\.\d{1,6})?)\s*(cm|mm|inches|inch|in\b|"|”)'
_AMOUNT = r"(\d{1,6}(?:\.\d{1,6})?)"
_GAUGE = compiled(
    rf"\s*(?:gauge|tension)\b[^\d\n]{{0,60}}?{_AMOUNT}\s*{STS}[^\d\n]{{0,40}}?{_AMOUNT}\s*(?:rows?|rounds?|rnds?)\b"
    rf"[^\d\n]{{0,60}}?{_LENGTH}",
)
_IS_GAUGE = re.compile(r"\s*(?:gauge|tension)\s*:", re.IGNORECASE)

_OWN_YARN = re.compile(r"  (\S)  (\S.*) \((#[0-9a-f]{6})(?:, in balls of ([^()]*))?\)\s*")
_YARN = re.compile(
    r"\s*(?:[-*•]\s*)?(?i:yarn|colou?r|shade)?\s*(?P<name>[A-Z]{1,3}\d{0,2}|[^\W\d_][\w-]{0,39})\s*(?:[:=]|–|—)\s*"
    r"(?P<what>\S.{0,80})"
)
_OWN_RULES = re.compile(
    r"right-side rows \(RS\) are worked|cross at each change:|a strand that \"hangs|size: |where two strands "
    r"of a yarn share"
    r"|rows? \d[^:]* (?:is|are) worked flat|at a row's start slip|for a baby: floats|(?:yarns|notes?)\s*:?\s*$",
    re.IGNORECASE,
)
_LEFT_HANDED = re.compile(r"lay\s+the\s+old\s+strand\s+to\s+your\s+right\s+across")
_RIGHT_HANDED = re.compile(r"lay\s+the\s+old\s+strand\s+to\s+your\s+left\s+across")

HOLDS = compiled(r" ?(?:(?:with|using|in) [^.\n]{1,60}?\b)?(?:cast on\b|co\b(?= ?:? ?\d))")
"""A line about the cast-on."""


def hands(text: str) -> Literal["", "left", "right"]:
    """Whose hands the text is for, by its rule for crossing; "" = it has none."""
    if _LEFT_HANDED.search(text):
        return "left"
    return "right" if _RIGHT_HANDED.search(text) else ""


def is_rule(line: str) -> bool:
    """Whether a line explains written rows, as Rowside's pages do, and asks for nothing."""
    return _OWN_RULES.match(line.strip()) is not None


def gauge(line: str, at: int) -> Gauge | None:
    """The gauge that a line says; None where it says none.

    Raises:
        Amiss: it begins to, and is not understood.
    """
    found = _GAUGE.match(line)
    if found is None:
        if _IS_GAUGE.match(line):
            such = 'Such as "Gauge: 20 sts and 28 rows over 10 cm".'
            raise Amiss(at, "The gauge is not understood.", such, "gauge")
        return None
    per = {"c": Fraction(1), "m": Fraction(1, 10)}.get(found[4][0].lower(), INCH)
    try:
        return Gauge(amount(found[1]), amount(found[2]), amount(found[3]) * per)
    except AmissError as amiss:
        raise Amiss(at, f"A number of the gauge {amiss.what}", cause="gauge") from None


def own_yarn(line: str) -> tuple[str, Said] | None:
    """A yarn in the list of Rowside's pages."""
    found = _OWN_YARN.fullmatch(line)
    if found is None:
        return None
    try:
        return name(found[2]), Said(found[3], found[1], _ball(found[4] or ""))
    except AmissError:
        return None


def yarn(line: str) -> tuple[str, Said] | None:
    """A yarn in a list such as "A: navy" or "MC = #2c6a7b": one whose colour is said, or that is called by
    capitals."""
    found = _YARN.fullmatch(line)
    if found is None or found["name"].casefold() in RESERVED:
        return None
    colour = colour_in(found["what"])
    is_short = found["name"].isupper() and len(found["name"]) <= 3 and found["name"] not in ("NB", "PS")
    return (found["name"], Said(colour)) if colour or is_short else None


def colour_in(words: str) -> str:
    """The colour that words name: a web colour, or the last words that make the name of one; "" = none."""
    parts = re.findall(r"#[0-9a-fA-F]{3,6}\b|[^\W\d_]+", words)
    for first in range(max(0, len(parts) - 3), len(parts)):
        if found := hex_of("".join(parts[first:])):
            return found
    return next((found for part in parts if (found := hex_of(part))), "")


def _ball(sold: str) -> Ball:
    metres = re.search(r"([\d.]+) (m|yd)\b", sold)
    grams = re.search(r"([\d.]+) g\b", sold)
    per = METRES_IN_A_YARD if metres and metres[2] == "yd" else Fraction(1)
    return Ball(Fraction(metres[1]) * per if metres else None, Fraction(grams[1]) if grams else None)


def cast_on(scanner: Scanner) -> CastOnTold:
    """What a line about the cast-on says.

    Raises:
        Amiss: it says no number.
    """
    at = scanner.here
    lead = scanner.yarn() if scanner.may(r"(?:with|using|in) (?:yarn |colou?r )?") else ""
    scanner.may(r",")
    scanner.may(r"(?:cast on|co)\b\s*:?")
    if found := scanner.may(r"\((long-tail|knitted|cable)(?:, not joined yet)?\)\s*:"):
        last = list(re.finditer(r"\((\d{1,7}) sts?\)", scanner.text[scanner.at:scanner.end]))
        scanner.at = scanner.end
        return CastOnTold(int(last[-1][1]) if last else 0, "", found[1].lower(), True, at=at)
    found = scanner.may(rf"({NUMBER})(?: {STS})?")
    if found is None:
        raise Amiss(
            at, f"How many stitches are cast on? After these words stands {quoted(scanner.rest())}.",
            'Such as "Cast on 24 sts in shell".', "cast on",
        )  # fmt: skip
    stitches = scanner.number(found[1])
    if scanner.may(r", each section of (?:row|round) 1 in a strand of its own"):
        method = scanner.may(r"\((long-tail|knitted|cable)\)")
        return CastOnTold(stitches, "", method[1].lower() if method else "", True, at=at)
    if scanner.may(r"(?:in|with|using)\b(?: (?:yarn|colou?r)\b)?"):
        lead = scanner.yarn() or lead
    elif not lead and scanner.look(r"[^\W\d_]+\s*\.?\s*$"):
        lead = scanner.yarn()
    method = scanner.may(r",?\s*\(?(?:using the |by the )?(long-tail|knitted|cable)\b(?: (?:method|cast-on)\b)?\)?")
    scanner.may(r",? cut after it\b|,? loosely\b")
    joined = scanner.may(r"[,;.]?\s*(?:and )?(?:join|joining)\b[^.]{0,40}\bround\b[^.\n]{0,60}")
    return CastOnTold(stitches, lead, method[1].lower() if method else "", False, joined is not None, at)
