"""What hands are told, as plain values: one each for every doing the simulator knows. Written rows and JSON are read
into them; ``working.py`` does them on the needles."""

from __future__ import annotations

from typing import Literal, NamedTuple

Hand = Literal["k", "p"]


class CastOn(NamedTuple):
    """Before row 1, in the order in which the hands cast on."""

    sections: tuple[tuple[str, int], ...]
    method: str
    is_cut: bool = False
    is_joined: bool = False


class Cross(NamedTuple):
    """The old strand over the new one."""


class Under(NamedTuple):
    """At a row's start: the new strand under the one that worked the edge last."""

    old: str


class Take(NamedTuple):
    """A strand comes to work. ``how``: it hangs there ("with"), is joined, or is the first or second half of a length.
    ``away``: so many stitches ahead, or with a minus back."""

    yarn: str
    how: Literal["with", "join", "middle", "other half"] = "with"
    away: int = 0


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
    """A tail of this yarn is laid in under so many stitches."""

    yarn: str
    under: int


Lead = CastOn | Cross | Under | Take
Doing = Do | Slip | Decrease | Lift | Loops | CastOnBefore | BindOff | Catch | Resting | LayIn


class Run(NamedTuple):
    """How a strand comes in, and what is done with it."""

    leads: tuple[Lead, ...]
    doings: tuple[Doing, ...]


class StrandAt(NamedTuple):
    """A strand told by its place in the row just worked: its run in working order (from 0; None where the row has one
    run), and the yarns on both sides ("" at an edge)."""

    yarn: str
    run: int | Literal["last"]
    before: str
    after: str


class Cut(NamedTuple):
    """Cut each, leaving a tail."""

    strands: tuple[StrandAt, ...]


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


class BindOffAll(NamedTuple):
    """Every stitch is bound off in the strand in hand, of this yarn."""

    yarn: str


class Turn(NamedTuple):
    """The other side toward the knitter."""


class Goes(NamedTuple):
    """From here rows are worked flat, or round."""

    how: Literal["flat", "round"]


RowEnd = Cut | Leave | Divide | TakeUp | BindOffAll | Turn | Goes


class WrittenRow(NamedTuple):
    """A row as it is told. ``count``: stitches on the needle after it."""

    kind: Literal["Row", "Round"]
    part: str
    number: int
    side: str
    runs: tuple[Run, ...]
    count: int
    ends: tuple[RowEnd, ...]


class Written(NamedTuple):
    """A whole piece as it is told. ``cast_on``: where it has a line of its own; ``seams``: the flat rows of a tube that
    are sewn up, with their stitches for it."""

    yarns: tuple[str, ...]
    cast_on: CastOn | None
    rows: tuple[WrittenRow, ...]
    seams: tuple[tuple[int, int], ...]
    sewn_on: tuple[str, ...]
