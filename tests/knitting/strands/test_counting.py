"""Strands counted without solving: against the solver, and against networkx from the problem's statement alone."""

from __future__ import annotations

import networkx as nx
from hypothesis import given
from hypothesis import strategies as st

from companion.knitting.cloth.areas import Strip
from companion.knitting.cloth.rows import Rows
from companion.knitting.strands.counting import StrandCount, is_counted, moves_between
from companion.knitting.strands.limits import Carry
from companion.knitting.strands.plan import plan_strands
from tests.knitting.charts import YARNS, Chart, charts, drawn
from tests.oracles import PlainRow, fewest_strands

Grid = list[list[str]]
flat = charts(ways=("flat",), has_gaps=False)
reaches = st.integers(0, 15)


def grid_of(chart: Chart) -> Grid:
    return [[cell.yarn for cell in row if cell] for row in chart.grid]


def by_networkx(grid: Grid, reach: int, *, is_leftward: bool = True) -> int:
    rows = [
        PlainRow(tuple(row), "left" if (number % 2 == 0) == is_leftward else "right")
        for number, row in enumerate(grid)
    ]
    return fewest_strands(rows, reach)


def changed(grid: Grid, strips: list[Strip], yarn: str) -> Grid:
    """The grid with these cells in another yarn."""
    found = [row[:] for row in grid]
    for row, first, cells in strips:
        found[row][first - 1:first - 1 + cells] = [yarn] * cells
    return found


@given(flat, reaches, st.booleans())
def test_as_few_are_counted_as_the_solver_and_networkx_find(chart: Chart, reach: int, is_mirrored: bool) -> None:
    rows = Rows(chart.fabric(), is_mirrored=is_mirrored)
    assert is_counted(rows, Carry(reach))
    counted = StrandCount(grid_of(chart), reach, is_leftward=not is_mirrored).strands
    assert counted == len(plan_strands(rows, Carry(reach)).strands.first)
    assert counted == by_networkx(grid_of(chart), reach, is_leftward=not is_mirrored)


@st.composite
def some_of_one_yarn(draw: st.DrawFn, grid: Grid) -> tuple[str, list[Strip]]:
    """A yarn, and cells of it in strips."""
    yarn = draw(st.sampled_from(sorted({yarn for row in grid for yarn in row})))
    strips = []
    for number, row in enumerate(grid):
        column = 0
        while column < len(row):
            most = next((i for i, other in enumerate(row[column:]) if other != yarn), len(row) - column)
            cells = draw(st.integers(0, most)) if most else 0
            strips += [Strip(number, column + 1, cells)] if cells else []
            column += max(cells, 1)
    return yarn, strips


@given(flat, reaches, st.booleans(), st.data())
def test_what_one_yarn_loses_and_another_gains_is_what_the_change_comes_to(
    chart: Chart, reach: int, is_leftward: bool, data: st.DataObject
) -> None:
    grid = grid_of(chart)
    count = StrandCount(grid, reach, is_leftward=is_leftward)
    for _ in range(3):
        old, strips = data.draw(some_of_one_yarn(grid))
        new = data.draw(st.sampled_from([yarn for yarn in YARNS if yarn != old]))
        before, after = count.strands, changed(grid, strips, new)
        more = count.if_taken(old, strips) + count.if_given(new, strips)
        assert count.strands == before
        assert before + more == by_networkx(after, reach, is_leftward=is_leftward)
        count.change(old, new, strips)
        assert count.strands == before + more
        grid = after


gaps = st.lists(st.integers(0, 30), unique=True, max_size=12).map(sorted)


@given(gaps, gaps, st.integers(0, 8))
def test_moves_between_two_rows_are_a_largest_matching(hanging: list[int], entered: list[int], reach: int) -> None:
    graph = nx.Graph()
    graph.add_nodes_from(("hangs", gap) for gap in hanging)
    graph.add_edges_from((("hangs", u), ("is entered", v)) for u in hanging for v in entered if abs(u - v) <= reach)
    matching = nx.bipartite.hopcroft_karp_matching(graph, [("hangs", gap) for gap in hanging])
    assert moves_between(hanging, entered, reach) == len(matching) // 2


def test_charts_counted_by_hand() -> None:
    """Three stripes take a strand each. A slope of 5 stitches a row over 8 rows, two colours, takes 9 strands at
    reach 3: in every row one colour is out of reach, at any reach 2. Checks of 4 x 4 stitches, 48 of them in two
    colours, take one each at reach 3 and 8 at any reach."""
    stripes = ["sssbbbsss"] * 5
    slope = ["s" * 5 * n + "b" * (45 - 5 * n) for n in range(8, 0, -1)]
    checks = [("ssssbbbb" * 4, "bbbbssss" * 4)[band % 2] for band in range(6) for _ in range(4)]
    for lines, near, far in ((stripes, 3, 3), (slope, 9, 2), (checks, 48, 8)):
        found = [StrandCount(grid_of(drawn(*lines)), reach).strands for reach in (3, 100)]
        assert found == [near, far]


def test_what_goes_behind_or_rests_or_is_shaped_or_worked_round_is_not_counted() -> None:
    rows = drawn("sb", "sb").rows()
    assert is_counted(rows, Carry(3))
    for limits in (Carry(3, 1), Carry(3, 0, 1), Carry(3, share=True), Carry(3, share_runs=True)):
        assert not is_counted(rows, limits)
    assert not is_counted(drawn("sb", "sb", is_round=True).rows(), Carry(3))
    assert not is_counted(drawn("s.", "sb").rows(), Carry(3))
