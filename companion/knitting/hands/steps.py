"""What the hands do, run by run: the steps into a run, the run itself, and what stands at the row's end.

Steps are data; ``words.py`` tells them. No change between two runs is ever without its cross, a join in mid-row
included, and strands always lie on the fabric's wrong side (design: what the hands are told).
"""

from __future__ import annotations

from collections.abc import Collection, Iterator
from fractions import Fraction
from typing import Literal, NamedTuple

from companion.knitting.cloth.cast_on import CastOn, casting_on, is_begun
from companion.knitting.cloth.fabric import Part
from companion.knitting.cloth.outlines import begins_at_opening, opening, taken
from companion.knitting.cloth.rows import Hand, Place, Row, Rows, Segment, Side
from companion.knitting.cloth.shaping import shapings
from companion.knitting.cloth.slipped import hands, is_slipped
from companion.knitting.hands.trapping import traps
from companion.knitting.strands.floats import Catching, Mark, float_into, marks
from companion.knitting.strands.strands import Break, Strands

Start = Literal["join", "turn", "cross"]


class Steady(NamedTuple):
    """The old strand lies on the right side of the fabric after the stitch just worked: take it to the wrong side
    before it is crossed. ``side`` faces the knitter: RS = take it to the back, WS = bring it to the front."""

    yarn: str
    side: Side


class Fetch(NamedTuple):
    """The strand hangs ``stitches`` away. ``is_ahead``: over stitches still on the left needle, to be brought back
    slack behind them; otherwise it is carried on from where it hangs behind stitches already worked. ``is_behind``:
    it worked earlier in this row and passes behind the runs since, over ``cm`` centimetres (0 = not known)."""

    yarn: str
    stitches: int
    is_ahead: bool
    side: Side
    is_behind: bool = False
    cm: Fraction = Fraction(0)


class Join(NamedTuple):
    """A new strand starts here. ``old`` is the yarn it is half-knotted round ("" = there is none). ``half``: it is
    the half worked "first" or "second" of a length started at its middle; the other starts ``apart`` stitches away.
    """

    yarn: str
    old: str
    side: Side
    half: Literal["", "first", "second"] = ""
    apart: int = 0


class Hold(NamedTuple):
    """At the start of a row another strand worked the edge last: bring the new one under it."""

    old: str
    new: str
    side: Side


class Cross(NamedTuple):
    """At a change inside a row: lay the old strand across the new one the way you are going."""

    old: str
    new: str
    side: Side


class Slip(NamedTuple):
    """At a flat row's start: the first stitch is slipped purlwise, the strand on the fabric's wrong side."""

    side: Side


class Renew(NamedTuple):
    """The strand's length ends ``after`` so many stitches of the run: another is spliced to it, or joined there and
    crossed like any other strand."""

    yarn: str
    after: int
    side: Side
    is_spliced: bool


class Work(NamedTuple):
    """Work the run's stitches. ``hands`` as the hands do them on the side that faces them; ``marks`` is what is done
    to other strands on the way."""

    yarn: str
    stitches: int
    hands: tuple[tuple[Hand, int], ...]
    marks: tuple[Mark, ...] = ()


Step = CastOn | Steady | Fetch | Join | Hold | Cross | Slip | Renew | Work


class RunSteps(NamedTuple):
    """One run: its steps in the order the hands do them, the last of them ``Work``.

    ``left`` = stitches still on the left needle when the run begins, itself included. ``is_last``: the strand is
    cut at the turn.
    """

    place: Place
    segment: Segment
    strand: int
    start: Start
    carry: int
    is_last: bool
    left: int
    steps: tuple[Step, ...]

    @property
    def is_joined(self) -> bool:
        """A new strand is joined here, which a strand begun in the cast-on is not."""
        return any(isinstance(step, Join) for step in self.steps)

    @property
    def work(self) -> Work:
        """The run itself."""
        step = self.steps[-1]
        assert isinstance(step, Work)
        return step


class Divides(NamedTuple):
    """After this row the piece divides. ``first``: the part that is worked first, on ``works`` stitches; ``waits`` of
    the other one wait on a holder. ``middle`` stitches lie between, and wait too (``is_held``: for good) unless the
    first part binds them off (``is_bound_off_first``)."""

    first: Part
    works: int
    waits: int
    middle: int
    is_held: bool
    is_bound_off_first: bool


class TakesUp(NamedTuple):
    """After this row's part is bound off, the other one is taken up: so many stitches back on the needle, the
    ``middle`` ones with them, that it binds off first; ``side`` faces the knitter."""

    part: Part
    stitches: int
    middle: int
    side: Side


class RowEnd(NamedTuple):
    """What stands at a row's end: the count, what is cut, how to turn, what to have ready.

    ``cuts`` are places whose strand is not needed again, ``left_over`` the rows below and segments in them where such
    strands still hang; ``rests`` are places whose strand is left hanging over the next rows, with their number;
    ``tip``: which way the needle's tip swings ("" = no turn, the work goes on round or is bound off);
    ``bind_off``: the yarn in hand after the last row of the piece or of a part, which binds off and is cut then; ""
    below it; ``divides``, ``takes_up``: what becomes of the parts of a piece with an opening;
    ``goes``: from here rows are worked "flat" where they were worked round, or "round" where they were worked flat;
    ``more``: so many stitches more than in the row below, or with a minus fewer;
    ``ready``: yarns newly joined in the next row, one entry a strand; ``shared``: those of the lengths started at
    their middle there, one entry a length.
    """

    stitches: int
    cuts: tuple[Place, ...]
    tip: Literal["toward", "away", ""]
    ready: tuple[str, ...]
    bind_off: str
    rests: tuple[tuple[Place, int], ...] = ()
    left_over: tuple[tuple[Row, int], ...] = ()
    shared: tuple[str, ...] = ()
    more: int = 0
    divides: Divides | None = None
    takes_up: TakesUp | None = None
    goes: Literal["", "flat", "round"] = ""


def run_steps(strands: Strands, place: Place, how: Catching | None = None) -> RunSteps:
    """The steps of one run. ``how``: when floats are caught (None: they are not)."""
    return row_runs(strands, place.row, how)[place.segment]


def _run(
    strands: Strands, place: Place, done_to_others: tuple[Mark, ...], how: Catching | None
) -> RunSteps:
    rows = strands.rows
    row = rows[place.row]
    segment = row.segments[place.segment]
    origin = strands.before(place)
    left = sum(later.stitches for later in row.segments[place.segment:])
    steps = tuple(_steps(strands, place, origin, done_to_others, how))
    is_new = origin is None and not (rows.cast_on.is_each and is_begun(rows, place))
    start: Start = "join" if is_new else "cross" if place.segment else "turn"
    is_last = strands.after(place) is None
    return RunSteps(place, segment, strands.at(place), start, strands.carry_into(place), is_last, left, steps)


def row_runs(strands: Strands, row: int, how: Catching | None = None) -> tuple[RunSteps, ...]:
    """The steps of every run of a row, in working order."""
    told = strands.told.get((row, how))
    if told is None:
        found = marks(strands, row, how) if how else {}
        segments = range(len(strands.rows[row].segments))
        told = tuple(_run(strands, Place(row, i), found.get(i, ()), how) for i in segments)
        strands.told.clear()
        strands.told[row, how] = told
    return told


def row_end(strands: Strands, row: int, cut: Collection[int] | None = None) -> RowEnd:
    """What stands at the end of a row. ``cut``: the strands that were cut before; None: as planned."""
    rows = strands.rows
    cuts = tuple(place for place in cuts_at(strands, row) if cut is None or strands.at(place) not in cut)
    bind_off = "" if rows.following(row) else rows[row].segments[-1].yarn
    if bind_off:  # the strand in hand is still needed
        cuts = tuple(place for place in cuts if place.segment + 1 < len(rows[row].segments))
    rests = tuple(_rests(strands, row))
    hanging = [] if cut is None else [strands.last[strand] for strand in idle(strands, row, cut)]
    left_over = tuple((rows[place.row], place.segment) for place in hanging)
    ready, shared = joins_in(strands, row + 1)
    more = rows[row].stitches - _taken_up(rows, row) if row else 0
    divides, takes_up = _divides(rows, row), _takes_up(rows, row)
    return RowEnd(
        rows[row].stitches, cuts, turn_tip(rows, row), ready, bind_off, rests, left_over, shared, more,
        divides, takes_up, _goes(rows, row),
    )  # fmt: skip


def _goes(rows: Rows, row: int) -> Literal["", "flat", "round"]:
    following = [rows[above].is_round for above in rows.following(row)]
    if not following or following[0] == rows[row].is_round:
        return ""
    return "round" if following[0] else "flat"


def _taken_up(rows: Rows, row: int) -> int:
    """How many stitches of the row below a row takes up."""
    below = rows[rows.before(row)[0]]
    if not rows[row].part:
        return below.stitches
    first, last = taken(rows, row)
    return below.upto(last) - below.upto(first - 1)


def _divides(rows: Rows, row: int) -> Divides | None:
    found = opening(rows)
    if found is None or rows.before(found.parts[0]) != (row,):
        return None
    first, *others = found.parts
    worked = _taken_up(rows, first) - (found.middle if found.binds_off == first else 0)
    waits = sum(_taken_up(rows, other) - (found.middle if found.binds_off == other else 0) for other in others)
    is_held = rows.fabric.is_middle_held
    return Divides(rows[first].part, worked, waits, found.middle, is_held, found.binds_off == first)


def _takes_up(rows: Rows, row: int) -> TakesUp | None:
    if rows.following(row) or row + 1 >= len(rows):
        return None
    found = opening(rows)
    assert found is not None
    middle = found.middle if found.binds_off == row + 1 else 0
    return TakesUp(rows[row + 1].part, _taken_up(rows, row + 1) - middle, middle, rows[row + 1].side)


def cuts_at(strands: Strands, row: int) -> tuple[Place, ...]:
    """The last runs of the strands that are not needed after a row, in the order in which they hang."""
    segments = enumerate(strands.strand_of[row])
    return tuple(Place(row, segment) for segment, strand in segments if strands.last[strand] == (row, segment))


def idle(strands: Strands, row: int, cut: Collection[int]) -> tuple[int, ...]:
    """The strands that hang uncut from rows below a row and are not needed any more, in order of joining."""
    kept = strands.kept.get("idle")
    if kept is None or kept[0] is not cut or kept[1] != row:
        uncut = strands.last.keys() - cut  # of thousands that were cut long ago nothing is to be said
        found = tuple(sorted((n for n in uncut if strands.last[n].row < row), key=strands.first.__getitem__))
        kept = strands.kept["idle"] = (cut, row, found)
    told: tuple[int, ...] = kept[2]
    return told


def _rests(strands: Strands, row: int) -> Iterator[tuple[Place, int]]:
    """The segments of a row after which their strand rests, and over how many rows."""
    for segment in range(len(strands.rows[row].segments)):
        place = Place(row, segment)
        following = strands.after(place)
        if following is not None and (resting := strands.rows.between(row, following.row)):
            yield place, resting


def turn_tip(rows: Rows, row: int) -> Literal["toward", "away", ""]:
    """Which way the tip swings at the turn after a row: toward you after a right-side row, away after a wrong-side
    row, so that the strands uncross again. From the side, never from a toggle."""
    following = rows.following(row)
    if not following or rows[row].side == rows[following[0]].side:
        return ""
    return "toward" if rows[row].side == "RS" else "away"


def joins_in(strands: Strands, row: int) -> tuple[tuple[str, ...], tuple[str, ...]]:
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


def _steps(
    strands: Strands, place: Place, origin: Place | None, done_to_others: tuple[Mark, ...], how: Catching | None
) -> Iterator[Step]:
    rows = strands.rows
    row = rows[place.row]
    segment = row.segments[place.segment]
    old = _old(strands, place)
    if place == (0, 0):
        yield casting_on(rows)
    if place.segment and _lies_on_right_side(rows, Place(place.row, place.segment - 1)):
        yield Steady(old, row.side)
    if origin is None:
        if not is_begun(rows, place):
            yield _joined(strands, place, old)
    elif (carried := float_into(strands, place)) and carried.stitches:
        cm = carried.stitches * how.stitch_cm if how and carried.is_behind else Fraction(0)
        yield Fetch(segment.yarn, carried.stitches, carried.is_ahead, row.side, carried.is_behind, cm)
    if place.segment:
        yield Cross(old, segment.yarn, row.side)
    elif old:
        yield Hold(old, segment.yarn, row.side)
    if not place.segment and is_slipped(rows, place.row):
        yield Slip(row.side)
    here = [broken for broken in strands.breaks if broken.place == place]
    for broken in here:
        yield Renew(segment.yarn, broken.after, row.side, broken.is_spliced)
    own = [_mark(segment.yarn, broken) for broken in here]
    if how and how.is_trapping:
        own += [Mark(t.after, segment.yarn, is_caught=False, trapped=t.stitches) for t in traps(strands, place)]
    for one in shapings(rows, place.row):
        if one.segment == place.segment:
            shaped = {"shaping": one.how, "stitches": abs(one.stitches), "takes": one.takes}
            own.append(Mark(one.after, segment.yarn, is_caught=False, **shaped))  # type: ignore[arg-type]
    marked = sorted([*done_to_others, *own], key=lambda mark: mark.after)
    yield Work(segment.yarn, segment.stitches, hands(rows, place), tuple(marked))


def _joined(strands: Strands, place: Place, old: str) -> Join:
    row, segment = strands.rows[place.row], strands.rows.segment(place)
    other = strands.other_half.get(place)
    if other is None:
        return Join(segment.yarn, old, row.side)
    apart = abs(row.upto(segment.entry) - row.upto(strands.rows.segment(other).entry))
    return Join(segment.yarn, old, row.side, "first" if place < other else "second", apart)


def _mark(yarn: str, broken: Break) -> Mark:
    return Mark(broken.after, yarn, is_caught=False, renewed="splice" if broken.is_spliced else "join")


def _old(strands: Strands, place: Place) -> str:
    """The yarn of the strand to be crossed over: the run before in this row; at a row's start the strand that worked
    the edge last, unless it is the same one. "" where there is none."""
    rows = strands.rows
    if place.segment:
        return rows.segment(Place(place.row, place.segment - 1)).yarn
    if begins_at_opening(rows, place.row):
        return ""
    for before in rows.before(place.row):
        edge = Place(before, len(rows[before].segments) - 1)
        if strands.at(edge) != strands.at(place):
            return rows.segment(edge).yarn
    return ""


def _lies_on_right_side(rows: Rows, place: Place) -> bool:
    """After its last stitch the run's strand lies on the right side of the fabric: after a purl on a right-side row,
    or a knit on a wrong-side row; never where that stitch was slipped."""
    hand, _ = hands(rows, place)[-1]
    return hand == ("p" if rows[place.row].side == "RS" else "k")
