"""How the screen is divided: at every size, whatever the parts want."""

from __future__ import annotations

from hypothesis import given
from hypothesis import strategies as st

from companion.screens.figures import LARGE, MIDDLE
from companion.screens.layout import HEAD, KEYS, USUAL, Wants, arrange, arrange_row, is_wide_screen

widths, heights = st.integers(40, 200), st.integers(15, 60)
wants = st.builds(
    Wants,
    now=st.integers(3, 12),
    change=st.integers(1, 9),
    runs=st.integers(0, 8),
    end=st.integers(0, 14),
)


@given(widths, heights, wants)
def test_no_part_has_less_than_no_lines_and_all_fit_the_screen(width: int, height: int, wants: Wants) -> None:
    plan = arrange(width, height, wants)
    assert min(plan.large, plan.change, plan.runs, plan.row, plan.end, plan.chart, plan.strands) >= 0
    first = plan.row + plan.runs + plan.end + plan.now
    second = plan.chart + plan.strands
    if plan.is_wide:
        assert first <= height - HEAD - KEYS
        assert second <= height - KEYS
    else:
        assert first + second <= height - HEAD - KEYS


@given(widths, heights, wants)
def test_the_change_and_what_must_be_said_have_all_their_lines_where_there_are_enough(
    width: int, height: int, wants: Wants
) -> None:
    plan = arrange(width, height, wants)
    free = height - HEAD - KEYS
    if wants.now + wants.change + wants.end + 3 <= free:
        assert plan.large == wants.now
        assert plan.change >= wants.change
        assert plan.end >= wants.end


@given(widths, heights, st.data())
def test_in_row_mode_every_part_has_what_it_asks_for_and_the_rest_goes_to_what_comes_after(
    width: int, height: int, data: st.DataObject
) -> None:
    free = height - HEAD - KEYS
    now = data.draw(st.integers(0, free - 2))
    row = data.draw(st.integers(1, free - now - 1))
    end = data.draw(st.integers(1, free - now - row))
    plan = arrange_row(width, height, LARGE, now, row, end)
    assert (plan.sizes.main, plan.now, plan.runs) == (LARGE, now, 0)
    assert plan.end >= end
    if plan.is_wide:
        assert plan.now + plan.row + plan.end == free
        assert plan.chart + plan.strands == free + HEAD
    else:
        assert plan.row == row
        assert plan.now + plan.row + plan.end + plan.chart + plan.strands == free
        assert plan.end == end or not plan.chart


@given(widths, heights)
def test_parts_give_way_in_the_order_that_is_told(width: int, height: int) -> None:
    plan = arrange(width, height)
    if plan.is_wide:
        assert plan.chart
        assert plan.strands
    if plan.strands:
        assert plan.chart, "strands give way before the chart"
    if plan.chart and not plan.is_wide:
        assert plan.runs >= 2, "the chart gives way before the runs"
    assert plan.large == USUAL.now, "the letters are the last to give way"
    assert plan.is_wide == is_wide_screen(width, height)


@given(widths, st.integers(15, 59))
def test_a_higher_screen_takes_nothing_away(width: int, height: int) -> None:
    lower, higher = arrange(width, height), arrange(width, height + 1)
    if lower.is_wide == higher.is_wide and lower.sizes == higher.sizes:
        assert higher.change >= (lower.change if lower.chart or not higher.chart else USUAL.change), "but for a chart"
        assert higher.chart + higher.strands >= lower.chart + lower.strands


def test_the_sizes_that_are_promised() -> None:
    smallest, usual, large = arrange(40, 15), arrange(80, 24), arrange(120, 40)
    assert (smallest.chart, smallest.strands, smallest.is_wide) == (0, 0, False)
    assert smallest.runs == 2
    assert (usual.strands, usual.is_wide) == (2, False)
    assert usual.sizes.main == MIDDLE
    assert usual.chart >= 5
    assert large.is_wide
    assert large.row >= 4
