"""The order of the supplies, against the fabric read cell by cell."""

from __future__ import annotations

from itertools import pairwise

from hypothesis import given

from companion.knitting.cloth.rows import Rows
from companion.knitting.reckoning.supplies import Layout, layouts
from companion.knitting.strands.limits import Carry
from companion.knitting.strands.plan import plan_strands
from companion.knitting.strands.strands import Strands
from companion.knitting.words import US, Terms
from companion.knitting.words.yarn import supplies, supplies_title
from tests.knitting.charts import Chart, charts, drawn, limits


def strands_of(chart: Chart, carry: Carry | None = None) -> Strands:
    return plan_strands(chart.rows(), carry or Carry(3)).strands


def told(strands: Strands) -> list[str]:
    return [supplies(layout, strands) for layout in layouts(strands)]


def test_supplies_lie_as_the_fabric_does_and_are_re_laid_when_one_comes_or_goes() -> None:
    chart = drawn("ssssssss", "sskkbbss", "sskkbbss", "ssssbbss", "ssssssss")
    assert told(strands_of(chart)) == [
        "row 1: sand",
        "row 2: sand, brick, sand",
        "rows 3 to 4: sand, brick, kelp, sand",
        "row 5: sand",
    ]


def test_a_strand_that_takes_another_ones_place_is_a_new_order() -> None:
    strands = strands_of(drawn("bbssssss", "ssssssbb"), Carry(0))
    found = list(layouts(strands))
    assert [layout.strands for layout in found] == [(1, 2), (4, 3)]
    assert told(strands) == ["row 1: brick, sand", "row 2: sand, brick"]


def test_a_resting_strand_lies_where_it_hangs() -> None:
    strands = strands_of(drawn("sssbbs", "ssssss", "sssbbs"), Carry(6, rest=1))
    # The brick is left after row 1 at gap 3; in row 2 it rests there, behind the sand that begins at the right edge.
    assert told(strands)[0].startswith("row 1: sand, brick, sand")
    assert [layout.first for layout in layouts(strands)] == sorted({layout.first for layout in layouts(strands)})
    brick = next(n for n, place in strands.first.items() if strands.rows.segment(place).yarn == "brick")
    assert all(brick in layout.strands for layout in layouts(strands))


def test_rounds_are_called_rounds() -> None:
    assert told(strands_of(drawn("ss", "ss", is_round=True))) == ["rounds 1 to 2: sand"]


def test_the_same_order_runs_from_the_other_hand_on_the_other_side_and_for_a_mirrored_knitter() -> None:
    """Facing the right side the first worked lies at the right, turning mirrors it: intarsia page of a magazine's
    handbook; "Intarsia revisited"."""
    mirrored = Terms(is_mirrored=True)
    assert supplies_title("RS", US) == "Supplies, facing the right side from the right:"
    assert supplies_title("WS", US) == "Supplies, facing the wrong side from the left:"
    assert supplies_title("RS", mirrored) == "Supplies, facing the right side from the left:"
    assert supplies_title("WS", mirrored) == "Supplies, facing the wrong side from the right:"
    assert supplies_title(None, US) == (
        "Lay the supplies out as their strands lie, facing the right side from the right, facing the wrong side from "
        "the left:"
    )


def by_rows(strands: Strands) -> list[tuple[int, ...]]:
    return [layout.strands for layout in layouts(strands) for _ in range(layout.first, layout.last + 1)]


@given(charts(), limits())
def test_every_row_has_the_strands_alive_in_it_and_neighbouring_orders_differ(chart: Chart, carry: Carry) -> None:
    strands = strands_of(chart, carry)
    found = list(layouts(strands))
    assert [sorted(order) for order in by_rows(strands)] == [sorted(alive) for alive in strands.alive]
    assert all(a.strands != b.strands and b.first == a.last + 1 for a, b in pairwise(found))
    assert found[0] == Layout(0, found[0].last, found[0].strands)


@given(charts())
def test_where_none_rests_or_passes_behind_the_order_is_that_of_the_columns(chart: Chart) -> None:
    strands = strands_of(chart, Carry(3))
    for row, order in enumerate(by_rows(strands)):
        worked = list(strands.strand_of[row])
        assert list(order) == (worked if chart.side(row) == "RS" else worked[::-1])


@given(charts(), limits())
def test_a_mirrored_knitter_lays_them_as_another_does_for_the_chart_turned_round(chart: Chart, carry: Carry) -> None:
    """From the edge where right-side rows start, resting strands among them."""
    turned = Chart(tuple(row[::-1] for row in chart.grid), chart.rounds)
    mirrored = plan_strands(Rows(turned.fabric(), is_mirrored=True), carry).strands
    assert by_rows(mirrored) == by_rows(strands_of(chart, carry))
