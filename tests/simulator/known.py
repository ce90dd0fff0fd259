"""Faults that the simulator finds in random plans and that are known: for each the smallest plan that shows it.

``test_known.py`` fails when one of them is mended; then it goes from this list.
"""

from __future__ import annotations

from typing import NamedTuple


class Known(NamedTuple):
    """A kind of fault, what it is, and the sections of a plan that shows it, with what else the plan says."""

    kind: str
    what: str
    rows: str
    more: tuple[str, ...] = ()
    is_trapping: bool = False


def _chart(*lines: str, more: str = "") -> str:
    return "  - chart: |\n" + "".join(f"      {line}\n" for line in lines) + more


KNOWN = (
    Known(
        "a count below nothing",
        "Row 2, from the left, works sand and brick together in brick; the sand that hangs among them is told "
        'to be carried "-1 sts from ahead".',
        _chart("aba..", "aabaa"), ("shaping: {at: 1}", "carry: {reach: 1}"),
    ),
    Known(
        "on needle",
        "Row 3, from the right, loses a stitch two in from its end; the brick of that edge is told to hang at the "
        "tips. It hangs a stitch back, since the decrease was made before it.",
        _chart(".baaaaaaa", "abaaaaaaa", "aaaaaaaaa"), ("carry: {reach: 0}", "shaping: {at: 2}"),
    ),
    Known(
        "ends laid in",
        'The JSON of a knitter who lays tails in counts them among the ends of "weave in".',
        _chart("aaaaaaaa"), ("cast_on: {yarn: brick}",), is_trapping=True,
    ),
    Known(
        "tail elsewhere",
        "Row 3 binds off in a new sand, whose tail hangs beyond what is bound off; it is to be laid in after that.",
        _chart("aaaaaaaaa...", "abbbbbbbbbbb", "bbbbbbbbbbbb"), ("carry: {reach: 0}",), is_trapping=True,
    ),
)  # fmt: skip

KNOWN_KINDS = frozenset({known.kind for known in KNOWN} | {"fits two"})
"""Of words that fit two strands of one yarn either is right: one stands for the other."""
