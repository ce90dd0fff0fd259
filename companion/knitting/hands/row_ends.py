"""What the hands do at a row's end, in the order in which they do it: from the count to the turn.

Cuts are made while the side just worked still faces the knitter, so that they are told by place in that row.
"""

from __future__ import annotations

from collections.abc import Collection, Iterator, Sequence
from typing import Literal

from companion.knitting.cloth.outlines import opening
from companion.knitting.cloth.rows import Place, Rows, Segment
from companion.knitting.hands import steps as do
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
    following = rows.following(index)
    yield do.Count(row.stitches, row.stitches - taken_up(rows, index))
    if cuts := _cut(strands, index, cut):
        yield cuts
    if index == 0 and row.is_round and len(row.segments) > 1 and rows.cast_on.is_each:
        yield do.JoinRound()
    if not following:
        last = Place(index, len(row.segments) - 1)
        yield do.BindOff(strands.at(last), row.segments[-1].yarn, row.stitches, _held(rows, index))
    if rests := tuple(_rests(strands, index)):
        yield do.Leave(rests)
    if divides := _divides(rows, index):
        yield divides
    if not following and index + 1 < len(rows):
        yield _takes_up(rows, index + 1)
    tip = turn_tip(rows, index)
    goes = bool(following) and rows[following[0]].is_round != row.is_round
    if goes and row.is_round:
        yield do.GoFlat()
    yarns, shared = _joins_in(strands, index + 1)
    if yarns or shared:
        yield do.HaveReady(yarns, shared)
    if tip:
        yield do.Turn(tip)
    if goes and not row.is_round:
        yield do.GoRound(any(below.is_round for below in rows.fabric.rows[:index]))


def _held(rows: Rows, index: int) -> int:
    """Stitches that stay on a holder between two parts, once the last row of all is worked."""
    found = opening(rows) if rows.fabric.is_middle_held and index + 1 == len(rows) else None
    return found.middle if found else 0


def spot(strands: Strands, place: Place) -> do.Spot:
    """Where the strand of a run hangs among those of its row."""
    return spot_among(strands.rows[place.row].segments, place.segment, strands.at(place))


def spot_among(runs: Sequence[Segment], at: int, strand: int = 0) -> do.Spot:
    """The same of the run ``at`` so and so of those that lie beside each other."""
    before = runs[at - 1].yarn if at else ""
    after = runs[at + 1].yarn if at + 1 < len(runs) else ""
    return do.Spot(strand, runs[at].yarn, at + 1, len(runs), before, after)


def _cut(strands: Strands, index: int, cut: Collection[int] | None) -> do.Cut | None:
    rows = strands.rows
    places = [place for place in cuts_at(strands, index) if cut is None or strands.at(place) not in cut]
    if not rows.following(index):  # the strand in hand is still needed
        places = [place for place in places if place.segment + 1 < len(rows[index].segments)]
    over = [] if cut is None else [strands.last[strand] for strand in idle(strands, index, cut)]
    if not places and not over:
        return None
    spots = tuple(spot(strands, place) for place in places)
    gone, yarns = {one.strand for one in spots}, {one.yarn for one in spots}
    # A strand may have worked several runs of the row: it hangs where it worked last.
    hanging = {strand: Place(index, at) for at, strand in enumerate(strands.strand_of[index])}
    stays = tuple(
        spot(strands, place) for strand, place in sorted(hanging.items(), key=lambda each: each[1])
        if strand not in gone and rows.segment(place).yarn in yarns
    )
    left_over = tuple(do.InRow(rows[at.row].key, rows[at.row].is_round, spot(strands, at)) for at in over)
    return do.Cut(spots, stays, left_over)


def cuts_at(strands: Strands, row: int) -> tuple[Place, ...]:
    """The last runs of the strands that are not needed after a row, in the order in which they hang."""
    segments = enumerate(strands.strand_of[row])
    return tuple(Place(row, segment) for segment, strand in segments if strands.last[strand] == (row, segment))


@latest
def idle(strands: Strands, row: int, cut: Collection[int]) -> tuple[int, ...]:
    """The strands that hang uncut from rows below a row and are not needed any more, in order of joining."""
    uncut = strands.last.keys() - cut  # of thousands that were cut long ago nothing is to be said
    return tuple(sorted((n for n in uncut if strands.last[n].row < row), key=strands.first.__getitem__))


def _rests(strands: Strands, row: int) -> Iterator[tuple[do.Spot, int]]:
    """The runs of a row after which their strand rests, and over how many rows."""
    for segment in range(len(strands.rows[row].segments)):
        place = Place(row, segment)
        following = strands.after(place)
        if following is not None and (resting := strands.rows.between(row, following.row)):
            yield spot(strands, place), resting


def _divides(rows: Rows, row: int) -> do.Divide | None:
    found = opening(rows)
    if found is None or rows.before(found.parts[0]) != (row,):
        return None
    first, *others = found.parts
    worked = taken_up(rows, first) - (found.middle if found.binds_off == first else 0)
    waits = sum(taken_up(rows, other) - (found.middle if found.binds_off == other else 0) for other in others)
    is_held = rows.fabric.is_middle_held
    return do.Divide(rows[first].part, worked, waits, found.middle, is_held, found.binds_off == first)


def _takes_up(rows: Rows, first: int) -> do.TakeUp:
    found = opening(rows)
    middle = found.middle if found and found.binds_off == first else 0
    return do.TakeUp(rows[first].part, taken_up(rows, first) - middle, middle, rows[first].side)


def turn_tip(rows: Rows, row: int) -> Literal["toward", "away", ""]:
    """Which way the tip swings at the turn after a row: toward you after a right-side row, away after a wrong-side
    row, so that the strands uncross again. From the side, never from a toggle; "" = there is no turn."""
    following = rows.following(row)
    if not following or rows[row].side == rows[following[0]].side:
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
