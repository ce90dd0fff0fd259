"""The steps of every run of a row, in the order in which the hands do them: one function for all who read them.

No change between two runs is ever without its cross, a join in mid-row included, and strands always lie on the
fabric's wrong side (design: what the hands are told).
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from fractions import Fraction
from typing import Literal

from companion.knitting.cloth.carries import carry, goes_round
from companion.knitting.cloth.cast_on import is_begun
from companion.knitting.cloth.rows import Hand, Place, Rows
from companion.knitting.cloth.segments import Segment
from companion.knitting.cloth.shaping import Shaping, shapings
from companion.knitting.cloth.slipped import hands
from companion.knitting.hands import steps as do
from companion.knitting.hands.catches import done_to_others
from companion.knitting.hands.joins_and_cuts import casting_on, crossed_over, joined, renewed, shared_run
from companion.knitting.hands.needles import Needles, makes
from companion.knitting.hands.trapping import laid_in
from companion.knitting.latest import latest
from companion.knitting.strands.floats import Catching, float_from
from companion.knitting.strands.strands import Strands
from companion.knitting.value import Record

Start = Literal["join", "turn", "cross"]


class RunSteps(Record):
    """One run: its steps in the order the hands do them. ``before``: the cast-on, at the first run of all.

    ``left`` and ``right``: stitches on the needle the work comes from and on the one it goes to when the run begins.
    ``is_last``: its strand is cut at the row's end; ``is_round``: the row is worked round. ``hands``: knits and purls
    of all its stitches.
    """

    place: Place
    segment: Segment
    strand: int
    start: Start
    carry: int
    is_last: bool
    is_round: bool
    left: int
    right: int
    hands: tuple[tuple[Hand, int], ...]
    before: tuple[do.Before, ...]
    into: tuple[do.Into, ...]
    inside: tuple[do.Inside, ...]

    @property
    def steps(self) -> tuple[do.Before | do.Into | do.Inside, ...]:
        """All of them."""
        return (*self.before, *self.into, *self.inside)

    @property
    def is_joined(self) -> bool:
        """A new strand is joined here, which a strand begun in the cast-on is not."""
        return any(isinstance(step, do.Join | do.JoinHalf) for step in self.into)


def run_steps(strands: Strands, place: Place, how: Catching | None = None) -> RunSteps:
    """The steps of one run. ``how``: when floats are caught (None: they are not)."""
    return row_runs(strands, place.row, how)[place.segment]


def row_runs(strands: Strands, row: int, how: Catching | None = None) -> tuple[RunSteps, ...]:
    """The steps of every run of a row, in working order."""
    return (_bare if how is None else _caught)(strands, row, how)


def _told(strands: Strands, row: int, how: Catching | None) -> tuple[RunSteps, ...]:
    return tuple(_runs(strands, row, how))


_bare, _caught = latest(_told), latest(_told)
"""Without catches and with them: both are asked of the same row in turn."""


def _runs(strands: Strands, index: int, how: Catching | None) -> Iterator[RunSteps]:
    rows, row = strands.rows, strands.rows[index]
    on_the_way = done_to_others(strands, index, how) if how else {}
    needles, shaped = Needles(rows, index), shapings(rows, index)
    for number, segment in enumerate(row.segments):
        place = Place(index, number)
        origin, strand = strands.before(place), strands.at(place)
        is_new = origin is None and not is_begun(rows, place)
        start: Start = "join" if is_new else "cross" if number else "turn"
        inside = _inside(strands, place, shaped, on_the_way.get(number, ()), how)
        yield RunSteps(
            place, segment, strand, start, carry(rows, origin, place) if origin else 0, strands.last[strand] == place,
            row.is_round, needles.left, needles.right, hands(rows, place),
            casting_on(strands) if place == (0, 0) else (),
            tuple(_into(strands, origin, place, how, needles)), inside,
        )  # fmt: skip
        needles.do(inside)


def _into(
    strands: Strands, origin: Place | None, place: Place, how: Catching | None, needles: Needles
) -> Iterator[do.Into]:
    rows, row = strands.rows, strands.rows[place.row]
    yarn, old = rows.segment(place).yarn, crossed_over(strands, place)
    if place.segment and old and _lies_on_right_side(rows, Place(place.row, place.segment - 1)):
        yield do.Steady(old, row.side)
    if origin is None:
        if not is_begun(rows, place):
            yield joined(strands, place)
    elif fetched := fetch(strands, origin, place, how, needles):
        yield fetched
    if old:
        yield (do.Cross if place.segment else do.Hold)(old, yarn, row.side)
    if share := shared_run(strands, place):
        yield share


def fetch(
    strands: Strands, origin: Place, place: Place, how: Catching | None = None, needles: Needles | None = None
) -> do.Fetch | None:
    """How a strand comes from the run it worked before to the one it works now; None where it hangs at the stitch.
    ``needles``: as they are then; where rows are shaped, stitches do not lie as they are drawn."""
    rows, row, carried = strands.rows, strands.rows[place.row], float_from(strands, origin, place)
    stitches, resting = (carried.stitches, carried.rows) if carried else (0, 0)
    on_needle = stitches if carried and carried.is_ahead else -stitches
    is_behind = origin.row == place.row
    if needles and rows.fabric.is_shaped and not is_behind:
        on_needle = needles.away(origin)
        if on_needle and goes_round(rows, origin, place):
            there = needles.left + needles.right
            around = on_needle - there if on_needle > 0 else on_needle + there
            if carried.is_ahead != (on_needle > 0) if carried and stitches else abs(around) < abs(on_needle):
                on_needle = around
    if not (stitches or resting or on_needle):
        return None
    where: Literal["below", "ahead", "back", "behind"] = "below"
    if on_needle:
        where = "behind" if is_behind else "ahead" if on_needle > 0 else "back"
    cm = stitches * how.stitch_cm if how and is_behind else Fraction(0)
    is_round = row.is_round if is_behind else rows.are_rounds(origin.row, place.row)
    yarn = rows.segment(place).yarn
    is_other = place.segment > 0 and row.segments[place.segment - 1].yarn == yarn
    return do.Fetch(yarn, stitches, abs(on_needle), resting, where, cm, row.side, is_round, is_other)


def _inside(
    strands: Strands, place: Place, shaped: Sequence[Shaping], others: Iterable[tuple[int, do.Inside]],
    how: Catching | None,
) -> tuple[do.Inside, ...]:
    """What is done in the course of a run, its own stitches between."""
    marks = list(others)
    marks += ((broken.after, renewed(strands, broken)) for broken in strands.breaks if broken.place == place)
    if how and how.is_trapping:
        marks += laid_in(strands, place)
    return tuple(_own(strands.rows, place, shaped, marks))


def own_steps(rows: Rows, index: int) -> Iterator[tuple[do.Inside, ...]]:
    """Of every run of a row its own stitches, worked, slipped and shaped, whichever strands work them."""
    shaped = shapings(rows, index)
    for segment in range(len(rows[index].segments)):
        yield tuple(_own(rows, Place(index, segment), shaped, ()))


def own_steps_of(rows: Rows, place: Place) -> tuple[do.Inside, ...]:
    """The same of one run."""
    return tuple(_own(rows, place, shapings(rows, place.row), ()))


def _own(
    rows: Rows, place: Place, shaped: Sequence[Shaping], marks: Iterable[tuple[int, do.Inside]]
) -> Iterator[do.Inside]:
    """A run's stitches in order. ``marks``: what else is done on the way, each after so many of them."""
    segment, done = rows.segment(place), hands(rows, place)
    found = list(marks)
    for one in shaped:
        if one.segment == place.segment:
            found.append((one.after, do.Shape(segment.yarn, one.how, one.stitches, one.takes)))
    if len(found) > 1:
        found.sort(key=lambda mark: mark[0])
    at = 0
    for after, step in found:
        yield from _work(rows, place, done, at, after)
        yield step
        at = max(at, after + makes(step))
    yield from _work(rows, place, done, at, segment.stitches)


def _work(rows: Rows, place: Place, done: tuple[tuple[Hand, int], ...], start: int, stop: int) -> Iterator[do.Inside]:
    """The stitches ``start + 1`` to ``stop`` of a run."""
    yarn = rows.segment(place).yarn
    if start == 0 < stop and done[0][0] == "sl":
        yield do.Slip(yarn, rows[place.row].side)
        start = 1
    if start >= stop:
        return
    part = done
    if (start, stop) != (0, rows.segment(place).stitches):
        part, at = (), 0
        for hand, stitches in done:
            taken = min(at + stitches, stop) - max(at, start)
            if taken > 0:
                part += ((hand, taken),)
            at += stitches
    yield do.Work(yarn, stop - start, part)


def _lies_on_right_side(rows: Rows, place: Place) -> bool:
    """After its last stitch the run's strand lies on the right side of the fabric: after a purl on a right-side row,
    or a knit on a wrong-side row; never where that stitch was slipped."""
    hand, _ = hands(rows, place)[-1]
    return hand == ("p" if rows[place.row].side == "RS" else "k")
