"""What a knitter can ask for, in the imperative; whether it is possible, and what then happens, ``deciding`` says."""

from __future__ import annotations

from dataclasses import dataclass

from companion.knitting.areas import Cell
from companion.knitting.ends import End
from companion.knitting.limits import Carry
from companion.knitting.mistakes import Mistake, Way
from companion.knitting.rows import Place


class Refused(Exception):
    """An action that is not possible now; the message says why, in the knitter's words."""


@dataclass(frozen=True, slots=True)
class On:
    """The run is done."""


@dataclass(frozen=True, slots=True)
class WholeRow:
    """Every run to the end of the row is done; at the turn, the whole next row."""


@dataclass(frozen=True, slots=True)
class Back:
    """Take back the last action, whatever it was."""


@dataclass(frozen=True, slots=True)
class Unpick:
    """The last run is undone on the needles."""


@dataclass(frozen=True, slots=True)
class RipBack:
    """Rows are undone on the needles until row number ``row`` is the last whole one (0 = the cast-on is left)."""

    row: int


@dataclass(frozen=True, slots=True)
class AtRow:
    """The knitter is at the start of row number ``row``: everything before was worked as planned."""

    row: int


@dataclass(frozen=True, slots=True)
class EndLength:
    """The strand of the run in work ends after so many of its stitches: it ran out, has a knot, was cut. The next
    length is spliced to it or joined. ``after`` 0 and not spliced: it ended where it hung, before this run."""

    after: int
    is_spliced: bool


@dataclass(frozen=True, slots=True)
class JoinNew:
    """A new strand was joined at a run after all: the one worked last, or the one in work."""

    place: Place


@dataclass(frozen=True, slots=True)
class GoOn:
    """A strand that hangs there already worked a run, and not the one planned: the run worked last, or the one in
    work."""

    place: Place
    strand: int


@dataclass(frozen=True, slots=True)
class Replan:
    """Work the rows to come under other limits; what is worked stays."""

    limits: Carry


@dataclass(frozen=True, slots=True)
class Note:
    """Words about row number ``row``; "" takes them away."""

    row: int
    text: str


@dataclass(frozen=True, slots=True)
class Weave:
    """An end is woven in."""

    end: End


@dataclass(frozen=True, slots=True)
class Unweave:
    """An end marked as woven in is not."""

    end: End


@dataclass(frozen=True, slots=True)
class BindOff:
    """All stitches are bound off."""


@dataclass(frozen=True, slots=True)
class Finish:
    """The step of finishing that is to be done now is done: washed, trimmed, or sewn up."""


@dataclass(frozen=True, slots=True)
class TrapTails:
    """From now on tails are laid in while knitting, or left to be woven in."""

    is_on: bool


@dataclass(frozen=True, slots=True)
class Mend:
    """A mistake was found, and this is done about it."""

    mistake: Mistake
    way: Way


@dataclass(frozen=True, slots=True)
class MissCross:
    """Before this run the strands were not crossed."""

    place: Place


@dataclass(frozen=True, slots=True)
class Sew:
    """The area that begins at this cell is sewn on."""

    cell: Cell


@dataclass(frozen=True, slots=True)
class Unsew:
    """It is not, after all."""

    cell: Cell


Action = (
    On | WholeRow | Back | Unpick | RipBack | AtRow | EndLength | JoinNew | GoOn | Replan | Note | Weave | Unweave
    | TrapTails | Mend | MissCross | BindOff | Sew | Unsew | Finish
)
