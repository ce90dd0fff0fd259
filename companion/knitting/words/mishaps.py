"""What life does to strands, asked for and answered."""

from __future__ import annotations

from companion.knitting.cloth.rows import Place
from companion.knitting.strands.strands import Strands, Total
from companion.knitting.words.places import row_number, strand_place
from companion.knitting.words.terms import Terms, how_many, stitches_in_full

WHAT_HAPPENED = "What happened?"
WHICH_STRAND = "Which strand worked it?"


def length_ended(yarn: str, *, is_spliced: bool) -> str:
    """A length that ran out, has a knot or was cut."""
    how = "splice the next to it, no end" if is_spliced else "join the next, two more ends"
    return f"This {yarn} ran out, has a knot or was cut: {how}"


def ended_after(yarn: str, stitches: int) -> str:
    """Asking where a length ends."""
    return f"After how many of the {stitches_in_full(stitches)} does this {yarn} end? (0: before the first)"


def _run(strands: Strands, place: Place, *, is_worked: bool) -> str:
    segment = strands.rows.segment(place)
    return f"{'the last' if is_worked else 'this'} {segment.yarn}, {stitches_in_full(segment.stitches)}"


def joined_after_all(strands: Strands, place: Place, *, is_worked: bool) -> str:
    """A new strand was joined where another was planned to go on."""
    return f"I joined a new strand for {_run(strands, place, is_worked=is_worked)}"


def went_on(strands: Strands, place: Place, *, is_worked: bool) -> str:
    """A strand that hung there was gone on with where another was planned."""
    return f"I went on with another strand for {_run(strands, place, is_worked=is_worked)}"


def hangs_from(strands: Strands, last: Place, terms: Terms) -> str:
    """A strand by the run it worked last."""
    row = strands.rows[last.row]
    return f"{strand_place(row, last.segment, terms)}, in row {row_number(row)}"


def planned_anew(before: Total, after: Total, terms: Terms) -> str:
    """What it comes to, in strands and ends of the whole piece."""
    more = after.ends - before.ends
    change = "as many as before" if not more else f"{abs(more)} {'more' if more > 0 else 'fewer'}"
    return (
        f"Told, and planned on from what hangs now: {how_many(after.strands, 'strand')}, "
        f"{how_many(after.ends, 'end')} to {terms.weave_in}, {change}."
    )
