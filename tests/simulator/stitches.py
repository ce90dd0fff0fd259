"""What the needles hold: stitches, strands between them, their tails; and what is said when something cannot be done.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass, field
from typing import Literal, NamedTuple

Side = Literal["RS", "WS"]
Edge = Literal["right", "left"]
Face = Literal["knit", "purl", ""]
"""How a stitch looks from the right side; "" where what was told leaves it open."""

OTHER_SIDE: dict[Side, Side] = {"RS": "WS", "WS": "RS"}
OTHER_EDGE: dict[Edge, Edge] = {"right": "left", "left": "right"}


class Note(NamedTuple):
    """Something that can be done, and not well; "fits two": words that fit two strands of one yarn, so that one may
    stand for the other."""

    kind: Literal[
        "bar at a change", "no bar", "slipped twice", "leans outward", "rest untold", "on needle", "fits two",
        "catch at a change",
    ]
    what: str


class CannotBeDone(AssertionError):
    """What was told cannot be done with what is on the needles. ``notes``: what was not done well before that."""

    def __init__(self, what: str, notes: Sequence[Note] = ()) -> None:
        super().__init__(what)
        self.notes = tuple(notes)


class Made(NamedTuple):
    """The row, as a counter, and the run in it, from 0, in which something was made."""

    row: int
    run: int


CAST_ON_FIRST = Made(1, 0)
"""Where a length that is only cast on with is said to work."""


@dataclass(eq=False)
class Strand:
    """One length of yarn at work. ``used``: the run it worked last; it was left at ``gap``, that many columns from
    the right edge of the chart. ``first``: the run it worked first. ``level``: the row it worked last, and ``due``
    the one in which it works next, counted from the cast-on up, so that two parts count alike. ``spent``: how many
    stitches it worked, cast on and bound off; ``floats``: stitches passed and rows rested on the way to each run.
    ``behind``: it hung between stitches that were worked together, and hangs behind the one that they became, so that
    it may be said to hang on either side of that."""

    number: int
    yarn: str
    used: Made
    due: int
    level: int = 0
    gap: int = 0
    is_cut: bool = False
    behind: Stitch | None = None
    first: Made = CAST_ON_FIRST
    spent: Counter[str] = field(default_factory=Counter)
    floats: list[tuple[int, int]] = field(default_factory=list)


@dataclass(eq=False)
class Tail:
    """A loose end: of a strand's "start" or "finish", in the run where it came about, ``after`` so many stitches of
    it where one length ended inside it. It hangs at ``gap``."""

    strand: Strand
    kind: Literal["start", "finish"]
    at: Made
    gap: int
    after: int = 0
    is_laid_in: bool = False


@dataclass(eq=False)
class Stitch:
    """One loop on a needle. ``below``: the stitches that hang in it. ``row``: counted as rows are worked, 0 = cast
    on; ``level``: from the cast-on up. ``slipped``: the row in which it was slipped last, and the strand that passed
    it there."""

    yarn: str
    strand: Strand
    face: Face
    how: str
    row: int
    level: int
    below: tuple[Stitch, ...] = ()
    column: int = 0
    slipped: tuple[int, Strand] | None = None


Gap = list[Strand]


class Held(NamedTuple):
    """Stitches off the needles, from right to left as the right side looks; the column of the first, and how many
    rows lie below them."""

    stitches: list[Stitch]
    gaps: list[Gap]
    column: int
    level: int


class Hung(NamedTuple):
    """Where a strand is told to hang: ``on_needle`` so many stitches ahead of the tips as they lie on the needles
    now, or with a minus back; it passes ``over`` so many of the row that is worked, and has this number, where those
    are told (None, 0). ``is_other``: another strand than the one in hand."""

    yarn: str
    on_needle: int = 0
    over: int | None = None
    number: int = 0
    is_other: bool = False


class Passed(NamedTuple):
    """A strand carried in this row over the stitches between two positions, counted in stitches worked."""

    yarn: str
    first: int
    last: int
