"""A plan that was edited while its piece is on the needles: what is worked decides, nothing is guessed.

Compared are the stitches up to the position, by yarn and texture. Limits, colours and titles do not count.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from companion.plan.read import Loaded
from companion.problems import Problem

Kind = Literal["unchanged", "adopted", "differs", "gone", "not readable", "not compared"]


@dataclass(frozen=True)
class PlanState:
    """How the plan file on the disk stands to the plan that the piece follows, as found on opening.

    ``unchanged``: nothing to say. ``adopted``: edited, the same so far, now followed. ``differs``: edited in the
    rows ``rows`` (numbers from 1) that are worked already; the stored plan is followed, ``loaded`` is the edited one
    for starting over as a new piece. ``gone`` and ``not readable`` (``problems`` tell why): the stored plan is
    followed. ``not compared``: look-only. ``sentence`` is "" where there is nothing to say.
    """

    kind: Kind = "unchanged"
    sentence: str = ""
    rows: tuple[int, ...] = ()
    problems: tuple[Problem, ...] = ()
    loaded: Loaded | None = None
