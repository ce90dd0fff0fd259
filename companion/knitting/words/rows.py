"""A row in words: its title, its runs, what stands at its end, and the row as a written pattern tells it."""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction

from companion.knitting.cloth.rows import Row
from companion.knitting.hands.runs import RunSteps
from companion.knitting.hands.steps import (
    AtEnd,
    Before,
    CastOn,
    Cross,
    Cut,
    Divide,
    Fetch,
    GoRound,
    Hold,
    Join,
    JoinHalf,
    Renew,
    Shape,
    Splice,
    TakeUp,
    Turn,
)
from companion.knitting.words.places import ends_ready, row_number
from companion.knitting.words.steps import Register, side_facing, tell
from companion.knitting.words.terms import US, Terms, count, measured

LAST_OF_STRAND = "last of this strand"
"""The mark at a run after which its strand is cut at the row's end."""


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


def work_in_full(run: RunSteps, terms: Terms) -> str:
    """A run's knits and purls, and what is done on the way: "knit 3, catch sand, knit 4"."""
    return _inside(run, "short", terms)


def work_in_short(run: RunSteps, terms: Terms) -> str:
    """The same in the trade's abbreviations: "k3, catch sand, k4"."""
    return _inside(run, "written", terms)


def _inside(run: RunSteps, register: Register, terms: Terms) -> str:
    parts: list[str] = []
    more = ""
    for step in run.inside:
        parts.append(tell(step, register, terms) + (more if not isinstance(step, Shape) else ""))
        more = " more" if isinstance(step, Shape) and step.how == "bind off" else ""
    return ", ".join(parts)


def into_run(run: RunSteps, terms: Terms) -> list[str]:
    """What to do before a run's first stitch, as sentences, and where in it its length ends."""
    known = [tell(step, "full", terms) for step in run.inside if isinstance(step, Renew | Splice)]
    return [*cast_on_in_full(run.before, terms), *(tell(step, "full", terms) for step in run.into), *known] or [
        f"The {run.segment.yarn} hangs at the edge, ready: work on with it."
    ]


MOST_TOLD = 20
"""More sections than that are not listed at the needles: the runs of row 1 stand there all the same."""

_RUNS_BACKWARD = "a strand of its own for every run of row 1, from the last run to the first, crossed at each change"


def cast_on_in_full(steps: Sequence[Before], terms: Terms) -> list[str]:
    """The cast-on, as sentences for the hands."""
    cast = [step for step in steps if isinstance(step, CastOn)]
    if len(cast) < 2:
        return [tell(step, "full", terms) for step in steps]
    stitches, method = count(sum(step.stitches for step in cast)), cast[0].method
    listed = "; cross, ".join(f"{count(step.stitches)} in {step.yarn}" for step in cast)
    each = _RUNS_BACKWARD if len(cast) > MOST_TOLD else f"each section in a strand of its own: {listed}"
    return [
        f"Cast on {stitches} ({method}), {each}. At each cross lay the old strand over the new one, then take the "
        "new one up from under it. Row 1 goes back over them with the strands as they hang."
    ]


def cast_on_heading(steps: Sequence[Before]) -> str:
    """The cast-on among what a piece needs."""
    cast = [step for step in steps if isinstance(step, CastOn)]
    stitches, method = count(sum(step.stitches for step in cast)), cast[0].method
    if len(cast) > 1:
        return f"Cast on: {stitches}, each section of row 1 in a strand of its own ({method})"
    how = "" if method == "long-tail" else f" ({method})"
    return f"Cast on: {stitches} in {cast[0].yarn}{how}{', cut after it' if not cast[0].strand else ''}"


def written_cast_on(steps: Sequence[Before], *, is_round: bool = False) -> str:
    """A line of the written pattern before row 1, where several strands cast on; "" where one does."""
    cast = [step for step in steps if isinstance(step, CastOn)]
    if len(cast) < 2:
        return ""
    listed = "; cross, ".join(f"{count(step.stitches)} in {step.yarn}" for step in cast)
    joined = ", not joined yet" if is_round else ""
    return f"Cast on ({cast[0].method}{joined}): {listed}. ({count(sum(step.stitches for step in cast))})"


def change_in_short(run: RunSteps, terms: Terms) -> str:
    """The change into a run where the whole row is told at once; ``cross_rule`` says the rest above it."""
    cast = [step for step in run.before if isinstance(step, CastOn)]
    if len(cast) > MOST_TOLD:
        parts = [f"cast on {count(sum(step.stitches for step in cast))} ({cast[0].method}), {_RUNS_BACKWARD}"]
    elif len(cast) > 1:
        parts = [f"cast on {'; cross, '.join(f'{count(s.stitches)} in {s.yarn}' for s in cast)} ({cast[0].method})"]
    else:
        parts = [_clause(tell(step, "written", terms)) for step in run.before]
    for step in run.into:
        if text := _clause(tell(step, "short", terms)):
            parts.append(text)
    if run.is_last:
        parts.append(LAST_OF_STRAND)
    return ", ".join(parts)


def _clause(text: str) -> str:
    """A sentence as part of another one."""
    return text[:1].lower() + text[1:].rstrip(".")


def at_the_end(steps: Sequence[AtEnd], ready_ends: int, terms: Terms, *, is_short: bool = False) -> list[str]:
    """What stands at a row's end, in the order in which it is done. In short: cuts by place alone."""
    short = (Cut, Divide, TakeUp) if is_short else ()
    texts = [tell(step, "short" if isinstance(step, short) else "full", terms) for step in steps]
    return [*texts, *([ends_ready(ready_ends, terms)] if ready_ends else [])]


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


def written_row(row: Row, runs: Sequence[RunSteps], end: Sequence[AtEnd], terms: Terms) -> str:
    """One row of the written pattern, with the word "cross" at each change; a cast-on in several strands has a line
    of its own before it."""
    name = "Round" if row.is_round else "Row"
    parts = [f"{name} {row_number(row)} ({row.side}): {'; '.join(_written_run(run, terms) for run in runs)}."]
    goes_round = any(isinstance(step, GoRound) for step in end)
    for step in end:
        is_told = isinstance(step, Turn) and goes_round  # elsewhere a reader of rows turns unasked
        parts.append(tell(step, "short" if is_told else "written", terms))
    return " ".join(part for part in parts if part)


def _written_run(run: RunSteps, terms: Terms) -> str:
    """One run of a written row: how its strand comes in, then the stitches."""
    lead = []
    if sum(isinstance(step, CastOn) for step in run.before) == 1:
        lead += [_clause(tell(step, "written", terms)) for step in run.before]
    verb, carried = f"with {run.segment.yarn}", ""
    for step in run.into:
        match step:
            case Join() | JoinHalf():
                verb = tell(step, "written", terms)
            case Fetch():
                carried = f" {tell(step, 'written', terms)}" if step.stitches else ""
            case Cross() | Hold():
                lead.append(tell(step, "written", terms))
            case _:
                pass
    return ", ".join([*lead, f"{verb}{carried} {work_in_short(run, terms)}"])
