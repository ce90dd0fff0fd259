"""The cast-on: sections in the reverse of row 1, and which strands are begun in it."""

from __future__ import annotations

from dataclasses import replace
from itertools import pairwise

import pytest
from hypothesis import given

from companion.knitting.cloth.cast_on import Section, is_begun, sections, separate_yarn
from companion.knitting.cloth.rows import Casting, Place
from companion.knitting.hands.lengths import casting_on
from companion.knitting.hands.row_ends import row_end
from companion.knitting.hands.runs import row_runs
from companion.knitting.hands.steps import CastOn, Cross, CrossCastOn, CutCastOn, Join, JoinRound, Work
from companion.knitting.strands.limits import Carry
from companion.knitting.strands.plan import plan_strands
from companion.knitting.strands.proof import fault_in
from tests.knitting.cast_ons import EACH, WALL, anything, begun, cast
from tests.knitting.charts import Chart, castings, drawn, limits, piece_of


@given(anything, castings())
def test_read_backward_the_sections_are_the_runs_of_row_1_and_sum_to_its_stitches(
    chart: Chart, cast_on: Casting
) -> None:
    piece, _ = cast(chart, cast_on)
    found = sections(piece.rows)
    assert sum(section.stitches for section in found) == len(chart.worked(0))
    if cast_on.is_each:
        assert found[::-1] == tuple(Section(run[0][1].yarn, len(run)) for run in chart.runs(0))
    else:
        assert [section.yarn for section in found] == [cast_on.yarn or chart.worked(0)[0][1].yarn]


@given(anything, castings(), limits())
def test_with_each_row_1_joins_nothing_crosses_at_every_change_and_every_run_has_its_own_strand(
    chart: Chart, cast_on: Casting, carry: Carry
) -> None:
    _, strands = cast(chart, cast_on._replace(is_each=True), carry)
    runs = row_runs(strands, 0)
    assert [run.strand for run in runs] == list(range(1, len(runs) + 1))
    assert {run.carry for run in runs} == {0}
    assert not any(isinstance(step, Join) for run in runs for step in run.steps)
    assert [run.start for run in runs] == ["turn", *["cross"] * (len(runs) - 1)]
    assert [sum(isinstance(step, Cross) for step in run.steps) for run in runs] == [0, *[1] * (len(runs) - 1)]


@given(anything, castings(), limits())
def test_with_any_cast_on_the_strands_are_the_fewest_and_proved_so(
    chart: Chart, cast_on: Casting, carry: Carry
) -> None:
    piece = replace(piece_of(chart, carry), cast_on=cast_on)
    plan = plan_strands(piece.rows, carry)
    assert fault_in(plan.strands, carry, plan.proof) == ""


@given(anything, castings(), limits())
def test_how_it_is_cast_on_changes_nothing_above_row_1_but_where_a_strand_would_pass_behind_in_it(
    chart: Chart, cast_on: Casting, carry: Carry
) -> None:
    flat = carry._replace(behind=0)
    _, strands = cast(chart, cast_on, flat)
    _, usual = cast(chart, Casting(), flat)
    assert strands.strand_of == usual.strand_of
    for row in range(1, len(strands.rows)):
        assert row_runs(strands, row) == row_runs(usual, row)
        assert row_end(strands, row) == row_end(usual, row)


def test_in_one_yarn_it_is_one_step() -> None:
    assert begun(WALL, Casting()) == (CastOn(1, "sand", 10, "long-tail"),)
    assert begun(WALL, Casting("cable")) == (CastOn(1, "sand", 10, "cable"),)
    assert begun(WALL, Casting(yarn="sand")) == (CastOn(1, "sand", 10, "long-tail"),)


def test_the_last_section_cast_on_is_the_first_run_of_row_1() -> None:
    """The strands are numbered as row 1 works them, from its right edge."""
    assert begun(drawn("ssssbbkkks"), EACH) == (
        CastOn(4, "sand", 4, "long-tail"), CrossCastOn("sand", "brick"),
        CastOn(3, "brick", 2, "long-tail"), CrossCastOn("brick", "kelp"),
        CastOn(2, "kelp", 3, "long-tail"), CrossCastOn("kelp", "sand"),
        CastOn(1, "sand", 1, "long-tail"),
    )  # fmt: skip


@given(anything, castings())
def test_the_steps_are_the_sections_with_a_cross_between_them(chart: Chart, cast_on: Casting) -> None:
    _, strands = cast(chart, cast_on)
    steps, runs = casting_on(strands), chart.runs(0)
    casts = [step for step in steps if isinstance(step, CastOn)]
    crosses = [(step.old, step.new) for step in steps if isinstance(step, CrossCastOn)]
    if cast_on.is_each:
        assert [(step.yarn, step.stitches) for step in casts] == [(run[0][1].yarn, len(run)) for run in runs[::-1]]
        assert [step.strand for step in casts] == list(strands.strand_of[0][::-1])
        assert crosses == [(one.yarn, other.yarn) for one, other in pairwise(casts)]
    else:
        [cast_in] = casts
        assert cast_in.stitches == len(chart.worked(0))
        assert (CutCastOn(cast_in.yarn) in steps) == (cast_in.yarn != runs[0][0][1].yarn) == (not cast_in.strand)
        assert crosses == []
    assert {step.method for step in casts} == {cast_on.method}
    is_joined_at_once = chart.rounds[0] and len(casts) == 1
    assert (JoinRound() in steps) == is_joined_at_once
    at_end = [step for step in row_end(strands, 0) if isinstance(step, JoinRound)]
    assert bool(at_end) == (chart.rounds[0] and not is_joined_at_once)


def test_in_one_colour_there_are_no_sections_to_tell() -> None:
    assert begun(drawn("ssss"), EACH) == (CastOn(1, "sand", 4, "long-tail"),)


def test_worked_mirrored_it_is_cast_on_from_the_other_side() -> None:
    piece, strands = cast(drawn("ssssbbkkks"), EACH, is_mirrored=True)
    assert sections(piece.rows) == (Section("sand", 1), Section("kelp", 3), Section("brick", 2), Section("sand", 4))
    assert [run.segment.yarn for run in row_runs(strands, 0)] == ["sand", "brick", "kelp", "sand"]


def test_a_cast_on_in_a_yarn_of_its_own_is_cut_and_row_1_joins_its_first_strand_too() -> None:
    _, strands = cast(WALL, Casting(yarn="brick"))
    first, second, _ = row_runs(strands, 0)
    assert first.steps == (
        CastOn(0, "brick", 10, "long-tail"), CutCastOn("brick"), Join("sand", "", "RS"),
        Work("sand", 3, (("k", 3),)),
    )  # fmt: skip
    assert (first.start, second.start) == ("join", "join")
    # Worked mirrored, row 1 begins at the left edge, in sand as well.
    assert separate_yarn(cast(drawn("bs"), Casting(yarn="brick"))[0].rows) == "brick"
    assert separate_yarn(cast(drawn("bs"), Casting(yarn="brick"), is_mirrored=True)[0].rows) == ""


@pytest.mark.parametrize(
    ("cast_on", "told"),
    [
        (EACH, [True, True, True]),
        (Casting(), [True, False, False]),
        (Casting(yarn="brick"), [False, False, False]),
        (Casting("knitted", yarn="sand"), [True, False, False]),
    ],
)
def test_which_strands_are_begun_in_the_cast_on(cast_on: Casting, told: list[bool]) -> None:
    rows = cast(WALL, cast_on)[0].rows
    assert [is_begun(rows, Place(0, segment)) for segment in range(3)] == told
    assert not is_begun(rows, Place(1, 0))
