"""A row in words: its title, what stands at its end, and the row as a written pattern tells it."""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from fractions import Fraction

from companion.knitting.cloth.cast_on import CastOn
from companion.knitting.cloth.fabric import Part
from companion.knitting.cloth.rows import Place, Row, Side
from companion.knitting.hands.steps import Cross, Fetch, Hold, Join, RowEnd, RunSteps
from companion.knitting.words.casting import cast_on_in_short
from companion.knitting.words.hands import work_in_short
from companion.knitting.words.places import ends_ready, row_number, strand_joined, strand_place
from companion.knitting.words.terms import US, Terms, count, listed, measured, sentence, stitches_in_full


def side_facing(side: Side) -> str:
    """Which side faces the knitter while the row is worked."""
    return "right side toward you" if side == "RS" else "wrong side toward you"


def row_title(row: Row, rows: int) -> str:
    """Which row this is: "Row 23 of 90, wrong side toward you"."""
    return f"{row_of(row, rows)}, {side_facing(row.side)}"


def row_of(row: Row, rows: int) -> str:
    """Which row of how many: "Row 23 of 90", "Left part, row 5 of 12"."""
    if row.part:
        return f"{row.part.capitalize()} part, row {row.number} of {rows}"
    return f"{'Round' if row.is_round else 'Row'} {row.number} of {rows}"


def height(done: Fraction, whole: Fraction, terms: Terms = US) -> str:
    """How high the piece is and will be, by the gauge: "12.5 of 40 cm high"."""
    return f"{measured(done, terms).rpartition(' ')[0]} of {measured(whole, terms)} high"


def row_done(row: Row) -> str:
    """The lead at the turn."""
    return f"{'Round' if row.is_round else 'Row'} {row_number(row)} is done."


def row_to_end(row: Row) -> str:
    """The lead while the row is being worked."""
    return f"At the end of {'round' if row.is_round else 'row'} {row_number(row)}:"


def still_on_needle(left: int, stitches: int, terms: Terms = US) -> str:
    """How many stitches are still on the needle they are worked from, this run included."""
    return f"{left} of {stitches} still on the {terms.going} needle"


def still_to_work(left: int, stitches: int) -> str:
    """The same where there is little room."""
    return f"{left} of {stitches} to go"


def counted(end: RowEnd) -> str:
    """The count to check at a row's end."""
    changed = f", {abs(end.more)} {'more' if end.more > 0 else 'fewer'} than before" if end.more else ""
    return f"{stitches_in_full(end.stitches)} must be on the needle{changed}."


def cut_these(row: Row, places: Sequence[Place], terms: Terms = US) -> str:
    """What is cut at the turn, all together; "" when nothing is."""
    if not places:
        return ""
    told = "; ".join(strand_place(row, place.segment, terms) for place in places)
    return f"Cut, leaving a tail: {told}."


def cut_left_over(end: RowEnd, terms: Terms = US) -> str:
    """Strands from rows below that are not needed any more, since it was worked otherwise than planned; "" when there
    are none."""
    told = "; ".join(strand_joined(row, segment, terms) for row, segment in end.left_over)
    return f"Cut too, not needed any more: {told}." if told else ""


def leave_these(row: Row, end: RowEnd, terms: Terms = US) -> str:
    """Strands that rest over the next rows; "" when none does."""
    told = [
        f"{strand_place(row, place.segment, terms)} (rests {rows} row{'' if rows == 1 else 's'})"
        for place, rows in end.rests
    ]
    return f"Leave hanging, do not cut: {'; '.join(told)}." if told else ""


def turn(end: RowEnd) -> str:
    """How to turn, so that the strands uncross again; "" where there is no turn."""
    match end.tip:
        case "toward":
            return "Turn, the needle's tip toward you."
        case "away":
            return "Turn, the needle's tip away from you."
        case _:
            return ""


def divides(end: RowEnd, terms: Terms = US, *, is_short: bool = False) -> str:
    """Where the piece divides: which part is worked first, and what waits on a holder; "" elsewhere."""
    told = end.divides
    if told is None:
        return ""
    first, other = (part_told(part, terms) for part in (told.first, _OTHER[told.first]))
    works = stitches_in_full(told.works)
    if told.is_bound_off_first:
        works = f"{stitches_in_full(told.works + told.middle)}, of which the {told.middle} in the middle go first"
    waiting = [f"{told.waits} of the {other}"]
    if told.middle and not told.is_bound_off_first:
        waiting.insert(0, f"{told.middle} in the middle{', to stay there' if told.is_held else ''}")
    if is_short:
        return f"Divide: {told.first} part first, {works}; on a holder {listed(waiting)}."
    return (
        f"The piece divides here: the {first} is worked first, on {works}. On a holder wait "
        f"{', and '.join(waiting) if told.is_held and len(waiting) > 1 else listed(waiting)}."
    )


def goes(end: RowEnd) -> str:
    """Where rounds end and flat rows begin, or the other way about; "" elsewhere."""
    match end.goes:
        case "flat":
            return "From here work flat: turn after every row."
        case "round":
            return "From here work round again, without turning, and pull the first stitch tight."
        case _:
            return ""


def takes_up(end: RowEnd, terms: Terms = US, *, is_short: bool = False) -> str:
    """Once a part is bound off, taking up the other one; "" elsewhere."""
    told = end.takes_up
    if told is None:
        return ""
    back = stitches_in_full(told.stitches) + (f" and the {told.middle} in the middle" if told.middle else "")
    if is_short:
        return f"Cut it, take up the {told.part} part: its {back}, {side_facing(told.side)}."
    return (
        "Cut it, leaving a tail, draw it through the last stitch, and take up the "
        f"{part_told(told.part, terms)}: its {back} back on the needle, {side_facing(told.side)}."
    )


_OTHER: dict[Part, Part] = {"left": "right", "right": "left"}


def part_told(part: Part, terms: Terms = US) -> str:
    """A part as seen from the right side, and of a garment as the wearer's: "left part (the wearer's right)"."""
    if not terms.worn:
        return f"{part} part"
    wearers = part if terms.worn == "back" else _OTHER[part]
    return f"{part} part (the wearer's {wearers})"


def have_ready(end: RowEnd) -> str:
    """The new strands of the next row: "Have ready: new brick, new sea (2)"; "" when there are none."""
    names = [_new(yarn, n) for yarn, n in Counter(end.ready).items()]
    names += [f"{_new(yarn, n)} wound from both ends" for yarn, n in Counter(end.shared).items()]
    return f"Have ready: {', '.join(names)}." if names else ""


def _new(yarn: str, lengths: int) -> str:
    return f"new {yarn}" if lengths == 1 else f"new {yarn} ({lengths})"


def at_the_end(row: Row, end: RowEnd, ready_ends: int, terms: Terms = US) -> list[str]:
    """Everything that stands at a row's end, in the order in which it is done."""
    cut, left_over = cut_these(row, end.cuts, terms), cut_left_over(end, terms)
    told = [counted(end), cut, left_over, leave_these(row, end, terms), divides(end, terms), turn(end), goes(end)]
    if end.bind_off:
        told.append(f"Then {terms.bind_off} in {end.bind_off}.")
    told += [takes_up(end, terms), have_ready(end)]
    if ready_ends:
        told.append(ends_ready(ready_ends, terms))
    return [text for text in told if text]


def how_to_read(terms: Terms = US) -> tuple[str, ...]:
    """What a reader of written rows must know once: both sides, and what "cross" asks for."""
    return (
        "Right-side rows (RS) are worked with the right side toward you, wrong-side rows (WS) with the wrong side; "
        "every row is told in the order in which the hands work it.",
        "Cross at each change: the old strand before the new. On the fabric's wrong side (at the back on RS rows, "
        f"in front on WS rows) lay the old strand to your {terms.going} across the new one, then take the new one "
        "up from under it.",
    )


def how_to_slip() -> str:
    """What a reader of written rows must know once where edge stitches are slipped."""
    return (
        "At a row's start slip the first stitch purlwise (sl1) where that is told, the strand on the fabric's wrong "
        "side: at the back on RS rows, in front on WS rows."
    )


def written_row(row: Row, runs: Sequence[RunSteps], end: RowEnd, terms: Terms = US) -> str:
    """One row of the written pattern, with the word "cross" at each change; a cast-on in several strands has a line
    of its own before it."""
    told = "; ".join(_written_run(run, terms) for run in runs)
    name = "Round" if row.is_round else "Row"
    parts = [f"{name} {row_number(row)} ({row.side}): {told}. ({count(end.stitches)})"]
    parts += [cut_these(row, end.cuts, terms), leave_these(row, end, terms), divides(end, terms), goes(end)]
    if end.bind_off:
        parts.append(f"{sentence(terms.bind_off)} in {end.bind_off}.")
    parts.append(takes_up(end, terms))
    return " ".join(part for part in parts if part)


_JOINED = {
    "": "join", "first": "start at the middle of a length of", "second": "start with the other half of that length of"
}


def _written_run(run: RunSteps, terms: Terms) -> str:
    """One run of a written row: how its strand comes in, then the stitches."""
    lead: list[str] = []
    carried = half = ""
    for step in run.steps:
        match step:
            case Join():
                half = step.half
            case CastOn(sections=()):
                lead.append(cast_on_in_short(step))
            case Fetch(_, stitches, is_ahead, _):
                carried = f" (carried {count(stitches)} {'from ahead' if is_ahead else 'on'})"
            case Cross():
                lead.append("cross")
            case Hold(old, _, _):
                lead.append(f"under {old}")
            case _:
                pass
    verb = _JOINED[half] if run.is_joined else "with"
    lead.append(f"{verb} {run.segment.yarn}{carried} {work_in_short(run.work, terms)}")
    return ", ".join(lead)
