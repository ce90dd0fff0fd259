"""What is said on paper and nowhere else: how a chart is read, where it goes on, what the parts of a hand-out are
called."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Mapping, Sequence

from companion.knitting.cloth.fabric import Gauge, Part
from companion.knitting.cloth.rows import Row, Rows, Side
from companion.knitting.hands.steps import Cross
from companion.knitting.words.steps import tell
from companion.knitting.words.stitches import SPELLED_OUT, VERBS
from companion.knitting.words.terms import Terms, listed, sentence
from companion.knitting.yarn.weights import classes_by_gauge

ABBREVIATIONS: Mapping[str, str] = {
    "RS": "right side", "WS": "wrong side", "st": "stitch", "sts": "stitches",
    **dict(VERBS.items()), **SPELLED_OUT,
}  # fmt: skip
"""All that written rows have, in the trade's words ("Terms and abbreviations used in knitting patterns")."""

PAPER_PARTS: Mapping[str, str] = {
    "title": "", "now": "Where the piece is now", "crossing": "How to cross", "winding": "What to wind",
    "chart": "Chart", "rows": "Row by row", "back": "The back: every end", "finishing": "Finishing",
    "why": "Why",
}  # fmt: skip
"""The parts of a hand-out by name, in their order, each with its heading; the first is headed by the title."""

CHART_KEY = "The letters of the chart"


def picture_of(title: str) -> str:
    """In the place of a picture, for whoever does not see it."""
    return f"{title}: how its right side will look."


def abbreviations_in(lines: Iterable[str]) -> list[tuple[str, str]]:
    """Those that stand in these lines, each with what it means."""
    found = {word for line in lines for word in re.findall(r"[A-Za-z0-9]+(?: purlwise)?", line)}
    found |= {word[:-len(" purlwise")] for word in found if word.endswith(" purlwise")}
    found |= {re.sub("[0-9]+$", "", word) for word in found}
    return [(short, full) for short, full in ABBREVIATIONS.items() if short in found]


def sheet_title(number: int, of: int) -> str:
    """Which sheet of the chart."""
    return f"Chart, sheet {number} of {of}"


def rows_shown(rows: Sequence[Row]) -> str:
    """Which rows of a part a sheet shows: "rows 1 to 30", "round 4"."""
    noun = "round" if all(row.is_round for row in rows) else "row"
    first, last = rows[0].number, rows[-1].number
    return f"{noun} {first}" if first == last else f"{noun}s {first} to {last}"


def stitches_span(first: int, last: int) -> str:
    """Which stitches of a chart: "stitch 3", "stitches 1 to 24"."""
    return f"stitch {first}" if first == last else f"stitches {first} to {last}"


def goes_on(sheet: int) -> str:
    """At the edge of a sheet of the chart that is cut there."""
    return f"goes on on sheet {sheet}"


def part_goes_on(part: Part, sheet: int) -> str:
    """Above the last row before a piece divides."""
    return f"the {part} part goes on on sheet {sheet}"


def joined_goes_on(sheet: int) -> str:
    """Above the last row of a part that is joined to the other one."""
    return f"joined to the other part on sheet {sheet}"


def how_to_read_chart(
    rows: Sequence[Row], terms: Terms, *, has_bumps: bool, has_sewn: bool, has_gaps: bool, has_meetings: bool
) -> Iterator[str]:
    """Below a chart of these rows: which way they are read, and what its marks mean (stitch guides on reading
    charts; the marks are ours)."""
    ways = {
        (side, row.is_round): f"from {terms.coming} to {terms.going}" if side == "RS" else (
            f"from {terms.going} to {terms.coming}"
        )
        for row in rows for side in [row.side]
    }
    told = [
        f"{noun} are numbered at the {terms.coming if side == 'RS' else terms.going} and read {way}"
        for (side, is_round), way in sorted(ways.items())
        for noun in ["rounds" if is_round else f"{'right' if side == 'RS' else 'wrong'}-side rows"]
    ]
    yield f"{sentence(listed(told))}; the lowest is worked first. A square is a stitch; at heavy lines yarns meet."
    if has_meetings:
        yield "A heavy line within a colour: there one strand takes over from the other."
    if has_bumps:
        purled = "purl" if all(row.is_round for row in rows) else "purl on right-side rows, knit on wrong-side rows"
        yield f"A bar below the letter: {purled}; without it the other way."
    if has_sewn:
        yield f"A ring: another yarn is sewn on there afterwards, in {terms.duplicate_stitch}."
    if has_gaps:
        yield "Where no square is drawn there is no stitch."


def needles(gauge: Gauge, rows: Rows) -> str:
    """Which needles (sizes: Craft Yarn Council, Standard Yarn Weight System, ranges that it calls guidelines; that
    wide flat work hangs better on a circular one is common practice, no source)."""
    sizes = " or ".join(f"{one.needles} for {one.number} {one.name} yarn" for one in classes_by_gauge(gauge))
    kind = "A circular one, no longer than the piece is around" if any(row.is_round for row in rows) else (
        "A circular one carries the weight of wide flat work"
    )
    return f"Needles: whichever give you this gauge. As a guideline, {sizes}. {kind}."


CROSSING = (
    "Seen from above, as you hold the work: the needles lie across, the fabric hangs down from them. Strands always "
    "lie on the fabric's wrong side: on right-side rows that is behind the needles, on wrong-side rows in front."
)


def how_to_cross(side: Side, *, is_mirrored: bool, terms: Terms) -> tuple[str, str]:
    """A heading and the sentence below a drawing of a change."""
    hands = "Left-handed, worked mirrored" if is_mirrored else "Right-handed"
    how = tell(Cross("the old", "the new", side), "full", terms._replace(is_mirrored=is_mirrored))
    return f"{hands}: {'right' if side == 'RS' else 'wrong'}-side row", how


def too_many_ends(ends: int) -> str:
    """In the place of a map of the back."""
    return f"There are {ends:,} ends, more than a map of the back has room for; rowside ends tells each."


BACK_MAP = (
    "The wrong side as you look at it, with the last row at the top: every end where it hangs, by its number in the "
    "list."
)


def map_title(number: int, of: int) -> str:
    """Which sheet of the map of the back."""
    return "map of the back" if of == 1 else f"map of the back, sheet {number} of {of}"
