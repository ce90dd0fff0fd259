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
        "on needle",
        "The brick rests over row 3, which takes the stitches at its right edge together; row 4 makes sand and brick "
        "loops there, and the brick is told to hang at the tips. It has to be carried past the sand.",
        _chart("aaaaaaaab", "aaaaaaa..", "aaaaaabaa", "aaaaaaaaa"), ("carry: {reach: 0, rest: 1}",),
    ),
    Known(
        "tail elsewhere",
        "Row 3 binds off in a new sand, whose tail hangs beyond what is bound off; it is to be laid in after that.",
        _chart("aaaaaaaaa...", "abbbbbbbbbbb", "bbbbbbbbbbbb"), ("carry: {reach: 0}",), is_trapping=True,
    ),
)  # fmt: skip

KNOWN_KINDS = frozenset({known.kind for known in KNOWN} | {"fits two"})
"""Of words that fit two strands of one yarn either is right: one stands for the other."""
