"""Yarn paid out over a chart, cell by cell, at 20 stitches and 28 rows over 10 cm.

A stitch is 0.5 cm wide and takes 4.1 times that. Cast on it takes four widths and the yarn of a stitch, bound off
five widths (the sources stand in ``quantities``). A float is the diagonal of what it passes and the rows it rests.
"""

from __future__ import annotations

from collections.abc import Sequence
from math import hypot
from typing import NamedTuple

from companion.knitting.cloth.rows import LONG_TAIL, Casting, Place
from companion.knitting.strands.strands import Strands
from tests import oracles
from tests.oracles import PlainRow

STITCH_CM, ROW_CM = 0.5, 10 / 28
LOOP_CM = 2.05
CAST_ON_CM = 4 * STITCH_CM + LOOP_CM
BIND_OFF_CM = 5 * STITCH_CM

MOST_DECREASED = 2
ANY = 99
"""A limit that no chart comes near."""


class Paid(NamedTuple):
    """So much yarn for one thing done in a run, and how many of the run's stitches come of it."""

    place: Place
    cm: float
    stitches: int


def paid_out(rows: Sequence[PlainRow], strands: Strands, cast_on: Casting = LONG_TAIL) -> dict[int, list[Paid]]:
    """For every strand what it takes, in the order in which it is worked; 0 is a cast-on of its own."""
    costs = oracles.legal_moves(rows, ANY, ANY, ANY)
    found: dict[int, list[Paid]] = {}
    hangs: dict[int, Place] = {}
    for segment in oracles.segments(rows):
        place = Place(*segment.place)
        strand, runs = strands.at(place), strands.strand_of[place.row]
        paid = found.setdefault(strand, [])
        if place.row == 0 and (cast_on.is_each or place.segment == 0):
            stitches = len(segment.columns) if cast_on.is_each else len(columns(rows[0]))
            is_own = not cast_on.is_each and cast_on.yarn not in ("", segment.yarn)
            found.setdefault(0 if is_own else strand, []).append(Paid(Place(0, 0), stitches * CAST_ON_CM, 0))
        if strand in hangs:
            origin = hangs[strand]
            passed, rests = costs[origin, place], _between(rows, origin.row, place.row)
            paid.append(Paid(place, hypot(passed * STITCH_CM, rests * ROW_CM), 0))
        if place.segment == 0:
            lost, made = changed_at_start(rows, place.row)
            paid.append(Paid(place, lost * BIND_OFF_CM if lost > MOST_DECREASED else 0.0, 0))
            # One stitch is a lifted bar or a loop, which takes what the stitch takes anyway.
            paid.append(Paid(place, 0.0 if made == 1 else made * CAST_ON_CM, 0))
        paid += [Paid(place, LOOP_CM, 1)] * len(segment.columns)
        is_topmost = not any(place.row in below(rows, above) for above in range(len(rows)))
        if is_topmost and place.segment + 1 == len(runs):
            paid.append(Paid(place, len(columns(rows[place.row])) * BIND_OFF_CM, 0))
        hangs[strand] = place
    return found


def columns(row: PlainRow) -> list[int]:
    """Where it has stitches."""
    return [column for column, cell in enumerate(row.cells, 1) if cell is not None]


def below(rows: Sequence[PlainRow], index: int) -> tuple[int, ...]:
    """The rows on whose stitches it is worked."""
    after = rows[index].after
    return after if after is not None else (index - 1,) if index else ()


def taken(rows: Sequence[PlainRow], index: int) -> list[int]:
    """The columns of the row below that it takes up: of a part's first row those on its own side, and those between
    the parts where it begins beside them and they are not held; of two parts that it joins all."""
    under, *other_part = below(rows, index)
    if other_part:
        return sorted(column for low in below(rows, index) for column in columns(rows[low]))
    own, there = columns(rows[index]), columns(rows[under])
    others = [columns(rows[at]) for at in range(len(rows)) if at != index and below(rows, at) == (under,)]
    if not others:
        return there
    [other] = others
    is_right = min(own) < min(other)
    takes_middle = is_right == (rows[index].toward == "right") and not rows[index].leaves_middle
    if is_right:
        return [column for column in there if column < min(other) and (takes_middle or column <= max(own))]
    return [column for column in there if column > max(other) and (takes_middle or column >= min(own))]


def changed_at_start(rows: Sequence[PlainRow], index: int) -> tuple[int, int]:
    """Stitches lost and made at the edge where a flat row above another starts."""
    if not below(rows, index) or rows[index].round or rows[below(rows, index)[0]].round:
        return 0, 0
    own, there = columns(rows[index]), taken(rows, index)
    lost = min(own) - min(there) if rows[index].toward == "left" else max(there) - max(own)
    return max(lost, 0), max(-lost, 0)


def _is_above(rows: Sequence[PlainRow], low: int, high: int) -> bool:
    """Whether a row lies on another one, or is it."""
    return high == low or any(_is_above(rows, low, one) for one in below(rows, high) if one >= low)


def _between(rows: Sequence[PlainRow], low: int, high: int) -> int:
    steps, at = 0, high
    while at != low:
        at = max(one for one in below(rows, at) if one >= low and _is_above(rows, low, one))
        steps += 1
    return max(steps - 1, 0)
