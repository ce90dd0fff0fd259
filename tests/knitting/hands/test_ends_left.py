"""Every end that a piece has is left by a step, and every step that leaves one is in the list of ends."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from hypothesis import assume, given
from hypothesis import strategies as st

from companion.knitting.cloth.rows import Casting, Place
from companion.knitting.hands.ends import ends_of
from companion.knitting.hands.row_ends import row_end
from companion.knitting.hands.runs import row_runs
from companion.knitting.hands.steps import BindOff, CastOn, Cut, CutCastOn, End, Join, JoinHalf, Renew, Splice
from companion.knitting.strands.limits import Carry
from companion.knitting.strands.plan import plan_strands
from companion.knitting.strands.strands import Break, Strands
from companion.plan.outline import troubles
from tests.knitting.charts import castings, drawn, shared_or_not
from tests.knitting.shaped import Shaped, shaped


def left_by_steps(strands: Strands) -> Iterator[End]:
    """A tail where a strand is joined or cast on, one where it is cut or binds off, two where it is renewed."""
    for row in range(len(strands.rows)):
        runs = row_runs(strands, row)
        for run in runs:
            for step in run.steps:
                match step:
                    case CastOn(0):
                        yield End(Place(0, 0), "cast-on start")
                    case CastOn(strand):
                        yield End(Place(0, [other.strand for other in runs].index(strand)), "start")
                    case CutCastOn():
                        yield End(Place(0, 0), "cast-on finish")
                    case Join():
                        yield End(run.place, "start")
                    case Renew(_, after):
                        yield from (End(run.place, kind, after) for kind in ("finish", "start"))
        for end in row_end(strands, row):
            if isinstance(end, Cut):
                for spot in end.spots:
                    assert strands.at(Place(row, spot.nth - 1)) == spot.strand
                    yield End(Place(row, spot.nth - 1), "finish")
            elif isinstance(end, BindOff):
                assert end.strand == runs[-1].strand
                if strands.rows.is_off_each:
                    assert end.others or len({run.strand for run in runs}) == 1 or strands.rows[row].is_round
                for one in end.every:
                    yield End(max(run.place for run in runs if run.strand == one.strand), "finish")


@given(shaped(), shared_or_not(), castings(), st.data())
def test_the_ends_are_those_that_the_steps_leave(
    one: Shaped, carry: Carry, cast_on: Casting, data: st.DataObject
) -> None:
    piece = replace(one.piece(), cast_on=cast_on)
    assume(not list(troubles(piece.rows)))
    strands = plan_strands(piece.rows, carry).strands
    places = data.draw(st.lists(st.sampled_from(list(strands.rows.places())), max_size=4, unique=True))
    afters = [data.draw(st.integers(0, strands.rows.segment(place).stitches - 1)) for place in places]
    # Before its first stitch a run's length is spliced; joined there it is another strand.
    spliced = [not after or data.draw(st.booleans()) for after in afters]
    breaks = tuple(sorted(map(Break, places, afters, spliced)))
    strands = replace(strands, breaks=breaks)
    left = list(left_by_steps(strands))
    assert len(left) == len(set(left))
    assert set(left) == set(ends_of(strands))
    assert len(left) == strands.total.ends
    told = [step for row in range(len(strands.rows)) for run in row_runs(strands, row) for step in run.inside]
    assert sum(isinstance(step, Renew) for step in told) == sum(not broken.is_spliced for broken in breaks)
    assert sum(isinstance(step, Splice) for step in told) == sum(broken.is_spliced for broken in breaks)


def test_by_hand_a_shared_length_leaves_no_end_where_it_begins() -> None:
    """Two posts of brick, two stitches apart, on a ground of sand: all four lengths of row 3 start at a middle."""
    chart = drawn("ssbsbss", "ssbsbss", "sssssss", "sssssss")
    strands = plan_strands(chart.rows(), Carry(3, share=True)).strands
    halves = [step for run in row_runs(strands, 2) for step in run.steps if isinstance(step, JoinHalf)]
    assert len(halves) == 4
    # The cast-on's tail; in row 4, from the left, all five are cut or bind off.
    assert list(left_by_steps(strands)) == [
        End(Place(0, 0), "start"), *(End(Place(3, run), "finish") for run in range(5)),
    ]  # fmt: skip
