"""Everything the hands do, as small values: before row 1, into a run, inside it, at its row's end, after the last.

A piece is a list of these. ``runs``, ``row_ends`` and ``finishing`` make them, ``words`` tells them, ``yarn_of`` says
what each takes; whoever shows, prices or counts reads steps. A new doing is one class here, and the type checker
finds every ``match`` that does not know it.
"""

from __future__ import annotations

from collections.abc import Mapping
from fractions import Fraction
from typing import Literal, get_args

from companion.knitting.cloth.areas import Area
from companion.knitting.cloth.fabric import Part
from companion.knitting.cloth.rows import Hand, Method, Place, RowKey, Side
from companion.knitting.cloth.shaping import How
from companion.knitting.cloth.tubes import TubeSeam
from companion.knitting.value import Record, Value

EndKind = Literal["start", "finish", "cast-on start", "cast-on finish"]


class End(Record):
    """One end: at the segment where its strand is joined ("start") or cut ("finish"). ``after`` above 0: inside the
    segment after so many stitches, where one length of the strand ended and the next was joined. "cast-on start" and
    "cast-on finish" are the two of a cast-on that is a length of its own, at the first segment of all."""

    place: Place
    kind: EndKind
    after: int = 0


class Spot(Value):
    """A strand by its place among the runs of a row: yarn carries no number. ``nth`` of ``of``, counted from 1 from
    the side where the row begins; ``before`` and ``after`` the yarns beside it ("" = the edge)."""

    strand: int
    yarn: str
    nth: int
    of: int
    before: str
    after: str


class InRow(Value):
    """A strand that hangs from a run of a row below."""

    row: RowKey
    is_round: bool
    spot: Spot


class CastOn(Value):
    """So many stitches cast on in one strand; strand 0 is a length that nothing else is worked with."""

    strand: int
    yarn: str
    stitches: int
    method: Method


class CrossCastOn(Value):
    """Between two sections cast on: the old strand is laid over the new one."""

    old: str
    new: str


class CutCastOn(Value):
    """The cast-on was a length of its own, and is cut."""

    yarn: str


class JoinRound(Value):
    """The stitches are joined into a round, the cast-on not twisted."""


class Steady(Value):
    """The old strand lies on the right side of the fabric after the stitch just worked: take it to the wrong side
    before it is crossed. ``side`` faces the knitter: RS = take it to the back, WS = bring it to the front."""

    yarn: str
    side: Side


class Fetch(Value):
    """The strand does not hang where it is needed. ``stitches``: it passes so many of this row, ``on_needle`` as they
    lie on the needles now; it rested over ``rows`` rows. It hangs "below" the very stitch, "ahead" over stitches
    still on the left needle, "back" over stitches already worked, or worked "behind" in this row and passes the runs
    since, over ``cm`` centimetres (0 = not known). ``is_round``: the rows it rested over are rounds, or the row in
    which it waits behind is. ``is_other``: it goes on with a run that another strand of its yarn began."""

    yarn: str
    stitches: int
    on_needle: int
    rows: int
    where: Literal["below", "ahead", "back", "behind"]
    cm: Fraction
    side: Side
    is_round: bool
    is_other: bool


class Join(Value):
    """A new strand starts here with a tail. ``old``: the yarn it is half-knotted round ("" = there is none)."""

    yarn: str
    old: str
    side: Side


class JoinHalf(Value):
    """A length started at its middle: the half worked first or second; the other starts ``apart`` stitches away."""

    yarn: str
    half: Literal["first", "second"]
    apart: int
    side: Side


class Hold(Value):
    """At the start of a row another strand worked the edge last: bring the new one under it."""

    old: str
    new: str
    side: Side


class Cross(Value):
    """At a change inside a row, or inside a run that both share: lay the old strand across the new one."""

    old: str
    new: str
    side: Side


class Share(Value):
    """At the beginning of a run that several strands share: so many stitches each works, one after the other."""

    yarn: str
    works: tuple[int, ...]

    @property
    def stitches(self) -> int:
        """All of the run."""
        return sum(self.works)


class Slip(Value):
    """At a flat row's start: the first stitch is slipped purlwise, the strand on the fabric's wrong side."""

    yarn: str
    side: Side


class Work(Value):
    """So many stitches, ``hands`` as the hands work them on the side that faces them."""

    yarn: str
    stitches: int
    hands: tuple[tuple[Hand, int], ...]


class Shape(Value):
    """Stitches made or lost: ``more`` of them, with a minus fewer. ``makes`` of the run's stitches come of it."""

    yarn: str
    how: How
    more: int
    makes: int


class Catch(Value):
    """A strand that is carried is caught here."""

    yarn: str


class Rest(Value):
    """A strand rests here over the row and is left hanging; or is caught on its way up."""

    yarn: str
    is_caught: bool


class LayIn(Value):
    """A tail of the yarn is laid in under so many of the next stitches."""

    end: End
    yarn: str
    stitches: int


class Renew(Value):
    """The strand's length ends ``after`` so many stitches of the run: another is joined and crossed as any is."""

    yarn: str
    after: int
    side: Side


class Splice(Value):
    """The same, the next length spliced to it, so that no end is left."""

    yarn: str
    after: int


class Count(Value):
    """So many stitches must be on the needle, ``more`` than in the row below, with a minus fewer."""

    stitches: int
    more: int


class Cut(Value):
    """Strands that are not needed again, cut all together while the side just worked still faces the knitter.
    ``stays``: strands of the same yarns in this row that are not cut; ``left_over``: strands from rows below that
    are not needed any more, since it was worked otherwise than planned."""

    spots: tuple[Spot, ...]
    stays: tuple[Spot, ...]
    left_over: tuple[InRow, ...]


class OwnOff(Value):
    """So many stitches side by side that are bound off in a strand of their own."""

    strand: int
    yarn: str
    stitches: int


class BindOff(Value):
    """So many stitches are bound off in the strand in hand, then ``others`` in strands of their own, in that order,
    until none is left; the strands are cut then. ``held``: so many wait between two parts, to stay on a holder.
    ``side`` faces the knitter then."""

    strand: int
    yarn: str
    stitches: int
    held: int
    side: Side
    others: tuple[OwnOff, ...]

    @property
    def every(self) -> tuple[OwnOff, ...]:
        """All that is bound off, in the order in which the hands do it."""
        return (OwnOff(self.strand, self.yarn, self.stitches), *self.others)

    @property
    def all_stitches(self) -> int:
        """So many in all."""
        return sum(one.stitches for one in self.every)


class Leave(Value):
    """Strands that rest over the next rows, each with their number: not cut. ``is_round``: all of these are
    rounds."""

    rests: tuple[tuple[Spot, int], ...]
    is_round: bool


class Divide(Value):
    """The piece divides. ``first``: the part that is worked first, on ``works`` stitches; ``waits`` of the other one
    wait on a holder. ``middle`` stitches lie between, and wait too (``is_held``: for good) unless the first part
    binds them off (``is_bound_off_first``)."""

    first: Part
    works: int
    waits: int
    middle: int
    is_held: bool
    is_bound_off_first: bool


class TakeUp(Value):
    """The other part is taken up: so many stitches back on the needle, the ``middle`` ones with them, that it binds
    off first; ``side`` faces the knitter."""

    part: Part
    stitches: int
    middle: int
    side: Side


class SetAside(Value):
    """So many stitches of a part wait on a holder until it is joined to the other; ``is_hung``: with strands that
    are needed again."""

    part: Part
    stitches: int
    is_hung: bool


class JoinParts(Value):
    """The next row is worked across both parts beside an opening, ``first`` the one and ``then`` the other, each with
    its stitches; ``between`` stitches are cast on between them. The stitches of ``held`` come from a holder."""

    first: Part
    stitches: int
    then: Part
    then_stitches: int
    between: int
    held: Part


class GoFlat(Value):
    """From here rows are worked flat where they were worked round."""


class GoRound(Value):
    """From here rows are worked round where they were worked flat; ``is_again``: as further down already."""

    is_again: bool


class HaveReady(Value):
    """Yarns newly joined in the next row, one entry a strand; ``shared``: those of the lengths started at their
    middle there, one entry a length."""

    yarns: tuple[str, ...]
    shared: tuple[str, ...]


class Turn(Value):
    """The work is turned. ``tip``: which way the needle's tip swings."""

    tip: Literal["toward", "away"]


class WeaveIn(Value):
    """So many ends are woven in."""

    ends: int


class SewOn(Value):
    """Areas sewn on over finished stitches."""

    areas: tuple[Area, ...]


class Wash(Value):
    """The piece is washed and dried flat."""


class Trim(Value):
    """The ends are trimmed."""


class SewUp(Value):
    """So many side edges of the piece and the flat parts of a tube are sewn up."""

    edges: int
    tubes: tuple[TubeSeam, ...]


class WeaveAtSeams(Value):
    """So many ends are woven in along the seams."""

    ends: int


Before = CastOn | CrossCastOn | CutCastOn | JoinRound
Into = Steady | Fetch | Join | JoinHalf | Hold | Cross | Share
Inside = Slip | Work | Shape | Catch | Rest | LayIn | Renew | Splice
AtEnd = (
    Count | Cut | BindOff | Leave | Divide | SetAside | TakeUp | JoinParts | JoinRound | GoFlat | GoRound | HaveReady
    | Turn
)
Finishing = BindOff | WeaveIn | SewOn | Wash | Trim | SewUp | WeaveAtSeams
Step = Before | Into | Inside | AtEnd | Finishing


def name_of(step: Step) -> str:
    """What kind of step it is, in words: "cast on", "cross"."""
    return _name(type(step))


def _name(kind: type[Step]) -> str:
    return "".join(f" {letter.lower()}" if letter.isupper() else letter for letter in kind.__name__).strip()


ACTS: Mapping[str, type[AtEnd]] = {_name(kind): kind for kind in get_args(AtEnd)}
"""The kinds of what is done at a row's end, by their names."""


def cuts(step: Step) -> tuple[int, ...]:
    """The strands that are cut in a step of a row's end."""
    match step:
        case Cut(spots, _, left_over):
            return (*(one.strand for one in spots), *(one.spot.strand for one in left_over))
        case BindOff():
            return tuple(one.strand for one in step.every)
        case _:
            return ()
