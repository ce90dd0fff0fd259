"""Why each step is done: the reason behind a sentence, for whoever has never worked in blocks of colour.

A reason holds for every step of its kind. Beside each stands the published source it is taken from, or that it is
common practice without one.
"""

from __future__ import annotations

import re
from collections.abc import Iterable
from fractions import Fraction
from typing import assert_never

from companion.knitting.hands import steps as do
from companion.knitting.words.steps import tell
from companion.knitting.words.terms import Terms, measured, sentence

FLOAT_CM = Fraction(5, 2)
"""A float longer than this is caught on the way ("Length of floats": an inch at most)."""
TAIL_CM = 15
"""The tail left where a strand begins or ends ("How to join new yarn in knitting": at least 6 in, 15 cm)."""
SHORT_TAIL_CM = 10
"""Less than this is hard to weave in (four articles on ends name 4 to 6 in, 10 to 15 cm)."""

_NUMBER = re.compile(r" [0-9]+$")
_SAVES_ENDS = "saves a cut, a join and the two ends that come of them"


def why(step: do.Step, terms: Terms) -> str:
    """The reason for a step, in a sentence or two."""
    match step:
        case do.CastOn():  # common practice, no source
            return "The cast-on edge must stretch as far as the fabric above it: cast on loosely."
        case do.CrossCastOn():  # "Intarsia color change on vertical line or diagonal line", 2014
            return "Row 1 works each section in the strand that cast it on; uncrossed, the edge parts between them."
        case do.CutCastOn():  # common practice, no source
            return f"Nothing else is worked with this length. Its tail is {terms.woven_in} like any other."
        case do.JoinRound():  # common practice, no source
            return "A cast-on that is twisted now stays twisted: only unravelling mends it."
        case do.Steady():  # "Intarsia", 2008; "How to: intarsia", 2013: the change is always made on the wrong side
            return "Strands cross on the wrong side alone: one that lies on the right side would show there as a bar."
        case do.Fetch():
            return _fetched(step, terms)
        case do.Join():
            # "The Essential Guide to Color Knitting Techniques", ch. 6 (a supply for each area); "Intarsia how-to"
            # (stiff patches); "How to join new yarn in knitting" (no lasting knot)
            return (
                "Each area has a strand of its own, for yarn carried behind other colours makes a stiff patch. Leave "
                f"{measured(TAIL_CM, terms)}, to be {terms.woven_in}; a knot that is left in stays a lump."
            )
        case do.JoinHalf():  # "Yarn butterflies wound from the middle of the strand"
            return "Two areas of one yarn that begin together share a length begun at its middle: two ends fewer."
        case do.Hold():  # common practice, no source
            return "Another strand worked this edge last. Brought under it, the new one leaves no gap at the edge."
        case do.Cross():  # "Intarsia: twisting the colours", 2024; a half-turn, no full twist: "Neater intarsia"
            return (
                "Nothing but this cross holds two areas together: without it a slit opens. Half a turn is enough; a "
                "full twist, drawn tight, pinches."
            )
        case do.Share():  # two ends to a strand, by counting
            return (
                "Each of these strands goes on in an area of its own further up: cut here, one would have to be "
                "joined anew there, which makes two ends more."
            )
        case do.Slip():  # common practice, no source
            return "A slipped first stitch lies along the edge like a chain, one link for two rows."
        case do.Work():  # "The Essential Guide to Color Knitting Techniques", ch. 6; "Intarsia how-to"
            return (
                "An area is worked in its own strand and nothing lies behind it, so that the fabric stays thin and "
                "gives alike everywhere."
            )
        case do.Shape():
            return _shaped(step, terms)
        case do.Catch():  # "Length of floats"; "How to catch floats"
            return (
                f"A float that hangs free over more than {measured(FLOAT_CM, terms)} catches on fingers; caught on "
                "its way it lies flat."
            )
        case do.Rest(_, is_caught):  # two ends to a strand, by counting; caught as any float: "Length of floats"
            caught = " Caught on its way, it hangs in no loop." if is_caught else ""
            return f"It is needed again a few rows up: to let it rest {_SAVES_ENDS}.{caught}"
        case do.LayIn():  # weaving-in page of a knitting handbook: over and under alternate stitches
            return f"A tail that is laid in while you knit need not be {terms.woven_in} afterwards."
        case do.Renew():  # common practice, no source
            return "A new length of the same yarn is another strand: crossed as any other, it leaves no gap."
        case do.Splice():  # "How to join new yarn in knitting"
            return "Spliced, two lengths become one, and no end is left."
        case do.Count():  # common practice, no source
            return "A stitch too many or too few moves the picture: found now it costs this row, later more."
        case do.Cut():  # "How to join new yarn in knitting" and three more on the length of tails
            return (
                "What is not needed again only tangles. Cut after the count, so that the row can still be unpicked; "
                f"tails of less than {measured(SHORT_TAIL_CM, terms)} are hard to {terms.weave_in}."
            )
        case do.BindOff():  # common practice, no source
            each = " In its own strand each colour goes on to the very edge." if step.others else ""
            return f"{sentence(terms.bind_off)} loosely: the edge must stretch as far as the fabric below it.{each}"
        case do.Leave():  # two ends to a strand, by counting
            return f"It is needed again a few rows up: left hanging it {_SAVES_ENDS}."
        case do.Divide():  # common practice, no source
            return "Past an opening each side is turned by itself, so that one waits; on a holder no stitch runs."
        case do.TakeUp():  # common practice, no source
            return "These stitches waited while the other part was worked; both parts grow from the same row."
        case do.SetAside():  # common practice, no source
            return "It is as high as the other part will be where both are joined; on a holder no stitch runs."
        case do.JoinParts():  # common practice, no source
            return "Both parts are as high and were turned as often, so that one row runs across both."
        case do.GoFlat():  # "Rock around the ...", intarsia in the round, 2006
            return (
                "Worked round, every strand would end on the far side of its area; turned, it waits where the next "
                "row takes it up."
            )
        case do.GoRound():  # common practice, no source
            return "No strand has to come back to its area from here on, and rounds need no seam."
        case do.HaveReady():  # common practice, no source
            return "Wound before the row begins, a length is at hand in mid-row, where both hands are full."
        case do.Turn():  # page on intarsia in a magazine's handbook
            return "Turned one way after right-side rows, the other after wrong-side rows, strands stay untwisted."
        case do.WeaveIn():  # "Intarsia" (the hole closed); a handbook's page; "Weave ends" (trimmed late)
            return (
                "First the way that closes the hole at the join, then behind its own colour, where an end does not "
                "show. Trimmed before the wash it slips out."
            )
        case do.SewOn():  # "Duplicate stitch tips" (doubles the fabric); "Duplicate stitch", 2004 (same thickness)
            return (
                f"A few stitches are not worth a strand and its two ends. {sentence(terms.duplicate_stitch)} doubles "
                "the fabric, so that it is for small areas, in yarn of the same thickness."
            )
        case do.Wash():  # common practice, no source
            return "Stitches beside a change are uneven at first; wet they settle."
        case do.Trim():  # "Weave ends"
            return "Washed and dried, the fabric has settled, and what is trimmed now does not slip out."
        case do.SewUp():  # common practice, no source
            return "Sewn row by row with the right side toward you, both sides of the picture meet."
        case do.WeaveAtSeams():  # common practice, no source
            return "In a seam ends are hidden, and its edges are thick already."
        case _:
            assert_never(step)


def reasons(steps: Iterable[do.Step], terms: Terms) -> list[str]:
    """Each reason for these steps once, after what is done: "Cross: Nothing but this cross holds ..."."""
    found = dict[str, str]()
    for step in steps:
        if (reason := why(step, terms)) not in found:
            found[reason] = sentence(_NUMBER.sub("", tell(step, "verb", terms)))
    return [f"{done}: {reason}" for reason, done in found.items()]


def _fetched(step: do.Fetch, terms: Terms) -> str:
    if step.where == "below":  # two ends to a strand, by counting
        return f"To let it rest {_SAVES_ENDS}. Brought up tight, it would draw the rows together."
    # "Length of floats"; drawn together: "Intarsia how-to"
    return (
        "A strand that comes over a few stitches saves two ends. Leave it slack: a tight one draws the fabric "
        f"together, and one longer than {measured(FLOAT_CM, terms)} catches on fingers."
    )


def _shaped(step: do.Shape, terms: Terms) -> str:
    match step.how:
        case "bind off":  # common practice, no source
            return f"Stitches that end here must not run; they are {terms.bound_off} at a row's start, by its strand."
        case "cast on" | "loop" | "loops":  # common practice, no source
            return "The piece grows here, and new stitches stand on new loops where the strand is."
        case "lost":  # common practice, no source
            return f"More go here than a decrease takes, at a row's end, where none can be {terms.bound_off}."
        case "m1R" | "m1L" | "m1R purlwise" | "m1L purlwise":  # common practice, no source
            return "Lifted from the bar between two stitches and worked twisted, a new stitch leaves no hole."
        case _:  # "Terms and abbreviations used in knitting patterns": k2tog leans to the right, ssk to the left
            return (
                "Decreases lean, as the right side looks: k2tog and p2tog to the right, ssk and ssp to the left. "
                "This one follows its edge."
            )
