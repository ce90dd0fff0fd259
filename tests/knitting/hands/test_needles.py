"""Stitches on the two needles: what steps take off one and put on the other comes out with every row's count."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field, replace
from fractions import Fraction
from itertools import accumulate

from hypothesis import assume, given

from companion.knitting.cloth.rows import Casting, Place
from companion.knitting.hands.hangs import hangs
from companion.knitting.hands.needles import makes, taken_up, takes
from companion.knitting.hands.row_ends import row_end
from companion.knitting.hands.runs import row_runs, run_steps
from companion.knitting.hands.steps import (
    BindOff,
    CastOn,
    Count,
    Divide,
    Fetch,
    Inside,
    JoinParts,
    SetAside,
    Shape,
    TakeUp,
)
from companion.knitting.strands.limits import Carry
from companion.knitting.strands.plan import plan_strands
from companion.knitting.strands.strands import Strands
from companion.plan.outline import troubles
from tests.knitting.charts import castings, drawn, limits
from tests.knitting.paid_out import below, columns, taken
from tests.knitting.shaped import Shaped, shaped
from tests.oracles import PlainRow


def planned(one: Shaped, carry: Carry, cast_on: Casting | None = None) -> Strands:
    rows = replace(one.piece(), cast_on=cast_on or Casting()).rows
    assume(not list(troubles(rows)))
    return plan_strands(rows, carry).strands


@given(shaped(), limits(), castings())
def test_before_every_run_both_needles_hold_what_the_steps_so_far_leave(
    one: Shaped, carry: Carry, cast_on: Casting
) -> None:
    strands, plain = planned(one, carry, cast_on), one.plain()
    how = one.piece().catching._replace(is_trapping=True)
    for row in range(len(strands.rows)):
        runs = row_runs(strands, row, how)
        left, right = len(taken(plain, row)) if below(plain, row) else 0, 0
        for run in runs:
            left -= sum(map(takes, run.before))
            right += sum(map(makes, run.before))
            assert (run.left, run.right) == (left, right)
            assert (sum(map(takes, run.into)), sum(map(makes, run.into))) == (0, 0)
            left -= sum(map(takes, run.inside))
            right += sum(map(makes, run.inside))
            assert sum(map(makes, run.inside)) == run.segment.stitches
        assert (left, right) == (0, len(columns(plain[row])))


@given(shaped(), limits())
def test_a_count_is_that_of_the_row_and_as_many_more_as_it_makes(one: Shaped, carry: Carry) -> None:
    strands, plain = planned(one, carry), one.plain()
    for row in range(len(strands.rows)):
        more = sum(step.more for run in row_runs(strands, row) for step in run.inside if isinstance(step, Shape))
        counts = [step for step in row_end(strands, row) if isinstance(step, Count)]
        assert counts == [Count(len(columns(plain[row])), more)]
        if under := below(plain, row):
            assert more == len(columns(plain[row])) - len(taken(plain, row))
            assert taken_up(strands.rows, row) == len(taken(plain, row))
            assert len(taken(plain, row)) <= sum(len(columns(plain[low])) for low in under)


@given(shaped(), limits(), castings())
def test_all_that_is_cast_on_and_made_is_lost_bound_off_or_held(
    one: Shaped, carry: Carry, cast_on: Casting
) -> None:
    strands = planned(one, carry, cast_on)
    on_needle = held = 0
    for row in range(len(strands.rows)):
        for run in row_runs(strands, row):
            on_needle += sum(step.stitches for step in run.before if isinstance(step, CastOn))
            on_needle += sum(step.more for step in run.inside if isinstance(step, Shape))
        for step in row_end(strands, row):
            on_needle -= takes(step)
            held += step.held if isinstance(step, BindOff) else 0
    assert on_needle == held


@given(shaped(kinds=("divided",)), limits())
def test_a_piece_divides_into_all_its_stitches_and_what_waits_is_taken_up(one: Shaped, carry: Carry) -> None:
    strands, plain = planned(one, carry), one.plain()
    ends = [row_end(strands, row) for row in range(len(plain))]
    divides = [(row, step) for row, end in enumerate(ends) for step in end if isinstance(step, Divide)]
    taken_back = [(row, step) for row, end in enumerate(ends) for step in end if isinstance(step, TakeUp)]
    joins = [(row, step) for row, end in enumerate(ends) for step in end if isinstance(step, JoinParts)]
    parts = ["", *(part for part, *_ in one.rows_told)]
    begins = [row for row in range(len(plain)) if parts[row + 1] and parts[row] != parts[row + 1]]
    assert len(divides) == len(taken_back) == len(begins) // 2
    for opened in zip(begins[::2], begins[1::2], divides, taken_back, strict=True):
        _divides_into_all(strands, plain, *opened)
    joined = [row for row in range(1, len(plain)) if parts[row] and not parts[row + 1]]
    assert [row for row, _ in joins] == [row - 1 for row in joined]
    for (_, join), row in zip(joins, joined, strict=True):
        by_part = {strands.rows[low].part: columns(plain[low]) for low in below(plain, row)}
        order = ("right", "left") if plain[row].toward == "left" else ("left", "right")
        assert (join.first, join.then) == order
        assert (join.stitches, join.then_stitches) == tuple(len(by_part[part]) for part in order)
        assert join.between == min(by_part["left"]) - max(by_part["right"]) - 1
        assert join.held != strands.rows[row - 1].part  # the part in hand was worked last
        aside = next(step for step in reversed(sum(ends[:row - 1], ())) if isinstance(step, SetAside))
        assert (aside.part, aside.stitches) == (join.held, len(by_part[join.held]))


def _divides_into_all(
    strands: Strands, plain: Sequence[PlainRow], first: int, other: int, divides: tuple[int, Divide],
    taken_back: tuple[int, TakeUp],
) -> None:  # fmt: skip
    parts = first, other
    (divided, divide), (ended, take_up) = divides, taken_back
    assert (divided, ended) == (first - 1, other - 1)
    assert divide.works + divide.waits + divide.middle == len(columns(plain[divided]))
    assert divide.first == strands.rows[first].part != take_up.part == strands.rows[other].part
    assert (take_up.stitches, take_up.side) == (divide.waits, strands.rows[other].side)
    goes_first, goes_last = (len(taken(plain, row)) for row in parts)
    assert goes_first == divide.works + (divide.middle if divide.is_bound_off_first else 0)
    assert goes_last == take_up.stitches + take_up.middle
    if divide.middle:
        assert divide.is_held + divide.is_bound_off_first + bool(take_up.middle) == 1
        assert take_up.middle in (0, divide.middle)


CAST_ON = -1


@dataclass
class Needles:
    """Stitch by stitch, each with the place, in working order, of the last stitch of the row below that it is worked
    into, or the next one where it is made between two or after all; what is cast on lies before them all. The tips
    are between ``back`` and ``ahead``; ``made``: the place of what was made last, where nothing was worked since."""

    ahead: list[float]
    back: list[float] = field(default_factory=list)
    made: float | None = None

    def do(self, step: Inside) -> None:
        if isinstance(step, Shape) and step.how == "cast on":
            self.ahead[:0] = [CAST_ON] * step.more
            return
        took, gave = takes(step), makes(step)
        used, self.ahead = self.ahead[:took], self.ahead[took:]
        following = self.made if self.made is not None else self.back[-1] + 1 if self.back else CAST_ON
        made = used[-1] if used else following
        self.back += used if took == gave else [made] * gave
        self.made = None if took else made if gave else self.made

    def to(self, met: float) -> int:
        """Stitches from the tips to where ``met`` stitches of the row below lie before: above 0 ahead."""
        ahead = sum(place < met for place in self.ahead)
        return ahead or -sum(place >= met for place in self.back)


@given(shaped(), limits())
def test_a_strand_hangs_where_it_lies_among_the_stitches_on_both_needles(one: Shaped, carry: Carry) -> None:
    """Round a tube it may come the other way, past all other stitches. A strand that rests is moved by all that is
    made and lost beside it."""
    strands, plain = planned(one, carry), one.plain()
    hung: list[dict[int, float]] = [dict(_left(strands, 0))]  # after each row, so many of its stitches from column 1
    for row in range(1, len(plain)):
        is_leftward = plain[row].toward == "left"
        met = _met(strands, plain, row, hung)
        under, (low, *other) = taken(plain, row), below(plain, row)
        needles = Needles(list(range(len(under))))
        if other:  # what is cast on between two parts lies before the second one, and before all that hangs there
            [begun] = [at for at in (low, *other) if strands.rows[at].part != plain[row].toward]
            first = len(columns(plain[begun]))
            needles = Needles([*range(first), *(place + 0.5 for place in range(first, len(under)))])
        if row - 1 in (low, *other):
            _hang_there(strands, Place(row, -1), needles, met)
        for run in row_runs(strands, row):
            origin = strands.before(run.place)
            fetched = [step for step in run.into if isinstance(step, Fetch)]
            if origin is not None and origin.row < row:
                away = needles.to(met[run.strand])
                rested = strands.rows.between(origin.row, row)
                assert all((step.stitches, step.rows) == (run.carry, rested) for step in fetched)
                if set(one.sides[origin.row:row + 1]) == {"RS"}:  # no turn lies between
                    there = len(needles.ahead) + len(needles.back)
                    ways = {(abs(way), "ahead" if way > 0 else "back" if way else "below")
                            for way in (away, away - there, away + there)}  # fmt: skip
                else:
                    assert len(fetched) == bool(away or rested or run.carry)
                    ways = {(abs(away), "ahead" if away > 0 else "back" if away else "below")}
                assert {(step.on_needle, step.where) for step in fetched} <= ways
            elif origin is not None:
                assert all((step.on_needle, step.where) == (run.carry, "behind") for step in fetched)
                assert len(fetched) == bool(run.carry)
            else:
                assert fetched == []
            for step in run.inside:
                needles.do(step)
            _hang_there(strands, run.place, needles, met)
        assert needles.ahead == []
        over: dict[int, float] = {s: sum(place < at for place in needles.back) for s, at in met.items()}
        over = over if is_leftward else {strand: len(needles.back) - at for strand, at in over.items()}
        hung.append(over | _left(strands, row))


def _met(
    strands: Strands, plain: Sequence[PlainRow], row: int, hung: Sequence[Mapping[int, float]]
) -> dict[int, float]:
    """Where every strand at the stitches that a row takes up is met: after so many of them. Those of the second of
    two parts lie half a stitch further on."""
    under, lows, found = taken(plain, row), below(plain, row), dict[int, float]()
    for low in lows:
        own, part = columns(plain[low]), strands.rows[low].part
        beyond = sum(column < under[0] for column in own) - sum(column < own[0] for column in under)
        for strand, at in hung[low].items():
            origin = strands.latest(strand, Place(row, 0))
            if len(lows) > 1 and origin and strands.rows[origin.row].part not in ("", part):
                continue
            place = min(max(at - beyond, 0), len(under))
            met = place if plain[row].toward == "left" else len(under) - place
            found[strand] = met + (len(lows) > 1 and part == plain[row].toward) / 2
    return found


def _hang_there(strands: Strands, done: Place, needles: Needles, met: Mapping[int, float]) -> None:
    """Between two runs, and at the turn before the first one, every strand is said to hang where it lies then: from a
    row below as it was met, from this one behind all that was worked after it."""
    row, segments = done.row, strands.rows[done.row].segments
    if done.segment + 1 == len(segments):
        return
    moment = done if done.segment >= 0 else Place(row - 1, len(strands.rows[row - 1].segments) - 1)
    for hang in hangs(strands, moment.row, moment.segment + 1):
        since = segments[hang.worked.segment + 1:done.segment + 1] if hang.worked.row == row else ()
        away = needles.to(met[hang.strand]) if hang.worked.row < row else -sum(run.stitches for run in since)
        assert hang.away == away


def _left(strands: Strands, row: int) -> dict[int, int]:
    """Where the strands that worked in a row were left: so many of its stitches from column 1."""
    runs = strands.rows[row].segments
    is_leftward = strands.rows[row].toward == "left"
    done = accumulate(run.stitches for run in runs)
    return {
        strand: at if is_leftward else strands.rows[row].stitches - at
        for strand, at in zip(strands.strand_of[row], done, strict=True)
    }


def test_by_hand_a_strand_over_stitches_that_are_worked_together_is_counted_on_the_needle() -> None:
    """Brick hangs in gap 9; row 3 has 8 columns, its last stitch three worked together in brick. One stitch of it
    lies between, and two of the row below, columns 8 and 9, are on the needle."""
    strands = plan_strands(drawn("..bsssssss", "bsssssssss", "bsssssssss").rows(), Carry(3)).strands
    brick = run_steps(strands, Place(2, 1))
    assert brick.into[0] == Fetch("brick", 1, 2, 0, "ahead", Fraction(0), "RS", False, False)
    assert (brick.left, brick.inside) == (3, (Shape("brick", "k3tog", -2, 1),))


def test_by_hand_loops_made_beyond_the_edge_lie_past_a_strand_that_hangs_there() -> None:
    """Brick rests over row 3, which works columns 1 to 3 together: it hangs at the edge, and row 4 makes a sand loop
    and a brick one past it. Of what is not there yet in the row below it passes none."""
    chart = drawn("ssssssssb", "sssssss..", "ssssssbss", "sssssssss")
    strands = plan_strands(chart.rows(), Carry(0, 0, 1)).strands
    brick = run_steps(strands, Place(3, 1))
    assert brick.into[0] == Fetch("brick", 0, 1, 1, "back", Fraction(0), "WS", False, False)


def test_a_strand_that_rested_over_decreases_further_in_is_kept_by_its_column_and_told_where_it_lies() -> None:
    """The first sand of row 4 hangs in gap 3. Row 5 decreases two stitches in, so that two of its stitches lie to the
    right of the sand and not none; row 6, from the left, binds off three of four. By its column the sand hangs past
    them, on the needle over the last of them: it is kept, and told one stitch back."""
    lines = (".....bs..", "..ssss...", "..ssssbs.", "...ssssss", ".ssssssss", "sssssssss")
    strands = plan_strands(drawn(*lines).rows(inward=2), Carry(0, rest=1)).strands
    brick, sand = (run_steps(strands, Place(5, segment)) for segment in (0, 1))
    assert strands.before(sand.place) == Place(3, 0)
    assert brick.inside == (Shape("brick", "bind off", -3, 1),)
    assert sand.into[0] == Fetch("sand", 0, 1, 1, "back", Fraction(0), "WS", False, False)
