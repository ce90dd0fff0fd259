"""One piece being knitted, as a value.

A position between two rows is always "the row before, all segments done" (at the turn), never "no segment of the
next row", except before the first stitch.
"""

from __future__ import annotations

import dataclasses
from collections.abc import Mapping
from enum import IntEnum
from functools import lru_cache
from types import MappingProxyType
from typing import dataclass_transform

from msgspec import Struct
from msgspec.structs import replace

from companion.knitting.cloth.areas import Cell
from companion.knitting.cloth.rows import Meetings, Place, Rows
from companion.knitting.hands.ends import ends_of
from companion.knitting.hands.mistakes import Mistake, Remedy, as_worked
from companion.knitting.hands.row_ends import LIGHT, by_press
from companion.knitting.hands.steps import AtEnd, BindOff, Count, End, Finishing, Turn
from companion.knitting.latest import latest
from companion.knitting.piece import Piece
from companion.knitting.strands.floats import Catching
from companion.knitting.strands.limits import Carry
from companion.knitting.strands.strands import Past, Strands
from companion.progress.events import Entry


class Phase(IntEnum):
    """How far a piece is. ``BOUND_OFF``: something of its finishing is left."""

    NOT_BEGUN = 0
    IN_ROW = 1
    AT_ROW_END = 2
    WORKED = 3
    BOUND_OFF = 4
    FINISHED = 5


@dataclass_transform(frozen_default=True)
class Session(Struct, frozen=True, eq=False):
    """Where the knitter is. ``row`` and ``done``: ``done`` segments of row ``row`` (from 0) are worked.

    ``versions`` are the piece as every version of its plan has it, by number. ``cut`` are the strands told to be cut
    so far, and those that ended: a length that is ripped out below its cut reaches only to there again. ``told`` are
    those of them cut at the row's end where the knitter is now, of which the kinds of acts in ``acts_done`` are done
    (None: all). ``is_begun``: something was told of the run in work, so its strand is settled. ``is_trapping``: tails
    are laid in while knitting. ``mended``: the mistakes in what is worked, each with what is done about it;
    ``missed``: the runs before which no cross was made; ``sewn``: the areas that are sewn on, by the cell where each
    begins; ``finished``: the kinds of finishing that are done because she says so, the bind-off first. ``before``
    is the session before the last action (None: nothing can be taken back); ``last`` is that action's entry. Of two
    sessions that are equal these two may differ.
    """

    versions: Mapping[int, Piece]
    version: int
    limits: Carry
    strands: Strands
    row: int = 0
    done: int = 0
    cut: frozenset[int] = frozenset()
    told: tuple[int, ...] = ()
    acts_done: frozenset[type[AtEnd]] | None = None
    is_begun: bool = False
    woven: frozenset[End] = frozenset()
    notes: Mapping[int, str] = MappingProxyType({})
    is_trapping: bool = False
    mended: Mapping[Mistake, Remedy] = MappingProxyType({})
    missed: frozenset[Place] = frozenset()
    sewn: frozenset[Cell] = frozenset()
    finished: frozenset[type[Finishing]] = frozenset()
    before: Session | None = None
    last: Entry = ()

    def changed(self, **what: object) -> Session:
        """The session with these fields changed."""
        return replace(self, **what)

    def __eq__(self, other: object) -> bool:
        """Whether all is so now in both, whatever led to it."""
        names = self.__struct_fields__[:-2]
        return isinstance(other, Session) and all(getattr(self, name) == getattr(other, name) for name in names)

    def __repr__(self) -> str:
        return f"<{self.piece.title!r}, row {self.row + 1}, {self.done} runs, {self.phase.name}>"

    @property
    def phase(self) -> Phase:
        """How far the piece is, but for whether its finishing is done."""
        if self.is_bound_off:
            return Phase.BOUND_OFF
        if not self.done:
            return Phase.NOT_BEGUN
        if not self.is_at_turn:
            return Phase.IN_ROW
        return Phase.AT_ROW_END if self.row + 1 < len(self.rows) else Phase.WORKED

    @property
    def is_bound_off(self) -> bool:
        """All stitches are bound off."""
        return BindOff in self.finished

    @property
    def piece(self) -> Piece:
        """The piece as the plan in force has it."""
        return self.versions[self.version]

    def piece_under(self, limits: Carry) -> Piece:
        """The piece with these limits in place of its plan's."""
        return dataclasses.replace(self.piece, carry=limits)

    def as_worked(self, piece: Piece, meetings: Meetings | None = None) -> Rows:
        """The rows of a piece with the mistakes that are left in them, where strands meet in their runs as now, or
        at other ``meetings``."""
        met = self.rows.meetings if meetings is None else meetings
        rows = piece.rows.divided_at({row: gaps for row, gaps in met.items() if row < len(piece.rows)})
        return as_worked(rows, (mistake for mistake, way in self.mended.items() if way == "leave"))

    @property
    def catching(self) -> Catching:
        """What is done to floats and tails on the way."""
        return _catching(self.piece.catching, self.is_trapping)

    @property
    def rows(self) -> Rows:
        """The piece in working order, with the mistakes that are left in it."""
        return self.strands.rows

    @property
    def is_at_turn(self) -> bool:
        """The row is done: the next stitch belongs to the next row, or the piece is at its end."""
        return self.done == len(self.rows[self.row].segments)

    @property
    def runs_done(self) -> int:
        """How many runs of the row on the needles are worked; 0 between rows."""
        return 0 if self.is_at_turn else self.done

    @property
    def rows_done(self) -> int:
        """How many rows are whole."""
        return self.row + self.is_at_turn

    @property
    def is_worked(self) -> bool:
        """Every row is worked; what is left is to bind off and finish."""
        return self.rows_done == len(self.rows)

    @property
    def next_place(self) -> Place | None:
        """The run to be worked now; None when every row is worked."""
        if self.is_worked:
            return None
        return Place(self.row + 1, 0) if self.is_at_turn else Place(self.row, self.done)

    @property
    def at(self) -> Place:
        """Where the hands are, in the row that is held: at the run to be worked now; past a row's last run while
        something is to be done at its end, and when every row is worked."""
        following = self.next_place
        return Place(self.row, self.done) if following is None or self.act is not None else following

    @property
    def last_place(self) -> Place | None:
        """The run worked last; None before the first stitch."""
        return Place(self.row, self.done - 1) if self.done else None

    @property
    def ends_left(self) -> int:
        """How many ends the whole piece still has to weave in, those to come included."""
        return len(ends_of(self.strands)) - len(self.woven)

    @property
    def row_end(self) -> tuple[tuple[AtEnd, ...], ...]:
        """What is still to be done at the end of the row just worked, in groups that are marked done at once by their
        last step, and what is told with the next run after that: what is not told yet."""
        return _row_end(self)

    @property
    def act(self) -> AtEnd | None:
        """The act of the row's end that is to be done now; None where there is none."""
        if self.acts_done is None or not self.is_at_turn:
            return None
        group, *more = self.row_end
        return group[-1] if more else None

    @property
    def past(self) -> Past:
        """What was really worked, for planning what is still to come."""
        whole = self.strands.strand_of[:self.row]
        begun = (self.strands.strand_of[self.row][:self.done],) if self.done else ()
        return Past(whole + begun, self.cut)


@latest
def _row_end(session: Session) -> tuple[tuple[AtEnd, ...], ...]:
    *groups, rest = by_press(session.strands, session.row, session.cut)
    if session.acts_done is None:
        every = (step for group in (*groups, rest) for step in group)
        return (tuple(step for step in every if isinstance(step, (Count, Turn, *LIGHT))),)
    left = [*(group for group in groups if type(group[-1]) not in session.acts_done), rest]
    if session.acts_done or session.told:  # with the first act that is done
        left[0] = tuple(step for step in left[0] if not isinstance(step, Count))
    return tuple(left)


@lru_cache
def _catching(usual: Catching, is_trapping: bool) -> Catching:
    """The same one for the same ways: what is told of a row is kept for the very one that it was told with."""
    return usual._replace(is_trapping=is_trapping)
