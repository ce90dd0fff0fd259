"""The fewest strands after a change of a few rows, against networkx on the whole piece."""

from __future__ import annotations

import random

from hypothesis import given
from hypothesis import strategies as st

from companion.knitting.cloth.fabric import Stitch
from companion.knitting.strands.changing import YarnMoves
from companion.knitting.strands.limits import Carry
from tests.knitting.charts import YARNS, Chart, charts, limits
from tests.oracles import PlainRow, legal_moves, most_moves, segments


def strands_of(chart: Chart, carry: Carry, yarn: str) -> int:
    """How many strands of a yarn there are: its runs less the most moves between them, by networkx."""
    rows = [
        PlainRow(
            tuple(cell and cell.yarn for cell in cells), "left" if chart.side(number) == "RS" else "right",
            chart.rounds[number],
        )
        for number, cells in enumerate(chart.grid)
    ]  # fmt: skip
    own = {run.place for run in segments(rows) if run.yarn == yarn}
    moves = legal_moves(rows, carry.reach, carry.behind, carry.rest)
    return len(own) - most_moves({move: cost for move, cost in moves.items() if move[0] in own})


def test_many_changes_of_much_noise() -> None:
    """So many that every turn a path can take is taken: through rows far from those that change too."""
    dice = random.Random(5)
    for _ in range(30):
        carry = Carry(dice.randint(0, 2), dice.randint(0, 3), dice.randint(0, 2))
        grid = [[Stitch(dice.choice(YARNS[:3])) for _ in range(10)] for _ in range(14)]
        chart = Chart(tuple(map(tuple, grid)), (dice.random() < 0.3,) * 14)
        rows = chart.rows()
        moves, before = YarnMoves(rows, carry, YARNS[0]), strands_of(chart, carry, YARNS[0])
        for _ in range(6):
            lines, changed = [list(cells) for cells in grid], dice.sample(range(14), dice.randint(1, 3))
            for row in changed:
                lines[row] = [Stitch(dice.choice(YARNS[:3])) for _ in lines[row]]
            after = Chart(tuple(map(tuple, lines)), chart.rounds)
            fewer = moves.fewer_in(rows.of(after.fabric()), changed)
            assert fewer == before - strands_of(after, carry, YARNS[0])


@given(charts(ways=("flat", "round", "mixed"), max_rows=9, max_columns=9), limits(6), st.data())
def test_any_cells_of_any_rows_may_change(chart: Chart, carry: Carry, data: st.DataObject) -> None:
    """Several changes, each from the same beginning: what one finds out is not left over for the next."""
    rows, yarn = chart.rows(), data.draw(st.sampled_from(YARNS[:3]))
    moves = YarnMoves(rows, carry, yarn)
    before = strands_of(chart, carry, yarn)
    for _ in range(3):
        grid = [list(cells) for cells in chart.grid]
        changed = data.draw(st.sets(st.integers(0, len(grid) - 1), min_size=1, max_size=3))
        for row in changed:
            for column, cell in enumerate(grid[row]):
                if cell and data.draw(st.booleans()):
                    grid[row][column] = Stitch(data.draw(st.sampled_from(YARNS[:3])))
        after = Chart(tuple(map(tuple, grid)), chart.rounds)
        assert moves.fewer_in(rows.of(after.fabric()), changed) == before - strands_of(after, carry, yarn)
