"""What is said of the whole piece: coming back to it, stopping, undoing, binding off, and the work basket."""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from typing import assert_never

from companion.knitting.cloth.fabric import Part
from companion.knitting.cloth.rows import LONG_TAIL, Casting, Row, Rows, Side
from companion.knitting.hands.steps import AtEnd, BindOff, Finishing, SewOn, SewUp, Trim, Wash, WeaveAtSeams, WeaveIn
from companion.knitting.strands.floats import BABY_FLOAT_CM
from companion.knitting.words.places import row_named, row_noun, row_number, rows_noun, side_facing
from companion.knitting.words.steps import tell
from companion.knitting.words.terms import Terms, count, how_many, listed, measured, sentence, stitches_in_full


def take_in_hand(yarn: str) -> str:
    """At a row's start, where the strand that works it hangs at the edge."""
    return f"Take the {yarn} in hand."


def where_you_are(
    row: Row, done: int, left: int, terms: Terms, *, is_cut: bool = False, is_joined: bool = False
) -> str:
    """Picking a piece up again, ``done`` segments into the row: what is on which needle and in the hand. ``left``:
    so many stitches are on the needle it is worked from. ``is_cut``: the strand that worked last is cut;
    ``is_joined``: the row begins with a strand that is joined there."""
    worked = sum(segment.stitches for segment in row.segments[:done])
    facing, done_with = f"{sentence(row_named(row))}, {side_facing(row.side)}.", f"The {row_noun(row)} is done"
    if done == 0:
        first = row.segments[0].yarn
        begin = f"join new {first}" if is_joined else f"take the {first} in hand"
        return f"{facing[:-1]}: {stitches_in_full(left)} on the {terms.going} needle; {begin}."
    yarn = row.segments[done - 1].yarn
    hand = f"You last worked {yarn}; the {yarn} strand is in your hand."
    if done == len(row.segments) and is_cut:
        return f"{facing} {done_with}."
    if done == len(row.segments):
        return f"{facing} {done_with}: {stitches_in_full(worked)} on the {terms.coming} needle. {hand}"
    return (
        f"{facing} {stitches_in_full(worked)} on the {terms.coming} needle, "
        f"{left} on the {terms.going}. {hand}"
    )


def sides_cue(side: Side, terms: Terms, cast_on: Casting = LONG_TAIL, *, is_cut: bool = False) -> str:
    """How to tell the sides apart: the tail of a long-tail cast-on hangs where row 1 began, that of a knitted or
    cable one at the other corner. ``is_cut``: a strand was joined at row 1's start, so that its tail hangs there.
    """
    corner, other = terms.coming, terms.going
    if side == "WS":
        corner, other = other, corner
    if is_cut:
        return f"The first strand was joined in at the lower {corner} now, and its tail hangs there."
    if cast_on.method != "long-tail":
        corner = other
    tail = "A" if cast_on.is_each else "The"
    return f"{tail} cast-on tail hangs at the lower {corner} now ({cast_on.method} cast-on)."


def best_stop(row: Row, left: int, following: Row | None) -> str:
    """How far the next good stopping place is: after a wrong-side row the strands hang uncrossed.

    ``left`` = stitches to the end of this row (0: it is done, and where that is a good place nothing is said),
    ``following`` the wrong-side row after it (None: there is none).
    """
    is_good = row.side == "WS" or row.is_round
    if not left:
        return "" if is_good or following is None else sentence(_best_after(following, following.stitches))
    here = f"{stitches_in_full(left)} to the end of {row_named(row)}"
    if is_good:
        return f"{here}, a good place to stop."
    if following is None:
        return f"{here}, the last one."
    return f"{here}; {_best_after(following, left + following.stitches)}"


def _best_after(row: Row, stitches: int) -> str:
    """The best place, so many stitches away."""
    away = stitches_in_full(stitches)
    return f"the best place to stop is after wrong-side row {row_number(row)}, {away} from here."


def before_stopping(row: Row, steps: Sequence[AtEnd], terms: Terms) -> str:
    """What is still to be done at a row's end, for her who wants to stop there."""
    verbs = listed([tell(step, "verb", terms) for step in steps])
    return f"{sentence(row_named(row))} is done; before you stop: {verbs}."


def at_row_question(rows: Rows) -> str:
    """Asking where she is."""
    return f"I am at the start of {rows_noun(rows)} ... (everything before it worked, joined and cut as planned)"


def note_question(row: Row) -> str:
    """Asking for a note."""
    return f"A note on {row_named(row)} (empty: no note)"


def rip_question(last: Sequence[str], rows: Rows) -> str:
    """Asking how far to rip back. ``last``: the last row of every part that may stay, as it is typed."""
    upto = ", ".join(f"{row.rpartition(' ')[0]} 1 to {row}" if " " in row else f"0 to {row}" for row in last)
    return f"Rip back: which {rows_noun(rows)} stays as the last whole one? ({upto}; 0 = the cast-on)"


def put_on_needle(stitches: int, side: Side, hand: str, terms: Terms) -> str:
    """After rows are ripped: on which needle their stitches go and how they sit on it (common practice, no source).
    ``side``: the one that faces the knitter then; ``hand``: whose needle it is."""
    one = "it goes" if stitches == 1 else "they go"
    sits = "its" if stitches == 1 else "each with its"
    return (
        f"{stitches_in_full(stitches)} must be left: {one} on the {hand} needle, {side_facing(side)}, "
        f"{sits} {terms.coming} leg in front."
    )


def rip_told(
    number: int, stitches: int, on_needle: int, woven: int, terms: Terms, *, rows: Rows, side: Side,
    from_part: Part = "", to_part: Part = "", is_apart: bool = False, free: Sequence[str] = (),
) -> list[str]:  # fmt: skip
    """What ripping back so many of its ``rows`` undoes, and what must be on the needle after it, held to go on with
    the ``side`` of the row that then comes. ``from_part``, ``to_part``: the parts beside one opening where it begins
    and ends, which are joined above it if ``is_apart``; ``free``: the yarn of every strand joined in what is undone.
    """
    lines = [
        f"{how_many(number, rows_noun(rows))} undone, {stitches_in_full(stitches)}.",
        f"Pull the strands out. {put_on_needle(on_needle, side, terms.going, terms)}",
    ]
    if to_part and from_part != to_part:
        holder = f"put the stitches of the {'right' if to_part == 'left' else 'left'} part on a holder."
        undo = f"Undo the {terms.bind_off.replace(' ', '-')} of the {to_part} part"
        if is_apart:
            undo = f"The {to_part} part comes back from its holder" if from_part else "The parts come apart"
        lines.append(f"{undo}; {holder}")
    elif from_part and not to_part:
        lines.append(f"Stitches on a holder come back on the needle; what was {terms.bound_off} between is undone.")
    if free:
        each = ", ".join(f"{number} of {yarn}" for yarn, number in Counter(free).items())
        lines.append(f"Strands joined there fall free: {each}.")
    if woven:
        lines.append(came_out(woven, terms))
    return lines


def how_to_unpick(terms: Terms) -> str:
    """Stitch by stitch, knits and purls alike (common practice, no source)."""
    return (
        f"Unpick stitch by stitch: the {terms.going} needle goes from the front into the stitch below the first one "
        f"on the {terms.coming} needle, that one slips off, and its strand is pulled out."
    )


TURN_BACK = "Turn the work back first."
"""Before what lies behind a row's start is unpicked, where the work was held turned."""


def for_baby(terms: Terms) -> str:
    """Why floats are caught more closely in a baby's piece."""
    return (
        f"For a baby: floats over {measured(BABY_FLOAT_CM, terms)} are caught, since fingers and toes catch in them. "
        "Leave no loose floats or ends inside, and check your local safety rules."
    )


def came_out(woven: int, terms: Terms) -> str:
    """Woven ends lost with what was undone; "" where there are none."""
    if not woven:
        return ""
    ends = f"1 end {terms.woven_in} comes" if woven == 1 else f"{woven} ends {terms.woven_in} come"
    return f"{ends} out with what is undone."


def to_finish(step: Finishing | None, terms: Terms, key: str) -> list[str]:
    """What is to be done now once every row is worked, and what the ``key`` does then; None = nothing any more."""
    match step:
        case None:
            return [f"Finished: {terms.bound_off}, every end {terms.woven_in}, washed and trimmed."]
        case WeaveIn() | WeaveAtSeams() | SewOn():
            pressing = f"Press {key} for the {when_pressed(step, terms)}."
        case _:
            they = "they are" if isinstance(step, Trim) else "it is"
            pressing = f"Then press {key}: {they} {when_pressed(step, terms)}."
    return [tell(step, "full", terms), pressing]


def when_pressed(step: Finishing, terms: Terms) -> str:
    """What is done, or shown, when the step is marked done, in a word or two."""
    match step:
        case BindOff():
            return terms.bound_off
        case WeaveIn() | WeaveAtSeams():
            return "list of ends"
        case SewOn():
            return "list of what is sewn on"
        case Wash():
            return "washed"
        case Trim():
            return "trimmed"
        case SewUp():
            return "sewn up"
        case _:
            assert_never(step)


def card_line(name: str, rows_done: int, rows: int, state: str, ends_left: int = 0, areas_left: int = 0) -> str:
    """A piece in the work basket: how far it is."""
    line = f"{name}: {card_state(state, ends_left, areas_left)}"
    return line if state in ("bound off", "finished") else f"{line}, {rows_done} of {rows} rows"


def in_row(row: Row, done: int) -> str:
    """How far a row is, ``done`` segments into it: "row 12, 8 of 24 sts"; "" where it is not begun."""
    worked = sum(segment.stitches for segment in row.segments[:done])
    return f"{row_named(row)}, {worked} of {count(row.stitches)}" if done else ""


def card_state(state: str, ends_left: int = 0, areas_left: int = 0) -> str:
    """Its state, and what finishing still needs: "on the needles", "finishing: 12 ends"."""
    if state != "bound off":
        return state
    left = [how_many(n, what) for n, what in ((ends_left, "end"), (areas_left, "area")) if n]
    return ": ".join(["finishing", *([", ".join(left)] if left else [])])


OPENED = "Opened, not begun yet:"
"""Above the pieces of which no stitch is worked."""

NO_PIECES = "No piece is on your needles yet. One is begun with: rowside knit PLAN"


def days_ago(days: int) -> str:
    """When a piece was last worked."""
    return "today" if days <= 0 else "yesterday" if days == 1 else f"{days} days ago"


def shown_by(key: str) -> str:
    """At the end of what has no room: the ``key`` that shows all of it; "" = there is none."""
    return f"... {key} shows all" if key else "..."


BREAK = "Time to put the needles down for some minutes and stretch; at pain or tingling ask a professional."
"""As often as the knitter has set; 30 to 45 minutes is a physical therapist's advice to knitters."""

CAUTION = (
    "Tired hands: stop at pain or tingling, take breaks, ask a professional when it stays.",
    "Baby clothes: no loose floats or ends inside; check your local safety rules.",
)
