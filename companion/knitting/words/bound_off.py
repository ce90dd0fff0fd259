"""A bind-off in words: in the strand in hand, or run by run.

Each as a sentence, the word in large letters, in few words, as a written row has it, and read aloud.
"""

from __future__ import annotations

from companion.knitting.hands.steps import BindOff
from companion.knitting.words.places import side_facing
from companion.knitting.words.terms import Terms, sentence, stitches_in_full

MOST_TOLD = 20
"""More runs than that are not listed where they are cast on or bound off: the row's own stand there all the same."""


def bound_off(step: BindOff, terms: Terms) -> tuple[str, str, str, str, str]:
    """How it is done (stitch guides), in the pattern of the rows below, and on which side."""
    if step.others:
        return _bound_off_each(step, terms)
    off, facing = sentence(terms.bind_off), side_facing(step.side)
    lead = f"{off} {stitches_in_full(step.stitches)} in {step.yarn}"
    full = f"{lead}, the strand in hand, {facing}"
    if step.stitches == 1:
        full += ": cut it, leaving a tail, draw it through."
    else:
        full += (
            ", in pattern and not tightly: work 2, lift the first over the second, work 1, lift again, and so on. "
            "Cut it, leaving a tail, draw it through the last stitch."
        )
    full += _held(step)
    short, written = f"{lead}, {facing}.", f"{off} in pattern in {step.yarn}, {facing}, and cut it."
    return full, f"{terms.bind_off} {step.stitches}", short, written, full


def _held(step: BindOff) -> str:
    """What stays on a holder."""
    stitches = stitches_in_full(step.held)
    return f" The {stitches} in the middle stay on their holder, for an edging." if step.held else ""


def _bound_off_each(step: BindOff, terms: Terms) -> tuple[str, str, str, str, str]:
    """Each run in its own strand, from the one in hand on. At a change the last stitch of the old colour goes over
    the first of the new one (common practice, no source)."""
    off, facing, runs = sentence(terms.bind_off), side_facing(step.side), len(step.every)
    told = ", ".join(f"{one.stitches} in {one.yarn}" for one in step.every)
    each = f"each run in its own strand{f': {told}' if runs <= MOST_TOLD else ', from the last run to the first'}"
    lead = f"{off} {stitches_in_full(step.all_stitches)}, {facing}"
    full = (
        f"{lead}, in pattern and not tightly, {each}. At each change lay the old strand to your {terms.going} across "
        f"the new one, work the first stitch in the new and lift the last old one over it. Cut all {runs}, leaving "
        f"tails, and draw the last through the last stitch.{_held(step)}"
    )
    written = f"{off} in pattern, {facing}, crossed at each change, {each}. Cut all {runs}."
    short = f"{lead}, each run in its own strand."
    return full, f"{terms.bind_off} {step.all_stitches}", short, written, full
