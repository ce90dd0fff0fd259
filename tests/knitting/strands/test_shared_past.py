"""The rest of a piece whose runs are shared, planned anew from anywhere, in the middle of a shared run, too."""

from __future__ import annotations

from hypothesis import assume, given, settings
from hypothesis import strategies as st

from companion.knitting.cloth.rows import Place, Rows
from companion.knitting.strands.limits import Carry
from companion.knitting.strands.plan import StrandPlan, plan_strands
from companion.knitting.strands.proof import fault_in
from companion.knitting.strands.strands import Past, hanging, position_of
from tests import oracles
from tests.knitting.charts import Chart, drawn, limits
from tests.knitting.parted import parted, parted_shapes, shared_limits
from tests.knitting.shaped import Shaped
from tests.knitting.strands.flows import divided, smallest_flow
from tests.knitting.strands.test_strands import past_at, plain, positions
from tests.oracles import PlainRow


def staying(rows: Rows, past: Past) -> dict[tuple[int, int], list[int]]:
    """By run of the fabric, after how many of its stitches it stays divided: before the place where the hands are,
    and beside what is worked again."""
    position = position_of(past, rows)
    found: dict[tuple[int, int], list[int]] = {}
    for row, own in enumerate(rows):
        run = after = 0
        for segment, here in enumerate(own.segments):
            if not segment or own.segments[segment - 1].yarn != here.yarn:
                run, after = run + bool(segment), 0
            elif Place(row, segment) <= position or {Place(row, segment - 1), Place(row, segment)} & {*past.again}:
                found.setdefault((row, run), []).append(after)
            after += here.stitches
    return found


def check(chart: list[PlainRow], rows: Rows, past: Past, carry: Carry, plan: StrandPlan) -> None:
    """The rest is the best there is, what is worked and what is worked again is as it was, and the proof holds."""
    strands = plan.strands
    assert fault_in(strands, carry, plan.proof, plan.past) == ""
    assert [numbers[:len(worked)] for numbers, worked in zip(strands.strand_of, past.worked, strict=False)] == [
        *past.worked
    ]
    cuts = staying(rows, past)
    at = {(run.row, run.columns): run.place for own in divided(chart, cuts) for run in own}
    position = position_of(past, rows)
    until = {strand: place for place, strand in sorted(past.again.items())}
    settled = {}
    for place, strand in past.again.items():
        columns = tuple(rows.segment(place).columns)
        [now] = [one for one in plan.past.again if (one.row, tuple(strands.rows.segment(one).columns))
                 == (place.row, columns)]
        assert strands.at(now) == strand
        settled[at[place.row, columns]] = strand not in past.cut and until[strand] == place
    alive = {tuple(place) for strand, place in hanging(past).items() if strand not in until}
    known = max((strand for numbers in past.worked for strand in numbers), default=0)
    divisions = sum(len(row.segments) for row in strands.rows) - len(oracles.segments(chart))
    assert (
        max(map(max, strands.strand_of)) - known,
        divisions - sum(map(len, cuts.values())),
        sum(cost for _, cost in plan.carries),
    ) == smallest_flow(chart, carry, cuts, tuple(position), alive, settled)


@settings(max_examples=50)
@given(parted(), shared_limits(), shared_limits() | limits(6), st.data())
def test_from_anywhere_the_rest_is_planned_best_under_any_limits(
    chart: Chart, first: Carry, then: Carry, data: st.DataObject
) -> None:
    best = plan_strands(chart.rows(), first).strands
    past = past_at(best, data.draw(st.sampled_from(positions(best.rows))))
    plan = plan_strands(best.rows, then, past)
    check(plain(chart), best.rows, past, then, plan)
    assert plan_strands(best.rows, first, past).strands.total == best.total


@settings(max_examples=40)
@given(parted_shapes(max_rows=3), shared_limits(), shared_limits(), st.data())
def test_so_it_is_in_pieces_that_are_shaped_or_divided(
    one: Shaped, first: Carry, then: Carry, data: st.DataObject
) -> None:
    best = plan_strands(one.rows(), first).strands
    past = past_at(best, data.draw(st.sampled_from(positions(best.rows))))
    check(one.plain(), best.rows, past, then, plan_strands(best.rows, then, past))


@st.composite
def worked_anyhow(draw: st.DrawFn, chart: Chart) -> tuple[Rows, Past]:
    """Rows divided anywhere, and worked up to some place by strands of the knitter's own choosing, some of them cut
    at turns."""
    whole = chart.rows()
    gaps = {
        index: sorted(draw(st.sets(st.sampled_from(inner), max_size=2)))
        for index, row in enumerate(whole) if (inner := [c for run in row.segments for c in run.columns])
    }
    rows = whole.divided_at({index: tuple(found) for index, found in gaps.items() if found})
    position = draw(st.sampled_from(positions(rows)))
    worked: list[tuple[int, ...]] = []
    cut: set[int] = set()
    yarn_of: dict[int, str] = {}
    for index in range(min(position.row + 1, len(rows))):
        numbers: list[int] = []
        segments = rows[index].segments[:position.segment if index == position.row else None]
        for run in segments:
            free = [n for n, yarn in yarn_of.items() if yarn == run.yarn and n not in cut]
            numbers.append(draw(st.sampled_from([*free, len(yarn_of) + 1])))
            yarn_of[numbers[-1]] = run.yarn
        if numbers:
            worked.append(tuple(numbers))
        if len(numbers) == len(rows[index].segments) and not draw(st.integers(0, 3)):
            cut.add(draw(st.sampled_from(sorted(yarn_of))))
    return rows, Past(tuple(worked), frozenset(cut))


@settings(max_examples=60)
@given(parted(max_rows=5), shared_limits(), st.data())
def test_whatever_was_worked_stays_divided_as_it_was(chart: Chart, carry: Carry, data: st.DataObject) -> None:
    rows, past = data.draw(worked_anyhow(chart))
    check(plain(chart), rows, past, carry, plan_strands(rows, carry, past))


@settings(max_examples=50)
@given(parted(max_rows=6), shared_limits() | limits(6), st.data())
def test_a_length_that_was_cut_works_its_parts_of_runs_again(chart: Chart, then: Carry, data: st.DataObject) -> None:
    """Ripped back below where strands were cut, and below shared runs. Of some the cut was where a new length had
    been joined, so that they go on; and some, it turns out, have no length left to work again."""
    best = plan_strands(chart.rows(), Carry(3, share_runs=True)).strands
    assume(best.rows.meetings)
    below = [place for place in best.rows.places() if place.row <= max(best.rows.meetings)]
    here, past_end = data.draw(st.sampled_from(below)), Place(len(best.rows), 0)
    far, past = past_at(best, past_end), past_at(best, here)
    hung = {strand for numbers in past.worked for strand in numbers}
    back = sorted(strand for strand in far.cut & hung if best.last[strand] >= here)
    lost = {strand for strand in back if data.draw(st.integers(0, 2)) == 2}
    going_on = {strand for strand in back if data.draw(st.booleans())} - lost
    again = {one: best.at(one) for one in best.rows.places() if one >= here and best.at(one) in {*back} - lost}
    past = past._replace(cut=past.cut | {*back} - going_on, again=again)
    check(plain(chart), best.rows, past, then, plan_strands(best.rows, then, past))


def test_the_strand_that_began_a_shared_run_goes_on_with_it_where_the_other_is_gone() -> None:
    """Sand 3 has worked two of five stitches when sand 1, which was to take over, is lost."""
    rows = drawn("ssbss", "sssss", "ssbss").rows().divided_at({1: (3,)})
    for carry in (Carry(3, share_runs=True), Carry(3)):
        past = Past(((1, 2, 3), (3,)), frozenset({1}))
        assert plan_strands(rows, carry, past).strands.strand_of[1] == (3, 3)
        assert plan_strands(rows, carry, past._replace(cut=frozenset())).strands.strand_of[1] == (3, 1)


def test_none_passes_behind_others_to_the_rest_of_a_run_or_from_where_another_takes_over() -> None:
    """To the fourth stitch: the sand of the third is lost, and that of the first would pass two. And from where it
    was left, before the fourth: sand 1 works on to brick and is cut, and the sand beyond is three stitches off."""
    to = Past(((1, 2, 3),), frozenset({3}))
    rows = drawn("ssbs").rows().divided_at({0: (3,)})
    carry = Carry(3, 3, share_runs=True)
    plan = plan_strands(rows, carry, to)
    assert plan.strands.strand_of == ((1, 2, 3, 4),)
    assert fault_in(plan.strands, carry, plan.proof, plan.past) == ""
    away = Past(((1, 2, 3), (3,)), frozenset({1}), {Place(1, 1): 1})
    rows = drawn("ssssbs", "sssbss").rows().divided_at({1: (4,)})
    plan = plan_strands(rows, carry, away)
    assert plan.strands.strand_of[1] == (3, 1, 2, 4)
    assert fault_in(plan.strands, carry, plan.proof, plan.past) == ""


def test_halves_of_one_length_stay_where_they_were_joined_though_runs_are_divided_otherwise() -> None:
    """Two edges of brick are joined in row 2 as halves of one length, the first of them worked. The sand between them
    was to be shared, so that the second is another run now. Where a half was a part of it, there are no halves."""
    rows = drawn("bsssb", "bsssb").rows().divided_at({1: (2, 3)})
    half = Place(1, 0), Place(1, 4)
    past, carry = Past(((1, 2, 3), (4,)), frozenset({1, 3}), shared=(half,)), Carry(6, share=True, share_runs=True)
    plan = plan_strands(rows, carry, past)
    assert plan.strands.rows.meetings == {}
    assert plan.strands.shared == ((Place(1, 0), Place(1, 2)),)
    past = past._replace(shared=((Place(1, 0), Place(1, 2)),))
    assert plan_strands(rows, carry._replace(share=False), past).strands.shared == ()


def test_what_is_worked_again_is_told_by_its_place_among_runs_that_are_shared_now() -> None:
    """Ripped back to the start of row 2, in which kelp is worked again after the sand, which two strands share."""
    rows, carry = drawn("ssbssb", "sssssk", "ssbssk").rows(), Carry(3, share_runs=True)
    past = Past(((1, 2, 3, 4),), frozenset({1}), {Place(1, 1): 1})
    plan = plan_strands(rows, carry, past)
    assert plan.strands.strand_of[1] == (4, 2, 1)
    assert plan.past.again == {Place(1, 2): 1}
    assert fault_in(plan.strands, carry, plan.proof, plan.past) == ""
