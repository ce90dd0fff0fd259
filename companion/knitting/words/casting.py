"""The cast-on in words: in one yarn, or section by section with a cross between them."""

from __future__ import annotations

from companion.knitting.cloth.cast_on import CastOn
from companion.knitting.words.terms import count

MOST_TOLD = 20
"""More sections than that are not listed at the needles: the runs of row 1 stand there all the same."""


def cast_on(step: CastOn) -> str:
    """The cast-on as sentences for the hands."""
    if not step.sections:
        told = f"Cast on {_in_one(step)}"
        if step.is_cut:
            join = " Join into a round, the cast-on not twisted." if step.is_round else ""
            return f"{told}, and cut it, leaving a tail.{join}"
        join = "; join into a round, the cast-on not twisted," if step.is_round else ""
        return f"{told}{join} and work on with the same strand."
    back = "Row 1 goes back over them with the strands as they hang."
    if step.is_round:
        back = "Do not join yet: round 1 goes back over them with the strands as they hang, and is joined at its end."
    told = f"each section in a strand of its own: {_sections(step)}"
    if len(step.sections) > MOST_TOLD:
        told = _RUNS_BACKWARD
    return (
        f"Cast on {count(step.stitches)} ({step.method}), {told}. "
        f"At each cross lay the old strand over the new one, then take the new one up from under it. {back}"
    )


_RUNS_BACKWARD = "a strand of its own for every run of row 1, from the last run to the first, crossed at each change"


def cast_on_in_short(step: CastOn) -> str:
    """The same where the whole row is told at once."""
    if len(step.sections) > MOST_TOLD:
        return f"cast on {count(step.stitches)} ({step.method}), {_RUNS_BACKWARD}"
    if step.sections:
        return f"cast on {_sections(step)} ({step.method})"
    join = ", join into a round" if step.is_round else ""
    return f"cast on {_in_one(step)}{', cut it' if step.is_cut else ''}{join}"


def cast_on_heading(step: CastOn) -> str:
    """The cast-on among what a piece needs."""
    if step.sections:
        return f"Cast on: {count(step.stitches)}, each section of row 1 in a strand of its own ({step.method})"
    return f"Cast on: {_in_one(step)}{', cut after it' if step.is_cut else ''}"


def written_cast_on(step: CastOn) -> str:
    """A line of the written pattern before row 1, where several strands cast on; "" where one does."""
    if not step.sections:
        return ""
    joined = ", not joined yet" if step.is_round else ""
    return f"Cast on ({step.method}{joined}): {_sections(step)}. ({count(step.stitches)})"


def _in_one(step: CastOn) -> str:
    how = "" if step.method == "long-tail" else f" ({step.method})"
    return f"{count(step.stitches)} in {step.yarn}{how}"


def _sections(step: CastOn) -> str:
    """Every section in the order in which it is cast on."""
    return "; cross, ".join(f"{count(section.stitches)} in {section.yarn}" for section in step.sections)
