"""What lies where a picture is transparent, or a cell of a chart empty."""

from __future__ import annotations

from companion.plan.amount import AmissError, colour
from companion.problems import Problem, Problems

NO_GROUND = "none"
"""In the place of a colour: there is no stitch."""


def ground_colour(word: str) -> str:
    """The colour of the ground as a plan writes it.

    Raises:
        Problems: it is none.
    """
    try:
        return colour(word)
    except AmissError as amiss:
        mend = f"{amiss.mend} Or, where there is no stitch: --ground {NO_GROUND}".strip()
        raise Problems([Problem(f'"ground" {amiss.what}', mend=mend)]) from None
