"""What a knitter can ask for, in the imperative; whether it is possible, and what then happens, ``deciding`` says."""

from __future__ import annotations

from typing import dataclass_transform

from msgspec import Struct

from companion.knitting.cloth.areas import Cell
from companion.knitting.cloth.rows import Place
from companion.knitting.hands.mistakes import Mistake, Remedy
from companion.knitting.hands.steps import End
from companion.knitting.strands.limits import Carry
from companion.progress.trouble import Refused as Refused


@dataclass_transform(frozen_default=True)
class Action(Struct, frozen=True):
    """Something a knitter asks for."""


class On(Action):
    """The run is done."""


class WholeRow(Action):
    """Every run to the end of the row is done; at the turn, the whole next row."""


class Back(Action):
    """Take back the last action, whatever it was."""


class Unpick(Action):
    """The last run is undone on the needles."""


class RipBack(Action):
    """Rows are undone on the needles until row number ``row`` is the last whole one (0 = the cast-on is left)."""

    row: int


class AtRow(Action):
    """The knitter is at the start of row number ``row``: everything before was worked as planned."""

    row: int


class EndLength(Action):
    """The strand of the run in work ends after so many of its stitches: it ran out, has a knot, was cut. The next
    length is spliced to it or joined. ``after`` 0 and not spliced: it ended where it hung, before this run."""

    after: int
    is_spliced: bool


class JoinNew(Action):
    """A new strand was joined at a run after all: the one worked last, or the one in work."""

    place: Place


class GoOn(Action):
    """A strand that hangs there already worked a run, and not the one planned: the run worked last, or the one in
    work."""

    place: Place
    strand: int


class Replan(Action):
    """Work the rows to come under other limits; what is worked stays."""

    limits: Carry


class Note(Action):
    """Words about row number ``row``; "" takes them away."""

    row: int
    text: str


class Weave(Action):
    """An end is woven in."""

    end: End


class Unweave(Action):
    """An end marked as woven in is not."""

    end: End


class BindOff(Action):
    """All stitches are bound off."""


class Finish(Action):
    """The step of finishing that is to be done now is done: washed, trimmed, or sewn up."""


class TrapTails(Action):
    """From now on tails are laid in while knitting, or left to be woven in."""

    is_on: bool


class Mend(Action):
    """A mistake was found, and this is done about it."""

    mistake: Mistake
    way: Remedy


class MissCross(Action):
    """Before this run the strands were not crossed."""

    place: Place


class Sew(Action):
    """The area that begins at this cell is sewn on."""

    cell: Cell


class Unsew(Action):
    """It is not, after all."""

    cell: Cell

