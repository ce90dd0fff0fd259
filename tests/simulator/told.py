"""What hands are told, as plain values: one each for every doing the simulator knows. Written rows and JSON are read
into them; ``working.py`` does them on the needles."""

from __future__ import annotations

from typing import Literal, NamedTuple

Hand = Literal["k", "p"]


class CastOn(NamedTuple):
    """Before row 1, in the order in which the hands cast on: yarn and stitches. ``strands``: their numbers, where
    told. ``waits``: it is a round, not joined yet."""

    sections: tuple[tuple[str, int], ...]
    method: str
    is_cut: bool = False
    is_joined: bool = False
    waits: bool = False
    strands: tuple[int, ...] = ()


class Cross(NamedTuple):
    """The old strand over the new one."""


class Under(NamedTuple):
    """At a row's start: the new strand under the one that worked the edge last."""

    old: str


class Share(NamedTuple):
    """The run that begins here is shared: so many stitches each strand works."""

    yarn: str
    works: tuple[int, ...]


class Steady(NamedTuple):
    """The old strand, on the fabric's right side after its last stitch, is taken to the wrong side."""

    yarn: str


class Take(NamedTuple):
    """A strand comes to work. ``how``: it hangs there ("with"), is joined, or is the first or second half of a
    length. ``on_needle``: so many stitches ahead, as they lie on the needles now, or with a minus back. What not
    everybody tells: how many stitches of the row it passes ``over``; ``strand``, its number (0: not told); over how
    many rows it ``rested``; how far ``apart`` the halves of a length begin."""

    yarn: str
    how: Literal["with", "join", "middle", "other half"] = "with"
    on_needle: int = 0
    over: int | None = None
    strand: int = 0
    rested: int | None = None
    apart: int | None = None
    is_other: bool = False


class Do(NamedTuple):
    """So many knits or purls."""

    hand: Hand
    number: int


class Slip(NamedTuple):
    """So many stitches slipped purlwise."""

    number: int


class Decrease(NamedTuple):
    """Stitches worked together, by the trade's abbreviation."""

    how: str


class Lift(NamedTuple):
    """A stitch made from the bar, by the trade's abbreviation."""

    how: str


class Loops(NamedTuple):
    """Backward loops."""

    number: int


class CastOnBefore(NamedTuple):
    """Stitches cast on before a row's first one."""

    number: int


class BindOff(NamedTuple):
    """So many bound off at a row's start; one lies on the needle after that."""

    number: int


class Catch(NamedTuple):
    """A float is caught behind the next stitch."""

    yarn: str


class Resting(NamedTuple):
    """The work passes a strand that rests."""

    yarn: str


class LayIn(NamedTuple):
    """A tail of this yarn is laid in under so many stitches. ``end``: which, by part, row, run and "start" or
    "finish", where that is told."""

    yarn: str
    under: int
    end: tuple[str, int, int, str] | None = None


class Renew(NamedTuple):
    """The strand in hand ends here, and the next length goes on: joined with two tails, or spliced."""

    yarn: str
    is_spliced: bool


Lead = CastOn | Steady | Cross | Under | Share | Take
Doing = Do | Slip | Decrease | Lift | Loops | CastOnBefore | BindOff | Catch | Resting | LayIn | Renew


class Run(NamedTuple):
    """How a strand comes in, and what is done with it."""

    leads: tuple[Lead, ...]
    doings: tuple[Doing, ...]


class StrandAt(NamedTuple):
    """A strand told by its place in the row just worked: its run in working order, from 0, and the yarns on both
    sides ("" at an edge); ``strand``, where it is told."""

    yarn: str
    run: int
    before: str
    after: str
    strand: int = 0


class Count(NamedTuple):
    """So many stitches on the needle, ``more`` than before it (None: not told)."""

    stitches: int
    more: int | None = None


class Cut(NamedTuple):
    """Cut each, leaving a tail. ``stays``: those of the same yarns that are not cut, where that is told."""

    strands: tuple[StrandAt, ...]
    stays: tuple[StrandAt, ...] | None = None


class Leave(NamedTuple):
    """Left hanging over so many rows."""

    strands: tuple[tuple[StrandAt, int], ...]


class Divide(NamedTuple):
    """The piece divides. ``works``: with the middle where it goes first (``goes_first`` so many)."""

    first: str
    works: int
    goes_first: int
    middle: int
    is_held: bool
    waits: int


class TakeUp(NamedTuple):
    """The bound-off part's strand is cut; the other part comes back on the needle."""

    part: str
    stitches: int
    middle: int
    side: str


class SetAside(NamedTuple):
    """The part waits on a holder; ``is_hung``: strands that are needed again hang there."""

    part: str
    stitches: int
    is_hung: bool


class JoinParts(NamedTuple):
    """Both parts on the needle again: the next row is worked across ``first``, then across ``then``, with so many
    stitches cast on ``between``; the stitches of ``held``, so many, come from the holder."""

    held: str
    waited: int
    first: str
    stitches: int
    then: str
    then_stitches: int
    between: int


class InStrand(NamedTuple):
    """So many stitches bound off in a strand of this yarn; None: all, and its number is not told by everybody."""

    yarn: str
    stitches: int | None = None
    strand: int = 0


class BindOffAll(NamedTuple):
    """Every stitch is bound off: ``first`` in the strand in hand, then the others each in a strand of its own, and
    they are cut, all with this ``side`` toward the knitter. What not everybody tells: so many ``held`` for good."""

    first: InStrand
    others: tuple[InStrand, ...] = ()
    held: int | None = None
    side: str = ""


class JoinRound(NamedTuple):
    """The stitches are joined into a round, the cast-on not twisted."""


class HaveReady(NamedTuple):
    """Yarns of the strands joined in the next row, and of the lengths begun at their middle there."""

    yarns: tuple[str, ...]
    shared: tuple[str, ...]


class Turn(NamedTuple):
    """The other side toward the knitter; ``tip``: which way the needle's tip swings ("": not told)."""

    tip: str = ""


class Goes(NamedTuple):
    """From here rows are worked flat, or round; ``is_again``: as they were before."""

    how: Literal["flat", "round"]
    is_again: bool = True


RowEnd = (
    Count | Cut | Leave | Divide | SetAside | TakeUp | JoinParts | BindOffAll | JoinRound | HaveReady | Turn | Goes
)


class WrittenRow(NamedTuple):
    """A row as it is told."""

    kind: Literal["Row", "Round"]
    part: str
    number: int
    side: str
    runs: tuple[Run, ...]
    ends: tuple[RowEnd, ...]


class Written(NamedTuple):
    """A whole piece as it is told. ``cast_on``: where it has a line of its own. ``is_full``: every step is told, not
    only what readers of rows are used to; ``ends``: so many to weave in, where that is told."""

    cast_on: CastOn | None
    rows: tuple[WrittenRow, ...]
    is_full: bool = False
    ends: int | None = None
