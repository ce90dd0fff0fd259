"""A row in words: its title, its runs, what stands at its end, and the row as a written pattern tells it."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from fractions import Fraction
from typing import Literal, assert_never

from companion.knitting.cloth.rows import Row
from companion.knitting.hands import steps as do
from companion.knitting.hands.runs import RunSteps
from companion.knitting.value import Record
from companion.knitting.words.bound_off import MOST_TOLD
from companion.knitting.words.places import row_named, row_noun, side_facing, the_other
from companion.knitting.words.steps import Register, tell
from companion.knitting.words.terms import Terms, count, measured, sentence

LAST_OF_STRAND = "last of this strand"
"""The mark at a run after which its strand is cut at the row's end."""

LOOK_ONLY = "look only"
"""Nothing can be done to the piece here."""


def note_told(note: str) -> str:
    """The knitter's note on a row."""
    return f"Note: {note}" if note else ""


def plan_says(text: str) -> str:
    """What the plan says at a section's first row, marked as the plan's words."""
    return f"The plan says: {text}" if text else ""


def row_of(row: Row, rows: int) -> str:
    """Which row of how many: "Row 23 of 90", "Left part, row 5 of 12"."""
    if row.part:
        return f"{row.part.capitalize()} part, row {row.number} of {rows}"
    return f"{sentence(row_noun(row))} {row.number} of {rows}"


def row_in_large(row: Row) -> str:
    """A row for large letters: "ROW 23", "LEFT ROW 5", "ROUND 8"."""
    return f"{row.part} {row_noun(row)} {row.number}".strip().upper()


def height(done: Fraction, whole: Fraction, terms: Terms) -> str:
    """How high the piece is and will be, by the gauge: "12.5 of 40 cm high"."""
    return f"{measured(done, terms).rpartition(' ')[0]} of {measured(whole, terms)} high"


def row_done(row: Row) -> str:
    """The lead at the turn."""
    return f"{sentence(row_named(row))} is done."


def turned(row: Row) -> str:
    """In the place of the turn, where the next ``row`` is held already."""
    return f"It is turned, {side_facing(row.side)}."


def row_to_end(row: Row) -> str:
    """The lead while the row is being worked."""
    return f"At the end of {row_named(row)}:"


def still_on_needle(left: int, stitches: int, terms: Terms) -> str:
    """How many stitches are still on the needle they are worked from, this run included."""
    return f"{left} of {stitches} still on the {terms.going} needle"


def work_in_full(run: RunSteps, terms: Terms) -> str:
    """A run's knits and purls, and what is done on the way: "knit 3, catch sand, knit 4"."""
    return _inside(run, "short", terms)


def counted(run: RunSteps, terms: Terms) -> str:
    """A run's yarn and stitches and no more: "Tide, purl 12."."""
    return f"{sentence(run.segment.yarn)}, {work_in_full(run, terms)}."


def work_in_short(run: RunSteps, terms: Terms) -> str:
    """The same in the trade's abbreviations: "k3, catch sand, k4"."""
    return _inside(run, "written", terms)


def _inside(run: RunSteps, register: Register, terms: Terms) -> str:
    parts, is_more = list[str](), False
    for step in run.inside:
        parts.append(tell(step, register, terms))
        if is_more and isinstance(step, do.Work):
            parts[-1] += " more"  # one of the run's stitches is left of those bound off
            is_more = False
        is_more = is_more or (isinstance(step, do.Shape) and step.how == "bind off")
    return ", ".join(parts)


def into_run(
    run: RunSteps, terms: Terms, register_of: Callable[[do.Step], Literal["full", "short", ""]] = lambda _: "full",
    tell: Callable[[do.Step, Register, Terms], str] = tell,
) -> list[str]:
    """What to do before a run's first stitch, as sentences, and what is to be known of it: that its first stitch is
    slipped, and where its length ends. ``register_of``: how a step is told, "" = not at all; ``tell``: how one is
    told in it, for those who keep what is told."""
    if several := _several(run.before):
        before = several.in_full(is_round=run.is_round)
    else:
        before = [tell(step, "full", terms) for step in run.before]
    into = [tell(step, register, terms) for step in run.into if (register := register_of(step))]
    return [*before, *into, *known_of(run, terms, tell)]


def known_of(run: RunSteps, terms: Terms, tell: Callable[[do.Step, Register, Terms], str] = tell) -> list[str]:
    """What is to be known of a run before its first stitch, in full always. ``tell`` as in ``into_run``."""
    known = (step for step in run.inside if isinstance(step, do.Slip | do.Renew | do.Splice))
    return [tell(step, "full", terms) for step in known]


def _runs_backward(*, is_round: bool) -> str:
    noun = "round" if is_round else "row"
    return f"a strand of its own for every run of {noun} 1, from the last run to the first, crossed at each change"


class _Several(Record):
    """A cast-on in several strands: all its stitches, and its sections in the order in which the hands do them."""

    stitches: str
    method: str
    sections: str
    is_listed: bool

    def in_full(self, *, is_round: bool) -> list[str]:
        """As sentences for the hands."""
        each = f"each section in a strand of its own: {self.sections}" if self.is_listed else (
            _runs_backward(is_round=is_round)
        )
        back = (
            "Do not join yet: round 1 goes back over them with the strands as they hang, and is joined at its end."
            if is_round else
            "Row 1 goes back over them with the strands as they hang."
        )
        return [
            f"Cast on {self.stitches} ({self.method}), {each}.",
            f"At each cross lay the old strand over the new one, then take the new one up from under it. {back}",
        ]


def _several(steps: Sequence[do.Before]) -> _Several | None:
    cast = [step for step in steps if isinstance(step, do.CastOn)]
    if len(cast) < 2:
        return None
    sections = "; cross, ".join(f"{count(step.stitches)} in {step.yarn}" for step in cast)
    return _Several(count(sum(step.stitches for step in cast)), cast[0].method, sections, len(cast) <= MOST_TOLD)


def cast_on_heading(steps: Sequence[do.Before], terms: Terms, *, is_round: bool) -> str:
    """The cast-on among what a piece needs."""
    if several := _several(steps):
        noun = "round" if is_round else "row"
        return f"Cast on: {several.stitches}, each section of {noun} 1 in a strand of its own ({several.method})"
    cut = ", cut after it" if any(isinstance(step, do.CutCastOn) for step in steps) else ""
    return f"Cast on: {tell(steps[0], 'written', terms).removeprefix('cast on ')}{cut}"


def written_cast_on(steps: Sequence[do.Before], *, is_round: bool) -> str:
    """A line of the written pattern before row 1, where several strands cast on; "" where one does."""
    several, joined = _several(steps), ", not joined yet" if is_round else ""
    return f"Cast on ({several.method}{joined}): {several.sections}. ({several.stitches})" if several else ""


def change_in_short(
    run: RunSteps, terms: Terms, tell: Callable[[do.Step, Register, Terms], str] = tell, *, has_crosses: bool = True
) -> str:
    """The change into a run where the whole row is told at once; ``cross_rule`` says the rest above it, and without
    ``has_crosses`` alone that it is crossed. ``tell`` as in ``into_run``."""
    several = _several(run.before)
    if several and several.is_listed:
        parts = [f"cast on {several.sections} ({several.method})"]
    elif several:
        parts = [f"cast on {several.stitches} ({several.method}), {_runs_backward(is_round=run.is_round)}"]
    else:
        parts = [_clause(tell(step, "written", terms)) for step in run.before]
    into = [step for step in run.into if has_crosses or not isinstance(step, do.Cross)]
    parts += [_clause(tell(step, "short", terms)) for step in into]
    return ", ".join([*parts, *([LAST_OF_STRAND] if run.is_last else [])])


def _clause(text: str) -> str:
    """A sentence as part of another one."""
    return text[:1].lower() + text[1:].rstrip(".")


def at_the_end(
    steps: Sequence[do.AtEnd], terms: Terms, *, is_short: bool = False,
    tell: Callable[[do.AtEnd, Register, Terms], str] = tell,
) -> list[str]:
    """What stands at a row's end, in the order in which it is done. In short: cuts by place alone, new lengths
    by yarn. ``tell``: how one step is told, for those who keep what is told."""
    short = (do.Cut, do.Divide, do.SetAside, do.TakeUp, do.JoinParts, do.HaveReady) if is_short else ()
    return [tell(step, "short" if isinstance(step, short) else "full", terms) for step in steps]


def and_then(steps: Sequence[do.AtEnd], terms: Terms, key: str) -> str:
    """The ``key`` that marks done what is told now, and what is to be done after it, in a word each: "Press space,
    then: have ready, turn."."""
    verbs = [tell(step, "verb", terms) for step in steps]
    return f"Press {key}, then: {', '.join(verbs)}." if verbs else f"Then press {key}."


ACT_DONE = "done"
"""What the key that marks done does at a row's end."""


def how_to_read(terms: Terms, *, is_round: bool = False) -> tuple[str, ...]:
    """What a reader of written rows must know once: both sides, and what "cross" asks for. ``is_round``: all of them
    are rounds."""
    sides, there = (
        "Right-side rows (RS) are worked with the right side toward you, wrong-side rows (WS) with the wrong side; "
        "every row is told in the order in which the hands work it.",
        "On the fabric's wrong side (at the back on RS rows, in front on WS rows)",
    )
    if is_round:
        sides = "The right side (RS) is toward you in every round, which is told in the order of the hands."
        there = "At the back"
    return (
        sides,
        f"Cross at each change: the old strand before the new. {there} lay the old strand to your {terms.going} "
        "across the new one, then take the new one up from under it.",
    )


def how_to_fetch(terms: Terms) -> str:
    """What a reader of written rows must know once where strands do not hang where they are needed."""
    return (
        f'A strand that "hangs 3 sts ahead" lies over the next 3 on your {terms.going} needle: bring it back to '
        f'where you are. One that "hangs 3 sts back" lies over the last 3 on your {terms.coming} needle: carry it '
        "on. Both lie slack on the fabric's wrong side."
    )


def how_to_share() -> str:
    """What a reader of written rows must know once where strands share runs."""
    return (
        'Where two strands of a yarn share a run, cross where the one stops, and go on with "the other" one, which '
        "hangs there or as near as is told."
    )


def how_to_slip() -> str:
    """What a reader of written rows must know once where edge stitches are slipped."""
    return (
        "At a row's start slip the first stitch purlwise (sl1) where that is told, the strand on the fabric's wrong "
        "side: at the back on RS rows, in front on WS rows."
    )


def written_row(row: Row, runs: Sequence[RunSteps], end: Sequence[do.AtEnd], terms: Terms) -> str:
    """One row of the written pattern, with the word "cross" at each change; a cast-on in several strands has a line
    of its own before it."""
    parts = [f"{sentence(row_named(row))} ({row.side}): {'; '.join(_written_run(run, terms) for run in runs)}."]
    goes_round = any(isinstance(step, do.GoRound) for step in end)
    for step in end:
        is_said = isinstance(step, do.Turn) and goes_round  # elsewhere a reader of rows turns unasked
        parts.append(tell(step, "short" if is_said else "written", terms))
    return " ".join(part for part in parts if part)


def _written_run(run: RunSteps, terms: Terms) -> str:
    """One run of a written row: how its strand comes in, then the stitches."""
    lead = [] if _several(run.before) else [_clause(tell(step, "written", terms)) for step in run.before]
    verb, carried, held = f"with {run.segment.yarn}", "", ""
    for step in run.into:
        match step:
            case do.Join() | do.JoinHalf():
                verb = tell(step, "written", terms)
            case do.Hold():
                held = tell(step, "written", terms)
            case do.Fetch():
                carried = tell(step, "written", terms)
            case do.Cross(old, new):
                lead.append(tell(step, "written", terms))
                if old == new and not run.is_joined:
                    verb = f"with {the_other(new)}"
            case do.Steady() | do.Share():
                pass  # said once above the rows; and by the stitches of each strand
            case _:
                assert_never(step)
    strand, work = f"{verb} {carried}".rstrip(), work_in_short(run, terms)
    if held or run.is_joined:
        return ", ".join([*lead, strand, *([held] if held else []), work])
    return ", ".join([*lead, f"{strand} {work}"])
