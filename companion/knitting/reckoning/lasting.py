"""Will what is left of a strand last? Told before the row in which it would run out, never after.

Ten in a hundred of what is still to be worked are kept back, and the tail that has to be left at the end.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from fractions import Fraction
from itertools import groupby

from companion.knitting.cloth.rows import Place
from companion.knitting.hands.needles import makes
from companion.knitting.hands.row_ends import row_end
from companion.knitting.hands.runs import row_runs
from companion.knitting.hands.steps import BindOff, CastOn, Step
from companion.knitting.piece import Piece
from companion.knitting.reckoning.quantities import SPARE, Rates, tail_cm, yarn_of
from companion.knitting.strands.strands import Strands
from companion.knitting.value import Record

_NOISE = 1e-6
"""What sums of floats may be off by, in centimetres: nothing that a hand measures."""


class Lasting(Record):
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


def lasts(piece: Piece, strands: Strands, position: Place, strand: int, left_cm: Fraction | float) -> Lasting:
    """How far ``left_cm`` of a strand goes, measured from where it hangs. ``position``: the segment worked next, by
    whichever strand; past a row's last segment it is the turn.

    Raises:
        KeyError: there is no such strand.
    """
    yarn = piece.yarn(strands.rows.segment(strands.first[strand]).yarn)
    tail, spare = float(tail_cm(piece, yarn)), 1 + float(SPARE)
    room = (float(left_cm) - tail) / spare
    rates, rows, until, used = Rates(piece), 0, None, 0.0
    stop: tuple[int, int, int] | None = None
    for row, steps in _rows_to_come(strands, position, strand):
        needed = sum(yarn_of(step, rates) for step in steps)
        if stop is None and used + needed > room + _NOISE:
            stop = (row, _stitches_in(room - used, steps, rates), sum(map(makes, steps)))
        elif stop is None:
            rows, until = rows + 1, row
        used += needed
    runs_out, stitches, of = stop or (None, 0, 0)
    return Lasting(strand, yarn.name, rows, until, runs_out, stitches, of, used * spare + tail)


def _rows_to_come(strands: Strands, position: Place, strand: int) -> Iterator[tuple[int, list[Step]]]:
    """The rows the strand still works, each with all that is done there with it."""
    for row, places in groupby(strands.paths.get(strand, ()), key=lambda place: place.row):
        runs = row_runs(strands, row)
        steps: list[Step] = []
        if position == (0, 0) and not row:
            steps += (step for step in runs[0].before if isinstance(step, CastOn) and step.strand == strand)
        for run in (runs[place.segment] for place in places if place >= position):
            steps += (*run.into, *run.inside)
        if steps and not strands.rows.following(row):
            offs = (step for step in row_end(strands, row) if isinstance(step, BindOff))
            steps += (
                BindOff(strand, one.yarn, one.stitches, 0, off.side, ())
                for off in offs for one in off.every if one.strand == strand
            )
        if steps:
            yield row, steps


def _stitches_in(room: float, steps: Sequence[Step], rates: Rates) -> int:
    """How many stitches of a row so much yarn works."""
    worked = 0
    for step in steps:
        needed, stitches = yarn_of(step, rates), makes(step)
        if needed and room < needed - _NOISE:
            return worked + max(0, int(room / needed * stitches + _NOISE))
        worked += stitches
        room -= needed
    return worked
