"""How much yarn every strand needs, and what that makes of each yarn: lengths in, nothing cut too short.

A strand needs its stitches, its carries and rests, a tail at each of its ends, and spare yarn: one tenth (five
articles on long-tail cast-ons, "How long should a long tail be?" among them; for a whole piece common
practice), and at least 15 cm (common practice). The first strand also casts on, or every strand of row 1 its own
stitches; the one in hand after the last row also binds off, or every strand of it its own run.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from fractions import Fraction
from math import ceil
from typing import assert_never

from companion.knitting.cloth.areas import Area, sewing
from companion.knitting.cloth.cast_on import separate_yarn
from companion.knitting.cloth.fabric import Ball, Yarn
from companion.knitting.cloth.rows import Place
from companion.knitting.hands import steps
from companion.knitting.hands.joins_and_cuts import bound_off_at, casting_on
from companion.knitting.hands.row_ends import row_end
from companion.knitting.hands.runs import fetch, own_steps, own_steps_of
from companion.knitting.hands.steps import BindOff, CastOn, Inside, Step
from companion.knitting.piece import Piece
from companion.knitting.reckoning.sewing import sewn_cm
from companion.knitting.strands.floats import float_cm
from companion.knitting.strands.strands import Strands
from companion.knitting.value import Record
from companion.knitting.yarn.loops import loop_cm
from companion.knitting.yarn.weights import BULKY, WeightClass, grams, tex_of, weight_classes
from companion.knitting.yarn.winding import Supply, measured_off

SPARE = Fraction(1, 10)
LEAST_SPARE_CM = 15

TAIL_CM = Fraction(15)
"""4 to 6 in, 10 to 15 cm ("Intarsia", technique page; "How to join new yarn in knitting")."""

THICK_TAIL_CM = Fraction(20)
"""From bulky yarn on: 6 to 8 in, longer for slippery or thick yarn ("Changing colors and weaving in loose ends")."""

CAST_ON_WIDTHS = 4
"""A long-tail cast-on takes pi times the width, rounded up to 4, besides its tail ("How long should a long tail be?"
and four more articles), and the yarn of one stitch for each that it puts on the needle. Knitted and cable ones are
reckoned to take as much, which is no less than they do (common practice, no source)."""

BIND_OFF_WIDTHS = 5
"""Five times the width ("Best answer: how do I calculate yarn ...": 4.6 measured on a swatch of 12 cm). Others say
3 to 4 loose wraps of the width ("Estimate yarn for binding off", 2014), or 6 times and 6 in ("Yarn chicken")."""

CAST_ON_STRAND = 0
"""The number, among lengths, of a cast-on that is a length of its own; strands are numbered from 1."""


class Rates:
    """What a piece's stitches take, in centimetres, reckoned once. ``cast_on_cm``: in the tail of a long-tail cast-on
    and on the needle."""

    def __init__(self, piece: Piece) -> None:
        self.piece = piece
        self.gauge = piece.gauge
        self.loop_cm = float(loop_cm(piece.gauge, piece.sample))
        self.bind_off_cm = BIND_OFF_WIDTHS * float(piece.gauge.stitch_cm)
        self.cast_on_cm = CAST_ON_WIDTHS * float(piece.gauge.stitch_cm) + self.loop_cm
        self._floats: dict[tuple[int, int], float] = {}  # few differ, and exact widths are slow to multiply

    def float_cm(self, stitches: int, rows: int) -> float:
        """The yarn past so many stitches and resting rows."""
        size = stitches, rows
        if size not in self._floats:
            self._floats[size] = float_cm(stitches, rows, self.gauge)
        return self._floats[size]


def yarn_of(step: Step, rates: Rates) -> float:
    """The yarn that a step takes of the strand it is worked with, in centimetres. A slipped stitch is reckoned like a
    worked one, which is no less than it takes (common practice, no source)."""
    match step:
        case steps.Work(_, stitches, _):
            return stitches * rates.loop_cm
        case steps.Slip():
            return rates.loop_cm
        case steps.Shape(_, "bind off", more, made):
            return -more * rates.bind_off_cm + made * rates.loop_cm
        case steps.Shape(_, "cast on", more, made):
            return more * rates.cast_on_cm + made * rates.loop_cm
        case steps.Shape(_, _, _, made):
            return made * rates.loop_cm
        case steps.Fetch(_, stitches, _, rows):
            return rates.float_cm(stitches, rows)
        case steps.CastOn(_, _, stitches, _):
            return stitches * rates.cast_on_cm
        case steps.BindOff():
            return step.all_stitches * rates.bind_off_cm
        case steps.SewOn(areas):
            return float(sum(sewn_cm(rates.piece, area.stitches) for area in areas))
        case (
            steps.CrossCastOn() | steps.CutCastOn() | steps.JoinRound() | steps.Steady() | steps.Join()
            | steps.JoinHalf() | steps.Hold() | steps.Cross() | steps.Share() | steps.Catch() | steps.Rest()
            | steps.LayIn() | steps.Renew() | steps.Splice() | steps.Count() | steps.Cut() | steps.Leave()
            | steps.Divide() | steps.SetAside() | steps.TakeUp() | steps.JoinParts() | steps.GoFlat()
            | steps.GoRound() | steps.HaveReady() | steps.Turn()
            | steps.WeaveIn() | steps.Wash() | steps.Trim() | steps.SewUp() | steps.WeaveAtSeams()
        ):  # fmt: skip
            return 0.0
        case _:
            assert_never(step)


def sewing_cm(areas: Iterable[Area], rates: Rates) -> Fraction:
    """What sewing on these areas takes, made exact again, so that no ball more is bought for a last digit."""
    return Fraction(yarn_of(steps.SewOn(tuple(areas)), rates)).limit_denominator(10**6)


def yarn_taken(strands: Strands, rates: Rates) -> dict[int, float]:
    """What all steps of a piece take of each strand."""
    rows, taken, hanging = strands.rows, dict.fromkeys([CAST_ON_STRAND, *strands.first], 0.0), dict[int, Place]()
    for step in casting_on(strands):
        if isinstance(step, CastOn):
            taken[step.strand] += yarn_of(step, rates)
    for row, numbers in enumerate(strands.strand_of):
        for segment, inside in enumerate(own_steps(rows, row)):
            strand, place = numbers[segment], Place(row, segment)
            taken[strand] += _taken_at(strands, hanging.get(strand), place, inside, rates)
            hanging[strand] = place
        if off := bound_off_at(strands, row):
            for one in off.every:
                taken[one.strand] += one.stitches * rates.bind_off_cm
    return taken


def _taken_by(strands: Strands, strand: int, rates: Rates) -> float:
    """What all steps take of one strand, from its own runs alone, and from the row that it binds off: of a large
    piece the others are not looked at."""
    rows, path = strands.rows, strands.paths[strand]
    cast = casting_on(strands) if path[0].row == 0 else ()
    taken = sum([yarn_of(step, rates) for step in cast if isinstance(step, CastOn) and step.strand == strand])
    for before, place in zip([None, *path], path, strict=False):
        taken += _taken_at(strands, before, place, own_steps_of(rows, place), rates)
    if not rows.following(path[-1].row):
        taken += _bound_off(strands, path[-1].row, strand, rates)
    return taken


def _taken_at(
    strands: Strands, before: Place | None, place: Place, inside: Sequence[Inside], rates: Rates
) -> float:
    """What a run takes of its strand, with the way from the run ``before`` that it worked (None: there is none)."""
    taken = sum([yarn_of(step, rates) for step in inside])
    if before is not None and (fetched := fetch(strands, before, place)):
        taken += yarn_of(fetched, rates)
    return taken


def _bound_off(strands: Strands, row: int, strand: int, rates: Rates) -> float:
    """What a strand takes to bind off after a row."""
    offs = (step for step in row_end(strands, row) if isinstance(step, BindOff))
    return rates.bind_off_cm * sum([one.stitches for off in offs for one in off.every if one.strand == strand])


def tail_cm(piece: Piece, yarn: Yarn) -> Fraction:
    """The tail left at each end of a strand of this yarn."""
    if piece.tail_cm is not None:
        return piece.tail_cm
    thickest = weight_classes(yarn.ball, piece.gauge)[-1].number
    return THICK_TAIL_CM if thickest >= BULKY else TAIL_CM


class Length(Record):
    """The yarn one strand needs. ``worked_cm``: its stitches, carries and rests, cast-on and bind-off; ``tails``: its
    own ends, each with ``tail_cm``; ``loop_cm``: the yarn of one stitch; ``is_inches``: how it is measured off.
    ``shares_with``: the strand that is worked from the other end of the same length; that start has no tail.
    """

    strand: int
    yarn: str
    joined: Place
    worked_cm: float
    tails: int
    tail_cm: Fraction
    loop_cm: Fraction
    way: Supply
    cm: Fraction
    shares_with: int | None = None

    @property
    def spare_cm(self) -> float:
        """Ten in a hundred of what is worked, at least 15 cm."""
        return spare_cm(self.worked_cm)

    @property
    def wraps(self) -> int:
        """All but the tails in loose wraps round the needle, one a stitch ("How long should a long tail be?")."""
        return ceil(round((self.worked_cm + self.spare_cm) / float(self.loop_cm), 6))


def spare_cm(worked_cm: float) -> float:
    """What is wound beyond what is worked."""
    return max(float(LEAST_SPARE_CM), float(SPARE) * worked_cm)


def lengths(piece: Piece, strands: Strands, *, is_inches: bool = False) -> tuple[Length, ...]:
    """The length of every strand in order of joining, rounded up as it is measured off, and before them that of a
    cast-on of its own (``CAST_ON_STRAND``). Of two halves of one length neither can lend the other yarn, so each has
    spare of its own."""
    worked = yarn_taken(strands, Rates(piece))
    own = [CAST_ON_STRAND] if separate_yarn(strands.rows) else []
    return _lengths(piece, strands, {strand: worked[strand] for strand in (*own, *strands.first)}, is_inches)


def lengths_joined(piece: Piece, strands: Strands, row: int, *, is_inches: bool = False) -> tuple[Length, ...]:
    """Those that begin in a row, in working order: the same as in the winding list."""
    begun = [n for n in dict.fromkeys(strands.strand_of[row]) if strands.first[n].row == row]
    rates = Rates(piece)
    return _lengths(piece, strands, {strand: _taken_by(strands, strand, rates) for strand in begun}, is_inches)


def _lengths(piece: Piece, strands: Strands, worked: Mapping[int, float], is_inches: bool) -> tuple[Length, ...]:
    """The lengths of strands of which so many centimetres are ``worked``."""
    other = {strands.at(half): strands.at(rest) for half, rest in strands.other_half.items()}
    tails = {yarn.name: tail_cm(piece, yarn) for yarn in piece.yarns}
    loop = loop_cm(piece.gauge, piece.sample)
    found, own = [], separate_yarn(strands.rows)
    for strand, cm in worked.items():
        joined = strands.first.get(strand, Place(0, 0))
        yarn = strands.rows.segment(joined).yarn if strand else own
        ends = 1 if strand in other else 2
        needed = cm + spare_cm(cm) + ends * float(tails[yarn])
        metric = measured_off(needed)
        cut = measured_off(needed, is_inches=True) if is_inches else metric
        way = piece.winding.way(metric)
        found.append(Length(strand, yarn, joined, cm, ends, tails[yarn], loop, way, cut, other.get(strand)))
    return tuple(found)


class YarnTotal(Record):
    """What a piece takes of one yarn: the lengths of its strands together, spare and tails in them and not added
    again, and what sewing on takes. ``grams``, ``tex`` and ``balls`` to buy are None where the plan does not
    tell what a ball holds."""

    yarn: Yarn
    cm: Fraction
    grams: Fraction | None
    balls: int | None
    tex: Fraction | None
    classes: tuple[WeightClass, ...]


def totals(piece: Piece, wound: Sequence[Length]) -> Iterator[YarnTotal]:
    """Every yarn of the piece, in the plan's order."""
    rates = Rates(piece)
    for yarn in piece.yarns:
        cm = sum((length.cm for length in wound if length.yarn == yarn.name), Fraction(0))
        cm += sewing_cm([area for area in sewing(piece.fabric) if area.yarn == yarn.name], rates)
        yield _total(yarn, cm, weight_classes(yarn.ball, piece.gauge))


Sold = tuple[str, str, Ball]
"""By what a yarn is the same in several pieces: its name, its colour, and what a ball of it holds."""


def as_sold(yarn: Yarn) -> Sold:
    """The yarn, whatever symbol it has in a chart."""
    return yarn.name, yarn.colour, yarn.ball


def together(needed: Iterable[YarnTotal]) -> Iterator[YarnTotal]:
    """What several pieces take: the lengths of one yarn are summed first, then rounded up to balls once."""
    of_yarn: dict[Sold, list[YarnTotal]] = {}
    for one in needed:
        of_yarn.setdefault(as_sold(one.yarn), []).append(one)
    for each in of_yarn.values():
        classes = {kind for one in each for kind in one.classes}
        yield _total(
            each[0].yarn, sum((one.cm for one in each), Fraction(0)), sorted(classes, key=lambda kind: kind.number)
        )


def _total(yarn: Yarn, cm: Fraction, classes: Iterable[WeightClass]) -> YarnTotal:
    tex, metres = tex_of(yarn.ball), yarn.ball.metres
    weighs = None if tex is None else grams(cm, tex)
    balls = None if metres is None else ceil(cm / 100 / metres)
    return YarnTotal(yarn, cm, weighs, balls, tex, tuple(classes))
