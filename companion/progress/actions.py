"""What a knitter can ask for, in the imperative; whether it is possible, and what then happens, ``deciding`` says."""

from __future__ import annotations

from companion.knitting.cloth.areas import Cell
from companion.knitting.cloth.rows import Place
from companion.knitting.hands.ends import End
from companion.knitting.hands.mistakes import Mistake, Remedy
from companion.knitting.strands.limits import Carry
from companion.progress.values import Value


class Refused(Exception):
    """An action that is not possible now; the message says why, in the knitter's words."""


class On(Value):
    """The run is done."""


class WholeRow(Value):
    """Every run to the end of the row is done; at the turn, the whole next row."""


class Back(Value):
    """Take back the last action, whatever it was."""


class Unpick(Value):
    """The last run is undone on the needles."""


class RipBack(Value):
    """Rows are undone on the needles until row number ``row`` is the last whole one (0 = the cast-on is left)."""

    row: int


class AtRow(Value):
    """The knitter is at the start of row number ``row``: everything before was worked as planned."""

    row: int


class EndLength(Value):
    """The strand of the run in work ends after so many of its stitches: it ran out, has a knot, was cut. The next
    length is spliced to it or joined. ``after`` 0 and not spliced: it ended where it hung, before this run."""

    after: int
    is_spliced: bool


class JoinNew(Value):
    """A new strand was joined at a run after all: the one worked last, or the one in work."""

    place: Place


class GoOn(Value):
    """A strand that hangs there already worked a run, and not the one planned: the run worked last, or the one in
    work."""

    place: Place
    strand: int


class Replan(Value):
    """Work the rows to come under other limits; what is worked stays."""

    limits: Carry


class Note(Value):
    """Words about row number ``row``; "" takes them away."""

    row: int
    text: str


class Weave(Value):
    """An end is woven in."""

    end: End


class Unweave(Value):
    """An end marked as woven in is not."""

    end: End


class BindOff(Value):
    """All stitches are bound off."""


class Finish(Value):
    """The step of finishing that is to be done now is done: washed, trimmed, or sewn up."""


class TrapTails(Value):
    """From now on tails are laid in while knitting, or left to be woven in."""

    is_on: bool


class Mend(Value):
    """A mistake was found, and this is done about it."""

    mistake: Mistake
    way: Remedy


class MissCross(Value):
    """Before this run the strands were not crossed."""

    place: Place


class Sew(Value):
    """The area that begins at this cell is sewn on."""

    cell: Cell


class Unsew(Value):
    """It is not, after all."""

    cell: Cell


Action = (
    On | WholeRow | Back | Unpick | RipBack | AtRow | EndLength | JoinNew | GoOn | Replan | Note | Weave | Unweave
    | TrapTails | Mend | MissCross | BindOff | Sew | Unsew | Finish
)
