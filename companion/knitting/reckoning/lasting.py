"""Will what is left of a strand last? Told before the row in which it would run out, never after.

Ten in a hundred of what is still to be worked are kept back, and the tail that has to be left at the end.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from fractions import Fraction
from itertools import groupby

from companion.knitting.cloth.rows import Place
from companion.knitting.piece import Piece
from companion.knitting.reckoning.quantities import SPARE, Use, Uses, tail_cm
from companion.knitting.strands.strands import Strands

_NOISE = 1e-6
"""What sums of floats may be off by, in centimetres: nothing that a hand measures."""


@dataclass(frozen=True, slots=True)
class Lasting:
    """How far a strand goes. ``rows`` it still works to their ends, the one at the needles included; ``until``: the
    last of them, from 0 (None: not one). ``runs_out``: the row in which it does, from 0, after ``stitches`` of the
    ``of`` it works there (all of them: in the bind-off); None where there is enough. ``needed_cm``: to its end,
    spare and tail included."""

    strand: int
    yarn: str
    rows: int
    until: int | None
    runs_out: int | None
    stitches: int
    of: int
    needed_cm: float

    @property
    def is_enough(self) -> bool:
        """It lasts to the strand's end."""
        return self.runs_out is None


def lasts(piece: Piece, strands: Strands, position: Place, strand: int, left_cm: Fraction | float) -> Lasting:
    """How far ``left_cm`` of a strand goes, measured from where it hangs. ``position``: the segment worked next, by
    whichever strand; past a row's last segment it is the turn.

    Raises:
        KeyError: there is no such strand.
    """
    yarn = piece.yarn(strands.rows.segment(strands.first[strand]).yarn)
    tail, spare = float(tail_cm(piece, yarn)), 1 + float(SPARE)
    room = (float(left_cm) - tail) / spare
    rows, until, used = 0, None, 0.0
    stop: tuple[int, int, int] | None = None
    for row, taken in _rows_to_come(piece, strands, position, strand):
        needed = sum(use.all for _, use in taken)
        if stop is None and used + needed > room + _NOISE:
            stop = (row, _stitches_in(room - used, taken), sum(stitches for stitches, _ in taken))
        elif stop is None:
            rows, until = rows + 1, row
        used += needed
    runs_out, stitches, of = stop or (None, 0, 0)
    return Lasting(strand, yarn.name, rows, until, runs_out, stitches, of, used * spare + tail)


def _rows_to_come(
    piece: Piece, strands: Strands, position: Place, strand: int
) -> Iterator[tuple[int, list[tuple[int, Use]]]]:
    """The rows the strand still works, each with the stitches of its segments there and what these take."""
    uses = Uses(piece)
    for row, places in groupby(_path(strands, strand), key=lambda step: step[1].row):
        taken = [
            (strands.rows.segment(place).stitches, uses.of(place, origin))
            for origin, place in places if place >= position
        ]
        if taken:
            yield row, taken


def _path(strands: Strands, strand: int) -> Iterator[tuple[Place | None, Place]]:
    """Every segment the strand works, with the one it worked before."""
    origin, place = None, strands.first[strand]
    while True:
        yield origin, place
        following = strands.after(place)
        if following is None:
            return
        origin, place = place, following


def _stitches_in(room: float, taken: Sequence[tuple[int, Use]]) -> int:
    """How many stitches of a row so much yarn works."""
    worked = 0
    for stitches, use in taken:
        room -= use.before
        part = max(0, min(stitches, int(room / use.stitches * stitches + _NOISE)))
        worked += part
        if part < stitches:
            break
        room -= use.stitches + use.after
    return worked
