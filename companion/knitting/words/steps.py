"""Every step as a sentence for the hands, and the change into a run in short.

Strands lie on the fabric's wrong side: at the back on right-side rows, in front on wrong-side rows, so every
sentence about a cross or a carry has both forms. The hands go from right to left on both sides; a knitter who
works mirrored goes from left to right.
"""

from __future__ import annotations

from companion.knitting.cloth.cast_on import CastOn
from companion.knitting.cloth.rows import Side
from companion.knitting.hands.steps import Cross, Fetch, Hold, Join, Renew, RunSteps, Slip, Steady, Step, Work
from companion.knitting.words.casting import cast_on, cast_on_in_short
from companion.knitting.words.hands import work_in_full
from companion.knitting.words.terms import US, Terms, count, measured, sentence, stitches_in_full


def tell(step: Step, terms: Terms = US) -> str:
    """One step as a sentence for the hands."""
    match step:
        case CastOn():
            return cast_on(step)
        case Steady(yarn, side):
            if side == "RS":
                return f"Take {yarn} to the back first."
            return f"Bring {yarn} to the front first."
        case Join():
            return _joined(step)
        case Fetch():
            return _fetched(step, terms)
        case Hold(old, new, side):
            old_name, new_name = told_apart(old, new)
            return f"Hold the edge: bring {new_name} under {old_name} {where_strands_lie(side)}, then work."
        case Cross(old, new, side):
            old_name, new_name = told_apart(old, new)
            return (
                f"Cross the old strand before the new, {where_strands_lie(side)}: lay {old_name} to your "
                f"{terms.going} across {new_name}, then take {new_name} up from under it."
            )
        case Slip(side):
            return f"Slip the first stitch purlwise, the strand {where_strands_lie(side)}."
        case Renew():
            return _renewed(step, terms)
        case Work(yarn):
            return f"{sentence(work_in_full(step, terms))} in {yarn}."


def _joined(step: Join) -> str:
    """A new strand, with a tail unless it is half of a shared length."""
    yarn, lie = step.yarn, where_strands_lie(step.side)
    if step.half == "first":
        return (
            f"Start new {yarn} {lie} at the middle of a length wound from both ends: no tail. "
            f"Its other half starts {count(step.apart)} further on."
        )
    if step.half == "second":
        return f"Start the other half of the {yarn} begun {count(step.apart)} back: no tail, leave it slack {lie}."
    knot = f", half-knot it round {step.old} or let it hang" if step.old else ""
    return f"Join new {yarn} {lie}: leave a tail{knot}."


def _renewed(step: Renew, terms: Terms) -> str:
    """The next length of the same strand: crossed exactly as two colours are, or spliced."""
    yarn = step.yarn
    after = f"After {stitches_in_full(step.after)}" if step.after else "Before the first stitch"
    if step.is_spliced:
        return f"{after} comes the splice in {yarn}: no end is left."
    return (
        f"{after} this {yarn} ends: leave a tail, join new {yarn} {where_strands_lie(step.side)} with a tail too; "
        f"lay the old {yarn} to your {terms.going} across the new, then take the new one up from under it."
    )


def _fetched(step: Fetch, terms: Terms) -> str:
    """How a strand comes from where it hangs to the run."""
    yarn, away, lie = sentence(step.yarn), count(step.stitches), where_strands_lie(step.side)
    if step.is_behind:
        wide = f" ({measured(step.cm, terms)})" if step.cm else ""
        return f"{yarn} waits {away}{wide} back in this row: spread those stitches, carry it slack {lie}."
    if step.is_ahead:
        return f"{yarn} hangs {away} ahead: spread those stitches, bring it back slack {lie}."
    return f"{yarn} hangs {away} back: carry it on slack {lie}."


def told_apart(old: str, new: str) -> tuple[str, str]:
    """Names of two strands, different even when they are of one yarn."""
    return (old, new) if old != new else (f"the old {old}", f"the new {new}")


def where_strands_lie(side: Side) -> str:
    """The fabric's wrong side, as the knitter meets it on a row of this side."""
    return "at the back" if side == "RS" else "in front"


LAST_OF_STRAND = "last of this strand"
"""The mark at a segment after which its strand is cut at the turn."""


def cross_in_short(run: RunSteps) -> str:
    """The change into a run where the whole row is told at once; ``cross_rule`` says the rest above it."""
    told: list[str] = []
    for step in run.steps:
        match step:
            case Join(half=""):
                told.append("join new")
            case Join(_, _, _, half):
                told.append("start at the middle of a length" if half == "first" else "start its other half")
            case Fetch(_, stitches, is_ahead):
                told.append(f"hangs {count(stitches)} {'ahead' if is_ahead else 'back'}")
            case Cross(old, new):
                old, new = told_apart(old, new)
                told.append(f"cross: {old} over {new}")
            case Hold(old, new):
                old, new = told_apart(old, new)
                told.append(f"bring {new} under {old}")
            case CastOn():
                told.append(cast_on_in_short(step))
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


def same_strand(run: RunSteps) -> str:
    """What to do at a row's start where the strand hangs at the very stitch."""
    return f"The {run.segment.yarn} hangs at the edge, ready: work on with it."
