"""What life does to strands, and mistakes and what can be done about them, in words."""

from __future__ import annotations

from companion.knitting.cloth.rows import Place, Rows
from companion.knitting.hands.mistakes import MOST_SEWN, Laddering, Ripping, Sewing
from companion.knitting.strands.strands import Strands, Total
from companion.knitting.words.piece import put_on_needle
from companion.knitting.words.places import row_named, rows_noun, strand_place, the_other
from companion.knitting.words.terms import Terms, how_many, stitches_in_full

MISTAKE_BELOW = "Stitches below are wrong, or a cross was missed"
WRONG_STITCH = "In the right yarn, but the wrong stitch"
WHAT_TO_DO = "What is to be done about it?"


def mark_wrong(rows: Rows) -> str:
    """Asking which stitches are wrong."""
    return f"Mark the stitches of one {rows_noun(rows)} that are wrong."


def worked_in(yarn: str) -> str:
    """Stitches worked in another yarn than the plan's."""
    return f"Worked in {yarn}"


def cross_missed(rows: Rows, place: Place) -> str:
    """A missed cross, by the yarns that should have been crossed."""
    row = rows[place.row]
    old, new = row.segments[place.segment - 1].yarn, row.segments[place.segment].yarn
    new = the_other(new) if old == new else new
    return f"The cross of {old} over {new} was missed in {row_named(row)}"


def to_sew_over(sewing: Sewing, terms: Terms) -> str:
    """Sewing over a mistake, or why not."""
    if sewing.why_not == "many":
        return f"Not to be sewn over: more than {MOST_SEWN} stitches lie thick and stiff."
    if sewing.why_not == "colour":
        return "Not to be sewn over: that mends a colour, not a stitch."
    return f"Sew over it afterwards: {stitches_in_full(sewing.stitches)} in {terms.duplicate_stitch}."


_NO_LADDER = {
    "colour": "the yarn that lies there stays the same",
    "edge": "the edge stitch has nothing beside it",
    "off": "the stitches above it are {bound_off}, or wait on a holder",
    "area": "another strand lies beside it, its cross would come undone",
}


def to_ladder(laddering: Laddering, rows: Rows, terms: Terms) -> str:
    """Dropping stitches down to a mistake, or why not."""
    if laddering.why_not:
        return f"Not to be laddered down to: {_NO_LADDER[laddering.why_not].format(bound_off=terms.bound_off)}."
    stitches, down = stitches_in_full(laddering.columns), how_many(laddering.rows, rows_noun(rows))
    return f"Ladder down: drop {stitches} {down} down, and hook up again."


def to_leave(*, hangs_elsewhere: bool) -> str:
    """Leaving a mistake as it is."""
    if hangs_elsewhere:
        return "Leave it: strands hang elsewhere than planned, the rest is planned on from there."
    return "Leave it: every strand hangs where it should."


def to_rip(ripping: Ripping, rows: Rows) -> str:
    """Ripping down to a mistake: rows first, then stitch by stitch."""
    then = unpick_then(ripping)
    if not ripping.rows:
        return f"{then[0].upper()}{then[1:]}"
    on_needle = stitches_in_full(ripping.on_needle)
    row = row_named(rows[ripping.whole - 1])
    return f"Rip back {how_many(ripping.rows, rows_noun(rows))}, {row} stays: {on_needle} on the needle. Then {then}"


def unpick_then(ripping: Ripping) -> str:
    """What is unpicked after ripping."""
    return f"unpick {how_many(ripping.runs, 'run')}, {stitches_in_full(ripping.stitches)}, the wrong one last."


def now_unpick(ripping: Ripping, rows: Rows, terms: Terms) -> str:
    """The same once the rows are ripped, and their stitches held so that they can be unpicked."""
    held = ""
    if ripping.rows:
        held = f"{put_on_needle(ripping.on_needle, rows[ripping.whole - 1].side, terms.coming, terms)} "
    return f"{held}Now {unpick_then(ripping)}"


def close_hole(rows: Rows, hole: Place) -> str:
    """What the tail that is nearest to a missed cross does on its way."""
    row = rows[hole.row]
    old, new = row.segments[hole.segment - 1].yarn, row.segments[hole.segment].yarn
    return f"On its way close the hole between {old} and {new} in {row_named(row)}: a cross was missed there."


def no_tail_near(rows: Rows, hole: Place) -> str:
    """A missed cross without a tail near it."""
    row = row_named(rows[hole.row])
    return f"The hole in {row} has no tail near it: close it with a short length of its own."


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
    return f"{strand_place(row, last.segment, terms)}, in {row_named(row)}"


def planned_anew(before: Total, after: Total, terms: Terms) -> str:
    """What it comes to, in strands and ends of the whole piece."""
    more = after.ends - before.ends
    change = "as many as before" if not more else f"{abs(more)} {'more' if more > 0 else 'fewer'}"
    return (
        f"Told, and planned on from what hangs now: {how_many(after.strands, 'strand')}, "
        f"{how_many(after.ends, 'end')} to {terms.weave_in}, {change}."
    )
