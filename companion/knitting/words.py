"""Every sentence that tells a step, once. Screens, written rows and messages take their words from here.

Strands lie on the fabric's wrong side: at the back on right-side rows, in front on wrong-side rows, so every
sentence about a cross or a carry has both forms. The hands go from right to left on both sides; a knitter who
works mirrored goes from left to right.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from fractions import Fraction
from typing import Literal

from companion.knitting.ends import End, EndState
from companion.knitting.floats import Mark
from companion.knitting.hangs import Hang
from companion.knitting.rows import Hand, Place, Row, Side
from companion.knitting.steps import (
    CastOn,
    Cross,
    Fetch,
    Hold,
    Join,
    RowEnd,
    RunSteps,
    Steady,
    Step,
    Work,
)
from companion.knitting.strands import Strands, StrandSummary, Total


@dataclass(frozen=True, slots=True)
class Terms:
    """Whose words: the trade's US or UK terms, and whether the knitter works mirrored (left-handed)."""

    dialect: Literal["us", "uk"] = "us"
    is_mirrored: bool = False

    @property
    def going(self) -> str:
        """The hand's side toward which the work goes."""
        return "right" if self.is_mirrored else "left"

    @property
    def coming(self) -> str:
        """The hand's side from which the work comes."""
        return "left" if self.is_mirrored else "right"

    @property
    def bind_off(self) -> str:
        """Bind off (US), cast off (UK)."""
        return "bind off" if self.dialect == "us" else "cast off"


US = Terms()


def tell(step: Step, terms: Terms = US) -> str:
    """One step as a sentence for the hands."""
    match step:
        case CastOn(yarn, stitches):
            return f"Cast on {count(stitches)} in {yarn} and work on with the same strand."
        case Steady(yarn, side):
            if side == "RS":
                return f"Take {yarn} to the back first."
            return f"Bring {yarn} to the front first."
        case Join(yarn, old, side):
            knot = f", half-knot it round {old} or let it hang" if old else ""
            return f"Join new {yarn} {where_strands_lie(side)}: leave a tail{knot}."
        case Fetch():
            return _fetched(step)
        case Hold(old, new, side):
            old_name, new_name = told_apart(old, new)
            return f"Hold the edge: bring {new_name} under {old_name} {where_strands_lie(side)}, then work."
        case Cross(old, new, side):
            old_name, new_name = told_apart(old, new)
            return (
                f"Cross the old strand before the new, {where_strands_lie(side)}: lay {old_name} to your "
                f"{terms.going} across {new_name}, then take {new_name} up from under it."
            )
        case Work(yarn):
            return f"{sentence(work_in_full(step))} in {yarn}."


def _fetched(step: Fetch) -> str:
    """How a strand comes from where it hangs to the run."""
    yarn, away, lie = sentence(step.yarn), count(step.stitches), where_strands_lie(step.side)
    if step.is_behind:
        measured = f" ({centimetres(step.cm)})" if step.cm else ""
        return f"{yarn} waits {away}{measured} back in this row: spread those stitches, carry it slack {lie}."
    if step.is_ahead:
        return f"{yarn} hangs {away} ahead: spread those stitches, bring it back slack {lie}."
    return f"{yarn} hangs {away} back: carry it on slack {lie}."


def centimetres(length: Fraction | float) -> str:
    """A length to half a centimetre: "2.5 cm", "4 cm"."""
    halves = round(float(length) * 2)
    return f"{halves // 2}{'.5' if halves % 2 else ''} cm"


def work_in_full(work: Work) -> str:
    """A run's knits and purls, and what is done to other strands on the way: "knit 3, catch sand, knit 4"."""
    return _with_marks(work, in_full)


def work_in_short(work: Work) -> str:
    """The same in the trade's abbreviations: "k3, catch sand, k4"."""
    return _with_marks(work, in_short)


def _with_marks(work: Work, told_as: Callable[[Sequence[tuple[Hand, int]]], str]) -> str:
    told: list[str] = []
    at = 0
    for mark in work.marks:
        if part := _part(work.hands, at, mark.after):
            told.append(told_as(part))
        told.append(_marked(mark))
        at = mark.after
    if part := _part(work.hands, at, work.stitches):
        told.append(told_as(part))
    return ", ".join(told)


def _marked(mark: Mark) -> str:
    if mark.is_resting:
        return f"catch the resting {mark.yarn}" if mark.is_caught else f"leave the resting {mark.yarn}"
    return f"catch {mark.yarn}"


def _part(hands: Sequence[tuple[Hand, int]], start: int, stop: int) -> list[tuple[Hand, int]]:
    """The knits and purls of the stitches ``start + 1`` to ``stop``."""
    part: list[tuple[Hand, int]] = []
    at = 0
    for hand, n in hands:
        taken = min(at + n, stop) - max(at, start)
        if taken > 0:
            part.append((hand, taken))
        at += n
    return part


def told_apart(old: str, new: str) -> tuple[str, str]:
    """Names of two strands, different even when they are of one yarn."""
    return (old, new) if old != new else (f"the old {old}", f"the new {new}")


def where_strands_lie(side: Side) -> str:
    """The fabric's wrong side, as the knitter meets it on a row of this side."""
    return "at the back" if side == "RS" else "in front"


def count(stitches: int) -> str:
    """So many stitches, in the trade's short form: "1 st", "2 sts"."""
    return "1 st" if stitches == 1 else f"{stitches} sts"


def stitches_in_full(stitches: int) -> str:
    """So many stitches: "1 stitch", "2 stitches"."""
    return "1 stitch" if stitches == 1 else f"{stitches} stitches"


def how_many(number: int, noun: str) -> str:
    """So many of a thing whose plural takes an s: "1 strand", "9 strands"."""
    return f"{number} {noun}" if number == 1 else f"{number} {noun}s"


def sentence(text: str) -> str:
    """The text with its first letter large."""
    return text[:1].upper() + text[1:]


def listed(names: Sequence[str]) -> str:
    """Names in a row: "a", "a and b", "a, b and c"."""
    return " and ".join([", ".join(names[:-1]), names[-1]] if len(names) > 1 else list(names))


VERBS: dict[Hand, str] = {"k": "knit", "p": "purl"}


def in_full(hands: Sequence[tuple[Hand, int]]) -> str:
    """Knits and purls in words: "knit 8", "(knit 2, purl 2) 3 times, knit 2"."""
    return _repeats([f"{VERBS[hand]} {n}" for hand, n in hands])


def in_short(hands: Sequence[tuple[Hand, int]]) -> str:
    """Knits and purls in the trade's abbreviations: "k8", "(k2, p2) 3 times, k2"."""
    return _repeats([f"{hand}{n}" for hand, n in hands])


def _repeats(told: Sequence[str]) -> str:
    """The pieces in a list, a pair that repeats told once with its number of times."""
    parts: list[str] = []
    at = 0
    while at < len(told):
        pair = told[at:at + 2]
        times = 1
        while len(pair) == 2 and told[at + 2 * times:at + 2 * times + 2] == pair:
            times += 1
        if times > 1:
            parts.append(f"({', '.join(pair)}) {times} times")
            at += 2 * times
        else:
            parts.append(told[at])
            at += 1
    return ", ".join(parts)


def side_facing(side: Side) -> str:
    """Which side faces the knitter while the row is worked."""
    return "right side toward you" if side == "RS" else "wrong side toward you"


def ordinal(number: int) -> str:
    """First, second ... in words up to ten, then 11th, 22nd."""
    words = ["first", "second", "third", "fourth", "fifth", "sixth", "seventh", "eighth", "ninth", "tenth"]
    if number <= len(words):
        return words[number - 1]
    ending = "th" if 10 <= number % 100 <= 20 else {1: "st", 2: "nd", 3: "rd"}.get(number % 10, "th")
    return f"{number}{ending}"


def strand_place(row: Row, segment: int, terms: Terms = US, *, is_turned: bool = False) -> str:
    """A strand told by its place in a row as that row is held: "the sand between brick and sea, third from the
    right". Yarn carries no number, so nothing else tells two strands of one yarn apart. ``is_turned``: the work
    is held the other way round now."""
    runs = row.segments[::-1] if is_turned else row.segments
    at = len(runs) - 1 - segment if is_turned else segment
    yarn = runs[at].yarn
    if len(runs) == 1:
        return f"the {yarn}"
    if at == 0:
        return f"the {yarn} at the {terms.coming} edge, beside {runs[1].yarn}"
    if at == len(runs) - 1:
        return f"the {yarn} at the {terms.going} edge, beside {runs[-2].yarn}"
    between = f"between {runs[at - 1].yarn} and {runs[at + 1].yarn}"
    return f"the {yarn} {between}, {ordinal(at + 1)} from the {terms.coming}"


def row_title(row: Row, rows: int) -> str:
    """Which row this is: "Row 23 of 90, wrong side toward you"."""
    name = "Round" if row.is_round else "Row"
    return f"{name} {row.number} of {rows}, {side_facing(row.side)}"


def counted(end: RowEnd) -> str:
    """The count to check at a row's end."""
    return f"{stitches_in_full(end.stitches)} must be on the needle."


def cut_these(row: Row, places: Sequence[Place], terms: Terms = US) -> str:
    """What is cut at the turn, all together; "" when nothing is."""
    if not places:
        return ""
    told = "; ".join(strand_place(row, place.segment, terms) for place in places)
    return f"Cut, leaving a tail: {told}."


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


def have_ready(end: RowEnd) -> str:
    """The new strands of the next row: "Have ready: new brick, new sea (2)"; "" when there are none."""
    if not end.ready:
        return ""
    names = [f"new {yarn}" if n == 1 else f"new {yarn} ({n})" for yarn, n in Counter(end.ready).items()]
    return f"Have ready: {', '.join(names)}."


LAST_OF_STRAND = "last of this strand"
"""The mark at a segment after which its strand is cut at the turn."""


def best_stop(row: Row, left: int, next_row: int) -> str:
    """How far the next good stopping place is: after a wrong-side row the strands hang uncrossed.

    ``left`` = stitches to the end of this row, ``next_row`` = stitches of the wrong-side row after it (0 = none).
    """
    name = "round" if row.is_round else "row"
    here = f"{stitches_in_full(left)} to the end of {name} {row.number}"
    if row.side == "WS" or row.is_round:
        return f"{here}, a good place to stop."
    if not next_row:
        return f"{here}, the last one."
    return (
        f"{here}; the best place to stop is after wrong-side row {row.number + 1}, "
        f"{stitches_in_full(left + next_row)} from here."
    )


def where_you_are(row: Row, done: int, terms: Terms = US) -> str:
    """Picking a piece up again, ``done`` segments into the row: what is on which needle and in the hand."""
    worked = sum(segment.stitches for segment in row.segments[:done])
    facing = f"{'Round' if row.is_round else 'Row'} {row.number}, {side_facing(row.side)}."
    if done == 0:
        return f"{facing} {stitches_in_full(row.stitches)} on the {terms.going} needle."
    yarn = row.segments[done - 1].yarn
    hand = f"You last worked {yarn}; the {yarn} strand is in your hand."
    if done == len(row.segments):
        return f"{facing} The row is done: {stitches_in_full(worked)} on the {terms.coming} needle. {hand}"
    return (
        f"{facing} {stitches_in_full(worked)} on the {terms.coming} needle, "
        f"{row.stitches - worked} on the {terms.going}. {hand}"
    )


def sides_cue(side: Side, terms: Terms = US) -> str:
    """How to tell the sides apart: the tail of a long-tail cast-on hangs where row 1 began."""
    corner = terms.coming if side == "RS" else terms.going
    return f"The cast-on tail hangs at the lower {corner} now (long-tail cast-on)."


def how_to_read(terms: Terms = US) -> tuple[str, ...]:
    """What a reader of written rows must know once: both sides, and what "cross" asks for."""
    return (
        "Right-side rows (RS) are worked with the right side toward you, wrong-side rows (WS) with the wrong side; "
        "every row is told in the order in which the hands work it.",
        "Cross at each change: the old strand before the new. On the fabric's wrong side (at the back on RS rows, "
        f"in front on WS rows) lay the old strand to your {terms.going} across the new one, then take the new one "
        "up from under it.",
    )


def strand_joined(row: Row, segment: int, terms: Terms = US) -> str:
    """Where a strand is joined: "row 7, the brick between sand and sea, third from the right"."""
    name = "round" if row.is_round else "row"
    return f"{name} {row.number}, {strand_place(row, segment, terms)}"


def written_row(row: Row, runs: Sequence[RunSteps], end: RowEnd, terms: Terms = US) -> str:
    """One row of the written pattern, with the word "cross" at each change."""
    told = "; ".join(_written_run(run) for run in runs)
    name = "Round" if row.is_round else "Row"
    parts = [f"{name} {row.number} ({row.side}): {told}. ({count(end.stitches)})"]
    parts += [text for text in (cut_these(row, end.cuts, terms), leave_these(row, end, terms)) if text]
    if end.is_bind_off:
        parts.append(f"{sentence(terms.bind_off)}.")
    return " ".join(parts)


def _written_run(run: RunSteps) -> str:
    """One run of a written row: how its strand comes in, then the stitches."""
    lead: list[str] = []
    carried = ""
    for step in run.steps:
        match step:
            case CastOn(yarn, stitches):
                lead.append(f"cast on {count(stitches)} in {yarn}")
            case Fetch(_, stitches, is_ahead, _):
                carried = f" (carried {count(stitches)} {'from ahead' if is_ahead else 'on'})"
            case Cross():
                lead.append("cross")
            case Hold(old, _, _):
                lead.append(f"under {old}")
            case _:
                pass
    verb = "join" if run.start == "join" and run.place != (0, 0) else "with"
    lead.append(f"{verb} {run.segment.yarn}{carried} {work_in_short(run.work)}")
    return ", ".join(lead)


def still_on_needle(left: int, stitches: int, terms: Terms = US) -> str:
    """How many stitches are still on the needle they are worked from, this run included."""
    return f"{left} of {stitches} still on the {terms.going} needle"


def still_to_work(left: int, stitches: int) -> str:
    """The same where there is little room."""
    return f"{left} of {stitches} to go"


def verb_of(hands: Sequence[tuple[Hand, int]]) -> str:
    """Knit or purl where a run is all one of them, else ""."""
    return VERBS[hands[0][0]] if len(hands) == 1 else ""


def same_strand(run: RunSteps) -> str:
    """What to do at a row's start where the strand hangs at the very stitch."""
    return f"The {run.segment.yarn} hangs at the edge, ready: work on with it."


def bind_off_now(stitches: int, terms: Terms = US) -> list[str]:
    """After the last row."""
    return [
        "Every row is worked.",
        f"{sentence(terms.bind_off)} {stitches_in_full(stitches)}, then mark it done.",
    ]


def remaining_ends(left: int, is_finished: bool) -> list[str]:
    """After the bind-off: what keeps the piece from being finished."""
    if is_finished:
        return ["Finished: bound off, and every end is woven in."]
    ends = "1 end" if left == 1 else f"{left} ends"
    return [f"Bound off. {ends} to weave in: see the list of ends."]


def hanging_at(hang: Hang) -> str:
    """Where one strand hangs: "sand in hand", "brick 8 sts ahead", "sand 12 sts back"."""
    if hang.is_in_hand:
        return f"{hang.yarn} in hand"
    if hang.away == 0:
        return f"{hang.yarn} at the tips"
    return f"{hang.yarn} {count(abs(hang.away))} {'ahead' if hang.away > 0 else 'back'}"


def hanging_place(strands: Strands, hang: Hang, row: int, terms: Terms = US) -> str:
    """A hanging strand told by its place, as the work is held while row ``row`` (from 0) is worked."""
    worked = strands.rows[hang.worked.row]
    is_turned = worked.toward != strands.rows[row].toward
    return strand_place(worked, hang.worked.segment, terms, is_turned=is_turned)


def cross_in_short(run: RunSteps) -> str:
    """The change into a run where the whole row is told at once; ``cross_rule`` says the rest above it."""
    told: list[str] = []
    for step in run.steps:
        match step:
            case Join():
                told.append("join new")
            case Fetch(_, stitches, is_ahead):
                told.append(f"hangs {count(stitches)} {'ahead' if is_ahead else 'back'}")
            case Cross(old, new):
                old, new = told_apart(old, new)
                told.append(f"cross: {old} over {new}")
            case Hold(old, new):
                old, new = told_apart(old, new)
                told.append(f"bring {new} under {old}")
            case CastOn(yarn, stitches):
                told.append(f"cast on {count(stitches)} in {yarn}")
            case _:
                pass
    if run.is_last:
        told.append(LAST_OF_STRAND)
    return ", ".join(told)


def cross_rule(side: Side, terms: Terms = US) -> str:
    """How every change of a row is made, told once above the row."""
    return (
        f"At every change cross the old strand before the new, {where_strands_lie(side)}: lay the old to your "
        f"{terms.going} across the new, then take the new up from under it."
    )


def at_the_end(row: Row, end: RowEnd, ready_ends: int, terms: Terms = US) -> list[str]:
    """Everything that stands at a row's end, in the order in which it is done."""
    told = [counted(end), cut_these(row, end.cuts, terms), leave_these(row, end, terms), turn(end), have_ready(end)]
    if end.is_bind_off:
        told.append(f"Then {terms.bind_off}.")
    if ready_ends:
        told.append(ends_ready(ready_ends))
    return [text for text in told if text]


def ends_ready(number: int) -> str:
    """How many ends can be woven in now."""
    return "1 end is ready to weave in." if number == 1 else f"{number} ends are ready to weave in."


def row_done(row: Row) -> str:
    """The lead at the turn."""
    return f"{'Round' if row.is_round else 'Row'} {row.number} is done."


def row_to_end(row: Row) -> str:
    """The lead while the row is being worked."""
    return f"At the end of {'round' if row.is_round else 'row'} {row.number}:"


def strands_title(number: int, terms: Terms = US) -> str:
    """Above the list of hanging strands."""
    return f"{number} strand{'' if number == 1 else 's'}, from the {terms.coming} needle to the {terms.going}:"


def rip_question(rows_done: int) -> str:
    """Asking how far to rip back."""
    return f"Rip back: which row stays as the last whole one? (0 to {rows_done}; 0 = the cast-on)"


def rip_told(rows: int, stitches: int, on_needle: int, woven: int) -> list[str]:
    """What ripping back undoes, and what must be on the needle after it."""
    told = [
        f"{rows} row{'' if rows == 1 else 's'} undone, {stitches_in_full(stitches)}.",
        f"Then {stitches_in_full(on_needle)} must be on the needle.",
    ]
    if woven:
        told.append(came_out(woven))
    return told


def came_out(woven: int) -> str:
    """Woven ends lost with the rows that were undone; "" where there are none."""
    if not woven:
        return ""
    return f"{'1 woven end comes' if woven == 1 else f'{woven} woven ends come'} out with the rows undone."


AT_ROW_QUESTION = "I am at the start of row ... (everything before it worked as planned)"


def note_question(row: int) -> str:
    """Asking for a note."""
    return f"A note on row {row} (empty: no note)"


CAUTION = (
    "Tired hands: stop at pain or tingling, take breaks, ask a professional when it stays.",
    "Baby clothes: no loose floats or ends inside; check your local safety rules.",
)


def ends_title(shown: str, number: int, ready: int) -> str:
    """Above the list of ends."""
    return f"Ends, {shown}: {number}. {ends_ready(ready) if ready else 'None is ready to weave in yet.'}"


_END_MARKS: dict[EndState, str] = {"not yet": " ", "too fresh": "·", "ready": "○", "woven": "✓"}


def end_line(strands: Strands, end: End, state: EndState, terms: Terms = US) -> str:
    """One end: its state, yarn, start or finish, and its place as the row was held."""
    row = strands.rows[end.place.row]
    told = strand_place(row, end.place.segment, terms)
    return f"{_END_MARKS[state]} {state:<9}  row {row.number} {row.side}, {end.kind:<6} of {told}"


def strand_line(strands: Strands, summary: StrandSummary, terms: Terms = US) -> str:
    """One strand: where it is joined, the rows it works, its stitches."""
    rows = strands.rows
    joined, cut = rows[summary.joined.row], rows[summary.cut.row]
    told = strand_place(joined, summary.joined.segment, terms)
    span = f"row {joined.number}" if joined is cut else f"rows {joined.number} to {cut.number}"
    carried = f", carried over {count(summary.carried)}" if summary.carried else ""
    return f"{summary.yarn}: {span}, {count(summary.stitches)}{carried}. Joined in row {joined.number} as {told}."


def strand_totals(total: Total) -> str:
    """The piece's figures in one line."""
    return (
        f"{total.strands} strands, {total.ends} ends; at most {total.most_at_once} at once; "
        f"{count(total.carried)} carried over."
    )


def card_line(name: str, rows_done: int, rows: int, state: str) -> str:
    """A piece in the work basket: how far it is."""
    return f"{name}: {state}" if state == "finished" else f"{name}: {state}, {rows_done} of {rows} rows"


def days_ago(days: int) -> str:
    """When a piece was last worked."""
    return "today" if days <= 0 else "yesterday" if days == 1 else f"{days} days ago"
