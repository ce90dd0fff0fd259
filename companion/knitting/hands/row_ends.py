"""What the hands do at a row's end, in the order in which they do it: from the count to the turn.

Cuts are made while the side just worked still faces the knitter, so that they are told by place in that row.
"""

from __future__ import annotations

from collections.abc import Collection, Iterable, Iterator
from typing import Literal

from companion.knitting.cloth.outlines import is_held, opening_at
from companion.knitting.cloth.rows import Place, Rows, Side
from companion.knitting.hands import steps as do
from companion.knitting.hands.joins_and_cuts import bound_off_at, cut_at, spot
from companion.knitting.hands.needles import taken_up
from companion.knitting.latest import latest
from companion.knitting.strands.strands import Strands

LIGHT = (do.Leave, do.HaveReady, do.GoFlat)
"""What goes with a row that is worked at once: nothing is cut, bound off, divided or joined."""


def row_end(strands: Strands, row: int, cut: Collection[int] | None = None) -> tuple[do.AtEnd, ...]:
    """The steps at the end of a row. ``cut``: the strands that were cut before it; None: as planned."""
    return _kept(strands, row, cut)


@latest
def _kept(strands: Strands, row: int, cut: Collection[int] | None) -> tuple[do.AtEnd, ...]:
    return tuple(_steps(strands, row, cut))


def side_held(steps: Iterable[do.AtEnd], act: do.AtEnd, side: Side) -> Side:
    """The side that faces the knitter at one of the steps at a row's end. ``side``: that of the row; a part is bound
    off, and the other one taken up, with the side of the next row."""
    for step in steps:
        if isinstance(step, do.BindOff | do.TakeUp):
            side = step.side
        if type(step) is type(act):
            break
    return side


def by_press(strands: Strands, row: int, cut: Collection[int] | None = None) -> tuple[tuple[do.AtEnd, ...], ...]:
    """The same in groups, each told and marked done at once: its last step is an act of its own. The count and the
    turn are told with what comes next, so that the last group, which may be empty, is told with the next run. The
    piece is bound off by an action of its own."""
    own = (do.Count, do.Turn, do.BindOff) if row + 1 == len(strands.rows) else (do.Count, do.Turn)
    found, group = list[tuple[do.AtEnd, ...]](), tuple[do.AtEnd, ...]()
    for step in _kept(strands, row, cut):
        group += (step,)
        if not isinstance(step, own):
            found.append(group)
            group = ()
    return (*found, group)


def pressed(strands: Strands, row: int, cut: Collection[int] | None = None) -> tuple[do.AtEnd, ...]:
    """The acts of a row's end that are marked done one by one, in their order."""
    return tuple(group[-1] for group in by_press(strands, row, cut)[:-1])


def _steps(strands: Strands, index: int, cut: Collection[int] | None) -> Iterator[do.AtEnd]:
    rows, row = strands.rows, strands.rows[index]
    onward = rows.onward(index)
    yield do.Count(row.stitches, row.stitches - taken_up(rows, index))
    if cuts := cut_at(strands, index, cut):
        yield cuts
    if index == 0 and row.is_round and len(row.segments) > 1 and rows.cast_on.is_each:
        yield do.JoinRound()
    if off := bound_off_at(strands, index):
        yield off
    if rests := tuple(_rests(strands, index)):
        yield do.Leave(rests, rows.are_rounds(index, index + 1 + max(number for _, number in rests)))
    if divides := _divides(rows, index):
        yield divides
    if onward is None and index + 1 < len(rows):
        if not off:
            yield do.SetAside(row.part, row.stitches, _is_hung(strands, index))
        yield _takes_up(rows, index + 1)
    elif onward and rows.is_joining(onward):
        yield _joins(rows, onward)
    tip = turn_tip(rows, index)
    goes = onward is not None and rows[onward].is_round != row.is_round
    if goes and row.is_round:
        yield do.GoFlat()
    yarns, shared = _joins_in(strands, index + 1)
    if yarns or shared:
        yield do.HaveReady(yarns, shared)
    if tip:
        yield do.Turn(tip)
    if goes and not row.is_round:
        yield do.GoRound(any(below.is_round for below in rows.fabric.rows[:index]))


def _rests(strands: Strands, row: int) -> Iterator[tuple[do.Spot, int]]:
    """The runs of a row after which their strand rests, and over how many rows."""
    for segment in range(len(strands.rows[row].segments)):
        place = Place(row, segment)
        following = strands.after(place)
        if following is not None and (resting := strands.rows.between(row, following.row)):
            yield spot(strands, place), resting


def _divides(rows: Rows, row: int) -> do.Divide | None:
    found = opening_at(rows, row + 1) if len(rows.following(row)) > 1 else None
    if found is None:
        return None
    first, *others = found.parts
    worked = taken_up(rows, first) - (found.middle if found.binds_off == first else 0)
    waits = sum(taken_up(rows, other) - (found.middle if found.binds_off == other else 0) for other in others)
    return do.Divide(
        rows[first].part, worked, waits, found.middle, is_held(rows, first), found.binds_off == first
    )


def _takes_up(rows: Rows, first: int) -> do.TakeUp:
    found = opening_at(rows, first)
    middle = found.middle if found and found.binds_off == first else 0
    return do.TakeUp(rows[first].part, taken_up(rows, first) - middle, middle, rows[first].side)


def _is_hung(strands: Strands, last: int) -> bool:
    """Whether strands hang at a part, whose last row is done, that go on where it is joined."""
    within = range(strands.rows.fabric.block_of(last).start, last + 1)
    latest = (strands.latest(strand, Place(last + 1, 0)) for strand in strands.alive[last])
    return any(place and place.row in within and strands.after(place) for place in latest)


def _joins(rows: Rows, index: int) -> do.JoinParts:
    """What is done before a row that joins two parts: it is worked across the one at whose outer edge it begins, and
    then across the other."""
    row, (held, in_hand) = rows[index], rows.before(index)
    first, then = sorted((held, in_hand), key=lambda one: rows[one].part == row.toward)
    between = row.stitches - row.reached(row.fabric.columns) + row.reached(0)
    return do.JoinParts(
        rows[first].part, rows[first].stitches, rows[then].part, rows[then].stitches, between, rows[held].part
    )


def turn_tip(rows: Rows, row: int) -> Literal["toward", "away", ""]:
    """Which way the tip swings at the turn after a row: toward you after a right-side row, away after a wrong-side
    row, so that the strands uncross again. From the side, never from a toggle; "" = there is no turn."""
    onward = rows.onward(row)
    if onward is None or rows[row].side == rows[onward].side:
        return ""
    return "toward" if rows[row].side == "RS" else "away"


def _joins_in(strands: Strands, row: int) -> tuple[tuple[str, ...], tuple[str, ...]]:
    """The yarns of the strands joined in a row with a tail, and of the lengths started at their middle, in working
    order; none past the last row."""
    if row >= len(strands.rows):
        return (), ()
    joins = [
        (Place(row, i), segment.yarn) for i, segment in enumerate(strands.rows[row].segments)
        if strands.first[strands.strand_of[row][i]] == (row, i)
    ]
    half = strands.other_half
    return (
        tuple(yarn for place, yarn in joins if place not in half),
        tuple(yarn for place, yarn in joins if place in half and place < half[place]),
    )
