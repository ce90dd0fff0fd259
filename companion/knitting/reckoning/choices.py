"""What every technique would cost: the same piece, or the rest of it, under one set of limits after another."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from contextlib import suppress
from dataclasses import replace
from fractions import Fraction
from itertools import accumulate, chain, product
from math import ceil

from companion.knitting.cloth.areas import sewing, sewn_on
from companion.knitting.cloth.carries import carry
from companion.knitting.cloth.cast_on import is_begun, separate_yarn
from companion.knitting.cloth.rows import Place, Rows
from companion.knitting.hands.runs import own_steps
from companion.knitting.howfar import TooMuchToWeigh
from companion.knitting.piece import Piece
from companion.knitting.reckoning.quantities import Rates, sewing_cm, spare_cm, tail_cm, yarn_of
from companion.knitting.reckoning.savings import Saving, pairs, savings, small_areas
from companion.knitting.reckoning.sewing import lengths_of
from companion.knitting.strands.floats import BABY_FLOAT_CM
from companion.knitting.strands.limits import FREE_FLOAT_CM, Carry, default_reach
from companion.knitting.strands.meetings import whole_ahead
from companion.knitting.strands.moves import Moves, within
from companion.knitting.strands.plan import StrandPlan, chosen, moves_from, plan_strands
from companion.knitting.strands.strands import Past
from companion.knitting.value import Record
from companion.knitting.yarn.winding import measured_off

MOST_NAMED = 6
"""So many choices are laid before a knitter who did not ask for more."""


class Figures(Record):
    """What a choice costs: the less of each the better. ``ends``: with the tails of what is sewn on afterwards;
    ``longest_cm``: the longest float, resting rows included; ``yarn_cm``: every strand as it is measured off, and
    what is sewn on, in centimetres."""

    strands: int
    ends: int
    most_at_once: int
    carried: int
    longest_cm: float
    yarn_cm: Fraction


class Choice(Record):
    """Limits, and what they cost. ``sewn``: the small areas that are sewn on with it and not knitted."""

    limits: Carry
    figures: Figures
    sewn: tuple[Saving, ...] = ()


def named(piece: Piece, past: Past | None = None, rows: Rows | None = None) -> tuple[Carry, ...]:
    """The techniques worth weighing against each other, with those in force, each once; at most ``MOST_NAMED``. Where
    strands would share runs of what is still to come, that is one of them. ``past`` and ``rows`` as for
    ``compared``."""
    own = piece.carry._replace(reach=default_reach(piece.gauge))
    strict, *usual = (own._replace(behind=behind, rest=rest) for behind, rest in _USUAL)
    sharing = _shared(strict, *whole_ahead(rows or piece.rows, past or Past()))
    found = list(dict.fromkeys([strict, *sharing, *usual, piece.carry]))
    if len(found) > MOST_NAMED:
        found.remove(usual[1])
    return tuple(found)


_USUAL = ((0, 0), (3, 0), (5, 0), (0, 2), (3, 4))
"""Behind and rest of the usual techniques."""


def _shared(strict: Carry, rows: Rows, past: Past) -> Iterator[Carry]:
    """The strictest technique with runs shared, where some are; not where that takes long to find out."""
    sharing = strict._replace(share_runs=True)
    with suppress(TooMuchToWeigh):
        if sharing != strict and plan_strands(rows, sharing, past).strands.rows.meetings != rows.meetings:
            yield sharing


def grid(
    piece: Piece, reach: Iterable[int] = (), behind: Iterable[int] = (), rest: Iterable[int] = ()
) -> tuple[Carry, ...]:
    """Every combination of the limits, and those in force; where none are named the usual ones are tried."""
    reaches = sorted(set(reach) or {1, 3, default_reach(piece.gauge), 8})
    behinds, rests = sorted(set(behind) or {0, 3, 5}), sorted(set(rest) or {0, 2, 4})
    *_, share, share_runs = piece.carry
    limits = [Carry(*each, share, share_runs) for each in product(reaches, behinds, rests)]
    return tuple(dict.fromkeys([*limits, piece.carry]))


def compared(
    piece: Piece, limits: Sequence[Carry], past: Past | None = None, renewed: int = 0, rows: Rows | None = None
) -> Iterator[Choice]:
    """Every choice with its figures, one by one as they are reckoned. ``past``: what is worked stays as it is;
    ``renewed``: how often a new length was joined to a strand, which leaves two ends more. ``rows``: the piece's,
    divided where strands have met so far, which the past tells of; None: nowhere yet."""
    rows, past = whole_ahead(rows or piece.rows, past or Past())
    reckoning, everything = _Reckoning(piece, renewed), dict[bool, Moves]()
    for each in limits:
        if each.share_runs not in everything:
            loosest = zip(*(other for other in limits if other.share_runs == each.share_runs), strict=True)
            everything[each.share_runs] = moves_from(rows, Carry(*map(max, loosest)), past)
        plan = chosen(rows, each, past, within(everything[each.share_runs], rows, each))
        yield Choice(each, reckoning.figures(plan))


def compared_sewn(piece: Piece, limits: Sequence[Carry], most: int) -> Iterator[Choice | None]:
    """The same with every small area sewn on that saves an end under the limits; None where none does."""
    for each in limits:
        under = replace(piece, carry=each)
        sewn = tuple(saving for saving in savings(under, small_areas(under, most)) if saving is not None)
        if not sewn:
            yield None
            continue
        fabric = sewn_on(piece.fabric, pairs(sewn))
        under = replace(under, fabric=fabric)
        yield Choice(each, _Reckoning(under, 0).figures(plan_strands(under.rows, each)), sewn)


class _Reckoning:
    """What is the same for every choice, reckoned once."""

    def __init__(self, piece: Piece, renewed: int) -> None:
        self._rates = Rates(piece)
        self._renewed = renewed
        self._levels = [piece.fabric.level(row) for row in range(len(piece.rows))]
        self._works: dict[tuple[int, tuple[int, ...]], list[tuple[Place, float]]] = {}
        self._tails = {yarn.name: float(tail_cm(piece, yarn)) for yarn in piece.yarns}
        self._measured: dict[int, Fraction] = {}
        sewn = sewing(piece.fabric)
        self._sewn_ends = sum(2 * lengths_of(piece, area.stitches) for area in sewn)
        self._sewn_cm = sewing_cm(sewn, self._rates)
        self._cast_on_cm = self._of_its_own(piece)

    def figures(self, plan: StrandPlan) -> Figures:
        """What a plan costs."""
        strands, rows, costs = plan.strands, plan.strands.rows, dict(plan.carries)
        joined, hangs = dict[int, Place](), dict[int, Place]()
        worked: dict[int, float] = {}
        carried, longest = 0, 0.0
        for (place, works), strand in zip(self._worked_cm(rows), chain(*strands.strand_of), strict=True):
            if strand in hangs:
                origin, known = hangs[strand], costs.get(place)
                cost = carry(rows, origin, place) if known is None else known
                between = self._levels[place[0]] - self._levels[origin[0]] - 1
                if cost or between > 0:
                    length = self._rates.float_cm(cost, between if between > 0 else 0)
                    carried += cost
                    works += length
                    if length > longest:
                        longest = length
                worked[strand] += works
            else:
                joined[strand] = place
                worked[strand] = works
            hangs[strand] = place
        begins, stops = [0] * (len(rows) + 1), [0] * (len(rows) + 1)
        for strand, place in joined.items():
            begins[place.row] += 1
            stops[hangs[strand].row + 1] += 1
        most = max(accumulate(new - gone for new, gone in zip(begins, stops, strict=True)))
        yarn = self._sewn_cm + self._cast_on_cm
        halves = strands.other_half
        for strand, cm in worked.items():
            tail = self._tails[rows.segment(joined[strand]).yarn]
            yarn += self._measured_off(cm + spare_cm(cm) + tail * (1 if joined[strand] in halves else 2))
        ends = 2 * len(joined) - 2 * len(strands.shared) + 2 * self._renewed + self._sewn_ends
        ends += strands.cast_on_ends
        return Figures(len(joined), ends, most, carried, longest, yarn)

    def _worked_cm(self, rows: Rows) -> Iterator[tuple[Place, float]]:
        """What every run takes, whichever strand works it: all but its float. Rows that are divided alike take the
        same."""
        for index in range(len(rows)):
            key = index, rows.meetings.get(index, ())
            if key not in self._works:
                self._works[key] = list(_worked_cm(rows, index, self._rates))
            yield from self._works[key]

    def _of_its_own(self, piece: Piece) -> Fraction:
        """A cast-on that is a length of its own, as it is measured off."""
        yarn = separate_yarn(piece.rows)
        if not yarn:
            return Fraction(0)
        cm = piece.rows[0].stitches * self._rates.cast_on_cm
        return self._measured_off(cm + spare_cm(cm) + 2 * self._tails[yarn])

    def _measured_off(self, cm: float) -> Fraction:
        whole = ceil(round(cm, 3))  # lengths are measured off in tens of centimetres, so few of them differ
        if whole not in self._measured:
            self._measured[whole] = measured_off(whole)
        return self._measured[whole]


def _worked_cm(rows: Rows, index: int, rates: Rates) -> Iterator[tuple[Place, float]]:
    """What every run of a row takes, all but its float."""
    row = rows[index]
    for segment, steps in enumerate(own_steps(rows, index)):
        place = Place(index, segment)
        cm = sum(yarn_of(step, rates) for step in steps)
        if is_begun(rows, place):
            cast_on = row.segments[segment].stitches if rows.cast_on.is_each else row.stitches
            cm += cast_on * rates.cast_on_cm
        if rows.ends_in_each(index):
            cm += row.segments[segment].stitches * rates.bind_off_cm
        elif segment + 1 == len(row.segments) and not rows.following(index):
            cm += row.stitches * rates.bind_off_cm
        yield place, cm


def beaten(choices: Sequence[Choice]) -> frozenset[Choice]:
    """The choices that another one beats: better in some count and worse in none."""
    return frozenset(
        one for one in choices
        if any(other.figures != one.figures and _is_no_worse(other.figures, one.figures) for other in choices)
    )


def _is_no_worse(one: Figures, other: Figures) -> bool:
    return all(getattr(one, count) <= getattr(other, count) for count in Figures._fields)


def free_cm(piece: Piece) -> Fraction:
    """How long a float of the piece may lie uncaught."""
    return BABY_FLOAT_CM if piece.is_for_baby else FREE_FLOAT_CM


def recommended(piece: Piece, choices: Sequence[Choice]) -> Choice:
    """The one with the fewest ends among those with no float that would have to be caught, or among all where every
    one has such floats; with as many ends the one that carries least, then the one with the least to sew on, then
    the one that has the shorter limits."""
    short = [choice for choice in choices if choice.figures.longest_cm <= free_cm(piece)]
    return min(short or choices, key=lambda one: (one.figures.ends, one.figures.carried, len(one.sewn), one.limits))
