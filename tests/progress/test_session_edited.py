"""A plan edited while the piece is on the needles: what is worked must stay, stitch by stitch."""

from __future__ import annotations

from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from companion.knitting.cloth.fabric import Stitch, Texture
from companion.knitting.cloth.rows import Place
from companion.knitting.piece import Piece
from companion.knitting.strands.limits import Carry
from companion.knitting.strands.plan import plan_strands
from companion.progress.actions import Action, AtRow, Back, On, Refused, RipBack, WholeRow
from companion.progress.alike import differing_rows
from companion.progress.deciding import allowed, decide
from companion.progress.events import Planned
from companion.progress.fold import apply, begin
from companion.progress.session import Session
from tests.knitting.charts import Chart, charts, drawn, piece_of

OLD = drawn(
    "ssbb",
    "sbbs",
    "sskk",
)


def differ(new: Chart, row: int, done: int, old: Chart = OLD) -> tuple[int, ...]:
    return differing_rows(old.rows(), new.rows(), row, done)


def changed(chart: Chart, row: int, column: int, stitch: Stitch | None) -> Chart:
    grid = [list(cells) for cells in chart.grid]
    grid[row][column - 1] = stitch
    return replace(chart, grid=tuple(map(tuple, grid)))


@pytest.mark.parametrize(("row", "done"), [(0, 0), (0, 1), (0, 2), (1, 1), (1, 3), (2, 2)])
def test_the_same_chart_differs_nowhere(row: int, done: int) -> None:
    assert differ(OLD, row, done) == ()


def test_rows_to_come_may_change() -> None:
    new = drawn("kkkk", "sbbs", "sskk")
    assert differ(new, 1, 3) == ()
    assert differ(new, 2, 1) == (2,)
    assert differ(new, 2, 2) == (2,)


def test_every_worked_row_that_changed_is_named() -> None:
    new = drawn("kkkk", "kbbs", "ssks")
    assert differ(new, 2, 2) == (0, 1, 2)
    assert differ(new, 1, 3) == (0, 1)
    assert differ(new, 0, 2) == (0,)


def test_the_row_in_work_may_change_after_the_runs_worked() -> None:
    """Row 2 is worked from the left of the chart: sand, brick, sand."""
    new = drawn("ssbb", "sbbk", "sskk")
    assert differ(new, 1, 1) == ()
    assert differ(new, 1, 2) == ()
    assert differ(new, 1, 3) == (1,)


def test_a_run_worked_that_is_longer_now_is_a_difference() -> None:
    """The hands would stand in the middle of a run."""
    assert differ(drawn("ssbb", "ssbs", "sskk"), 1, 1) == (1,)
    assert differ(drawn("ssbb", "sbbb", "sskk"), 1, 2) == (1,)


def test_texture_counts_where_it_is_worked() -> None:
    new = changed(OLD, 0, 4, Stitch("sand", Texture("garter")))
    assert differ(new, 0, 1) == ()
    assert differ(new, 0, 2) == (0,)
    assert differ(new, 2, 1) == (0,)


def test_fewer_rows_are_a_difference_only_where_they_are_worked() -> None:
    new = Chart(OLD.grid[:1], OLD.rounds[:1])
    assert differ(new, 0, 2) == ()
    assert differ(new, 1, 1) == (1,)
    assert differ(new, 2, 2) == (1, 2)


def test_more_rows_are_no_difference() -> None:
    new = Chart((*OLD.grid, OLD.grid[0]), (*OLD.rounds, False))
    assert differ(new, 2, 2) == ()


def test_another_width_is_a_difference_even_where_the_runs_worked_are_the_same() -> None:
    """Row 1 is worked from column 1; one more column at its other end moves where row 2 begins."""
    wide = drawn("ssbb", "sbbs", "ssskk")
    assert differ(wide, 0, 0) == ()
    assert differ(wide, 0, 1) == (0,)


def test_stitches_added_at_the_end_of_a_whole_row_are_a_difference() -> None:
    old, new = drawn(".ssb"), drawn("kssb")
    assert differ(new, 0, 1, old) == ()
    assert differ(new, 0, 2, old) == (0,)


def test_knitting_in_the_round_instead_is_a_difference() -> None:
    new = replace(OLD, rounds=(True,) * 3)
    assert differ(new, 1, 1) == (0, 1)


@given(charts(max_rows=6, max_columns=8, ways=("flat", "round")), st.data())
def test_one_changed_stitch_is_found_exactly_when_it_is_worked(chart: Chart, data: st.DataObject) -> None:
    places = list(chart.rows().places())
    last = data.draw(st.sampled_from(places))
    row = data.draw(st.integers(0, len(chart.grid) - 1))
    column, cell = data.draw(st.sampled_from(chart.worked(row)))
    new = changed(chart, row, column, Stitch("wine"))
    order = [column for column, _ in chart.worked(row)]
    done = sum(len(run) for run in chart.runs(row)[: last.segment + 1])
    is_worked = row < last.row or (row == last.row and order.index(column) < done)
    assert differ(new, last.row, last.segment + 1, chart) == ((row,) if is_worked else ())
    assert cell.yarn != "wine"


# Going back over an edit ---------------------------------------------------------------------------------


def opened(*charts: Chart) -> Session:
    versions: dict[int, Piece] = {number: piece_of(chart) for number, chart in enumerate(charts)}
    strands = plan_strands(versions[0].rows, Carry(3)).strands
    return begin(versions, (Planned(0, Carry(3), strands.strand_of),))


def follow(session: Session, version: int) -> Session:
    """The session on another version of the plan, its rest planned anew."""
    strands = plan_strands(session.versions[version].rows, Carry(3), session.past).strands
    return apply(session, (Planned(version, Carry(3), strands.strand_of),))


def after(session: Session, *todo: Action) -> Session:
    for action in todo:
        session = apply(session, decide(session, action))
    return session


TALL = drawn("ssbb", "ssbb", "ssbb", "ssbb")
OTHER_TOP = drawn("kkkk", "ssbb", "ssbb", "ssbb")
OTHER_THIRD = drawn("ssbb", "kkkk", "ssbb", "ssbb")


def test_an_edit_is_no_action_and_stays_when_the_action_before_it_is_taken_back() -> None:
    session = follow(after(opened(TALL, OTHER_TOP), WholeRow(), On()), 1)
    back = after(session, Back())
    assert (back.version, back.row, back.done) == (1, 0, 2)
    assert back.rows is session.versions[1].rows
    assert after(back, Back()).last_place is None
    assert after(back, AtRow(5)).is_worked


def test_going_back_never_brings_back_rows_that_are_edited_now() -> None:
    session = follow(after(opened(TALL, OTHER_THIRD), AtRow(4), RipBack(1)), 1)
    assert Back not in allowed(session)
    with pytest.raises(Refused, match="edited"):
        decide(session, Back())
    assert Back in allowed(after(session, On()))


def test_strands_cut_and_ripped_out_again_stay_cut_when_the_rest_is_planned_anew() -> None:
    """Brick is cut after row 2; ripping row 2 out leaves it hanging at row 1, cut: a new one is joined in row 2."""
    session = after(opened(drawn("ssss", "bbss", "bbss")), AtRow(3), RipBack(1))
    assert session.cut == {2}
    again = follow(session, 0)
    brick = Place(1, 0)
    assert (session.strands.at(brick), again.strands.at(brick)) == (2, 3)


def test_a_strand_joined_and_cut_in_rows_ripped_out_leaves_its_number_to_another() -> None:
    """Row 2 is worked with strands 1, 2 and 3; 1 and 2 are cut after it. Ripped out, row 1 is left with strand 1,
    which is cut all the same; strand 2 is gone, and its number is given anew."""
    session = after(opened(drawn("kkkk", "ssss", "sbbs", "ssss")), AtRow(3), RipBack(1))
    assert session.cut == {1, 2}
    again = follow(session, 0)
    assert again.strands.strand_of[:2] == ((1,), (2, 3, 4))
    assert again.cut == {1}
    assert after(again, WholeRow(), On()).cut == {1, 2, 3}
