"""What the hands are told, run by run, against a second reading of the chart cell by cell."""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction
from typing import TypeVar

from hypothesis import example, given
from hypothesis import strategies as st

from companion.knitting.cloth.carries import carry
from companion.knitting.cloth.fabric import Stitch
from companion.knitting.cloth.rows import Place
from companion.knitting.hands.needles import makes
from companion.knitting.hands.row_ends import row_end, turn_tip
from companion.knitting.hands.runs import RunSteps, row_runs, run_steps
from companion.knitting.hands.steps import (
    BindOff,
    CastOn,
    Count,
    Cross,
    Cut,
    Fetch,
    HaveReady,
    Hold,
    Join,
    JoinRound,
    Shape,
    Share,
    Spot,
    Steady,
    Turn,
    Work,
)
from companion.knitting.strands.limits import Carry
from companion.knitting.strands.plan import plan_strands
from companion.knitting.strands.strands import Strands
from companion.plan.outline import troubles
from tests.knitting.charts import Chart, charts, drawn, limits
from tests.knitting.cloth.test_shaping import outlines
from tests.knitting.meetings import may_share_runs, with_meetings
from tests.knitting.parted import parted

T = TypeVar("T")

ALL_WAYS = ("flat", "round", "mixed")
straight = charts(max_rows=8, max_columns=12, ways=ALL_WAYS, has_textures=True, has_gaps=False)
shaped = outlines(has_textures=True).filter(lambda chart: not list(troubles(chart.rows())))
grounds = parted(max_rows=6).filter(lambda chart: all(all(cells) for cells in chart.grid))
anything = straight | straight | shaped | grounds
any_limits = may_share_runs(limits())


def planned(chart: Chart, carry: Carry) -> Strands:
    """The strands as they are planned; where they may share runs they meet wherever they can besides."""
    strands = plan_strands(chart.rows(), carry).strands
    return with_meetings(strands) if carry.share_runs else strands


def runs_of(chart: Chart, strands: Strands, row: int) -> list[list[tuple[int, Stitch]]]:
    return chart.runs(row, strands.rows.meetings.get(row, ()))


def every_run(chart: Chart, carry: Carry) -> Iterator[tuple[Strands, RunSteps]]:
    strands = planned(chart, carry)
    for row in range(len(strands.rows)):
        for run in row_runs(strands, row):
            yield strands, run


def of_kind(run: RunSteps, kind: type[T]) -> list[T]:
    return [step for step in run.steps if isinstance(step, kind)]


def at_end(strands: Strands, row: int, kind: type[T]) -> list[T]:
    return [step for step in row_end(strands, row) if isinstance(step, kind)]


def worked_before(strands: Strands, place: Place) -> Place | None:
    """The segment that the strand worked last before this one, found by walking through the whole piece."""
    found = None
    for earlier in strands.rows.places():
        if earlier == place:
            return found
        if strands.at(earlier) == strands.at(place):
            found = earlier
    raise AssertionError("no such segment")


@given(anything, any_limits)
def test_every_change_in_a_row_has_one_cross_with_both_yarns_and_the_side(chart: Chart, carry: Carry) -> None:
    for strands, run in every_run(chart, carry):
        row = strands.rows[run.place.row]
        crosses = of_kind(run, Cross)
        if run.place.segment == 0:
            assert crosses == []
        else:
            old = runs_of(chart, strands, run.place.row)[run.place.segment - 1][0][1].yarn
            new = runs_of(chart, strands, run.place.row)[run.place.segment][0][1].yarn
            assert crosses == [Cross(old, new, row.side)]


@given(anything, any_limits)
def test_a_run_has_its_steps_in_one_order_and_ends_with_its_stitches(chart: Chart, carry: Carry) -> None:
    """First the old strand to the wrong side, then the new one there, then the cross or the hold, then who shares
    the run, then the stitches; nothing is crossed after them. Only the very first run is cast on, and a round joined
    after that."""
    order = [CastOn, JoinRound, Steady, Join, Fetch, Cross, Hold, Share]
    for strands, run in every_run(chart, carry):
        before = [order.index(type(step)) for step in (*run.before, *run.into)]
        assert before == sorted(set(before))
        assert not (of_kind(run, Join) and of_kind(run, Fetch))
        assert not (of_kind(run, Cross) and of_kind(run, Hold))
        cells = runs_of(chart, strands, run.place.row)[run.place.segment]
        assert run.steps == (*run.before, *run.into, *run.inside)
        assert {type(step) for step in run.inside} <= {Work, Shape}
        assert {step.yarn for step in run.inside} == {cells[0][1].yarn}
        assert sum(map(makes, run.inside)) == len(cells)
        for step in of_kind(run, Work):
            assert sum(count for _, count in step.hands) == step.stitches
        if not of_kind(run, Shape):
            assert run.inside == (Work(cells[0][1].yarn, len(cells), run.hands),)
        assert sum(count for _, count in run.hands) == len(cells)
        assert run.segment == strands.rows.segment(run.place)
        cast: list[object] = [CastOn(1, cells[0][1].yarn, len(chart.worked(0)), "long-tail")]
        joined: list[object] = [JoinRound()] if chart.rounds[0] else []
        assert list(run.before) == (cast + joined if run.place == (0, 0) else [])


@given(grounds | shaped, any_limits)
def test_what_each_strand_works_of_a_run_is_told_where_it_begins_if_it_is_shared(chart: Chart, carry: Carry) -> None:
    for strands, run in every_run(chart, carry):
        row, at = run.place
        parts = runs_of(chart, strands, row)
        [whole] = [one for one in chart.runs(row) if parts[at][0] in one]
        own = [len(part) for part in parts if part[0] in whole]
        is_shared = len(own) > 1 and parts[at][0] == whole[0]
        assert of_kind(run, Share) == ([Share(run.segment.yarn, tuple(own))] if is_shared else [])


@given(anything, any_limits)
def test_a_run_says_how_much_is_left_and_whether_its_strand_is_cut_after_it(chart: Chart, carry: Carry) -> None:
    for strands, run in every_run(chart, carry):
        runs = runs_of(chart, strands, run.place.row)
        assert run.right == sum(map(len, runs[: run.place.segment]))
        row = run.place.row
        is_shaped = any(of_kind(other, Shape) for other in row_runs(strands, row))
        if not is_shaped and len(chart.worked(row)) == len(chart.worked(max(row - 1, 0))):
            assert run.left == sum(map(len, runs[run.place.segment :]))
        later = [place for place in strands.rows.places() if place > run.place and strands.at(place) == run.strand]
        assert run.is_last == (not later)


@given(anything, any_limits)
def test_a_strand_is_joined_where_it_works_for_the_first_time(chart: Chart, carry: Carry) -> None:
    for strands, run in every_run(chart, carry):
        is_new = worked_before(strands, run.place) is None
        joins = of_kind(run, Join)
        assert bool(joins) == (is_new and run.place != (0, 0))
        assert run.start == ("join" if joins else "turn" if run.place.segment == 0 else "cross")
        if joins and run.place.segment:
            assert of_kind(run, Cross) == [Cross(joins[0].old, joins[0].yarn, joins[0].side)]
        if joins:
            assert joins[0].yarn == run.segment.yarn
            assert joins[0].side == chart.side(run.place.row)


@given(anything, any_limits)
def test_at_a_rows_start_the_edge_is_held_when_another_strand_worked_it_last(chart: Chart, carry: Carry) -> None:
    for strands, run in every_run(chart, carry):
        holds = of_kind(run, Hold)
        row, segment = run.place
        if segment or not row:
            assert holds == []
            continue
        edge = Place(row - 1, len(runs_of(chart, strands, row - 1)) - 1)
        if strands.at(edge) == run.strand:
            assert holds == []
        else:
            assert holds == [Hold(strands.rows.segment(edge).yarn, run.segment.yarn, chart.side(row))]


@given(anything, any_limits)
def test_the_old_strand_is_steadied_exactly_when_it_lies_on_the_right_side(chart: Chart, carry: Carry) -> None:
    """A strand lies on the side where the stitch it just made shows its purl face."""
    for strands, run in every_run(chart, carry):
        row, segment = run.place
        done = sum(s.stitches for s in strands.rows[row].segments[:segment])
        told = []
        if segment and chart.faces(row)[done - 1] == "purl":
            told = [Steady(strands.rows[row].segments[segment - 1].yarn, chart.side(row))]
        assert of_kind(run, Steady) == told


def on_the_needles(chart: Chart, row: int, gap: int) -> int:
    """How many stitches of the row are worked when the needles' tips meet at this gap."""
    is_right_side = chart.side(row) == "RS"
    return sum((column <= gap) == is_right_side for column, _ in chart.worked(row))


@given(anything, any_limits)
def test_a_strand_is_fetched_over_as_many_stitches_as_its_carry(chart: Chart, limit: Carry) -> None:
    for strands, run in every_run(chart, limit):
        origin = worked_before(strands, run.place)
        fetched = of_kind(run, Fetch)
        if origin is None:
            assert (run.carry, fetched) == (0, [])
            continue
        assert run.carry == carry(strands.rows, origin, run.place)
        rested = max(run.place.row - origin.row - 1, 0)
        is_shaped = any(of_kind(other, Shape) for other in row_runs(strands, run.place.row))
        assert len(fetched) == bool(run.carry or rested) or (is_shaped and fetched[0].on_needle)
        for fetch in fetched:
            assert (fetch.stitches, fetch.rows) == (run.carry, rested)
            assert (fetch.yarn, fetch.side) == (run.segment.yarn, chart.side(run.place.row))
            assert (fetch.where == "behind") == (origin.row == run.place.row)


@given(anything, any_limits)
@example(drawn("b..", "s..", "sbs"), Carry(0, rest=1))  # in row 2 three become one, across the brick
def test_a_strand_hangs_ahead_over_the_left_needle_or_back_behind_the_right(chart: Chart, carry: Carry) -> None:
    for strands, run in every_run(chart, carry):
        for fetch in of_kind(run, Fetch):
            origin = worked_before(strands, run.place)
            assert origin is not None
            row = run.place.row
            if strands.rows[row].base is not None and origin.row != row:
                continue  # what is made at an edge is not passed: test_shaping
            is_ahead = fetch.where == "ahead"
            assert (fetch.where == "below") == (fetch.on_needle == 0)
            if not strands.rows.fabric.is_shaped:
                assert fetch.on_needle == fetch.stitches
            hang = on_the_needles(chart, row, strands.rows.segment(origin).exit)
            now = sum(s.stitches for s in strands.rows[row].segments[: run.place.segment])
            sides = {chart.side(at) for at in range(origin.row, row + 1)}
            if origin.row != row and sides == {"RS"}:  # no turn lies between
                size = len(chart.worked(row))
                onward, backward = (now - hang) % size, (hang - now) % size
                assert fetch.stitches == min(onward, backward)
                if onward != backward and fetch.where != "below":
                    assert is_ahead == (backward < onward)
            else:
                assert fetch.stitches == abs(hang - now)
                since = range(min(origin.row + 1, row), row + 1)
                is_shaped = any(of_kind(other, Shape) for at in since for other in row_runs(strands, at))
                if fetch.where != "below" and not is_shaped:  # where it is: test_needles
                    assert is_ahead == (hang > now)


@given(anything, any_limits)
def test_at_a_rows_end_stand_the_count_the_cuts_and_the_strands_to_have_ready(chart: Chart, carry: Carry) -> None:
    """Cut is every strand without a later run, but for the one that binds off; ready is every strand joined in the
    next row."""
    strands = planned(chart, carry)
    for row in range(len(strands.rows)):
        count, *_ = row_end(strands, row)
        assert count == Count(len(chart.worked(row)), len(chart.worked(row)) - len(chart.worked(max(row - 1, 0))))
        later = {strand for above in strands.strand_of[row + 1 :] for strand in above}
        above = row_runs(strands, row + 1) if row + 1 < len(strands.rows) else ()
        in_hand = set() if above else {strands.strand_of[row][-1]}
        cut = set(strands.strand_of[row]) - later - in_hand
        spots = [spot for step in at_end(strands, row, Cut) for spot in step.spots]
        assert [spot.strand for spot in spots] == [
            run.strand for run in row_runs(strands, row) if run.is_last and run.strand in cut
        ]
        assert {spot.strand for spot in spots} == cut
        for spot in spots:
            assert spot == seen(chart, strands, row, spot.nth - 1, spot.strand)
            assert run_steps(strands, Place(row, spot.nth - 1)).is_last
        joined = tuple(run.segment.yarn for run in above if of_kind(run, Join))
        assert at_end(strands, row, HaveReady) == ([HaveReady(joined, ())] if joined else [])
        yarn, is_right = chart.worked(row)[-1][1].yarn, chart.rounds[row] or chart.side(row) == "WS"
        last = BindOff(strands.strand_of[row][-1], yarn, len(chart.worked(row)), 0, "RS" if is_right else "WS", ())
        assert at_end(strands, row, BindOff) == ([] if above else [last])


def seen(chart: Chart, strands: Strands, row: int, at: int, strand: int) -> Spot:
    """The strand of a run among those of its row, by the chart."""
    yarns = [run[0][1].yarn for run in runs_of(chart, strands, row)]
    beside = ["", *yarns, ""]
    return Spot(strand, yarns[at], at + 1, len(yarns), beside[at], beside[at + 2])


@given(anything, any_limits)
def test_a_strand_of_the_same_yarn_as_one_that_is_cut_is_named_among_those_that_stay(
    chart: Chart, carry: Carry
) -> None:
    strands = planned(chart, carry)
    for row in range(len(strands.rows)):
        for step in at_end(strands, row, Cut):
            gone = {spot.strand for spot in step.spots}
            last = {strand: at for at, strand in enumerate(strands.strand_of[row])}  # it hangs where it worked last
            assert step.stays == tuple(
                seen(chart, strands, row, at, strand) for strand, at in sorted(last.items(), key=lambda each: each[1])
                if strand not in gone and strands.rows[row].segments[at].yarn in {spot.yarn for spot in step.spots}
            )
            assert step.left_over == ()


@given(anything, any_limits, st.data())
def test_strands_that_were_left_uncut_are_told_with_the_row_they_hang_from_and_those_cut_before_not_again(
    chart: Chart, carry: Carry, data: st.DataObject
) -> None:
    strands = planned(chart, carry)
    cut = data.draw(st.sets(st.sampled_from(sorted(strands.first))))
    in_hand = strands.strand_of[-1][-1]
    for row in range(len(strands.rows)):
        told = [step for step in row_end(strands, row, cut) if isinstance(step, Cut)]
        due = {strand for strand, last in strands.last.items() if last.row == row} - cut - {in_hand}
        over = [strand for strand, last in strands.last.items() if last.row < row and strand not in cut]
        assert {spot.strand for step in told for spot in step.spots} == due
        found = [one for step in told for one in step.left_over]
        assert sorted(one.spot.strand for one in found) == sorted(over)
        for one in found:
            below, at = strands.last[one.spot.strand]
            assert (one.row.number, one.is_round) == (below + 1, chart.rounds[below])
            assert one.spot == seen(chart, strands, below, at, one.spot.strand)


@given(anything)
def test_the_tip_swings_toward_you_after_a_right_side_row_and_away_after_a_wrong_side_row(chart: Chart) -> None:
    rows = chart.rows()
    for row in range(len(rows) - 1):
        turns = chart.side(row) != chart.side(row + 1)
        tip = {"RS": "toward", "WS": "away"}[chart.side(row)] if turns else ""
        assert turn_tip(rows, row) == tip
        strands = planned(chart, Carry(3))
        assert [step.tip for step in at_end(strands, row, Turn)] == ([tip] if turns else [])
    assert turn_tip(rows, len(rows) - 1) == ""


def test_a_join_in_mid_row_is_joined_and_crossed() -> None:
    strands = planned(drawn("sbbs", "ssss"), Carry(3))
    middle = run_steps(strands, Place(1, 1))
    assert middle.steps == (
        Join("brick", "sand", "WS"),
        Cross("sand", "brick", "WS"),
        Work("brick", 2, (("p", 2),)),
    )
    assert middle.start == "join"


def test_the_first_strand_is_cast_on_and_the_others_of_row_one_are_joined() -> None:
    strands = planned(drawn("bbs"), Carry(3))
    assert [run.steps for run in row_runs(strands, 0)] == [
        (CastOn(1, "sand", 3, "long-tail"), Work("sand", 1, (("k", 1),))),
        (Join("brick", "sand", "RS"), Cross("sand", "brick", "RS"), Work("brick", 2, (("k", 2),))),
    ]


def test_a_strand_that_hangs_two_stitches_ahead_is_brought_back() -> None:
    """Brick hangs at the left of columns 1 to 5; on the wrong side it starts at column 3, after two more sand."""
    strands = planned(drawn("sssssbbb", "sssbbbbb"), Carry(3))
    run = run_steps(strands, Place(1, 1))
    assert run.steps == (
        Fetch("brick", 2, 2, 0, "back", Fraction(0), "WS", False, False),
        Cross("sand", "brick", "WS"),
        Work("brick", 3, (("p", 3),)),
    )
    strands = planned(drawn("sssbbbbb", "sssssbbb"), Carry(3))
    run = run_steps(strands, Place(1, 1))
    assert run.steps == (
        Fetch("brick", 2, 2, 0, "ahead", Fraction(0), "WS", False, False),
        Cross("sand", "brick", "WS"),
        Work("brick", 5, (("p", 5),)),
    )


def test_in_the_round_the_edge_between_two_colours_is_held_at_every_start() -> None:
    strands = planned(drawn("bbss", "bbss", is_round=True), Carry(3))
    assert [type(step) for step in run_steps(strands, Place(1, 0)).steps] == [Fetch, Hold, Work]
    assert at_end(strands, 0, Turn) == []
