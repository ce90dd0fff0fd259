"""The fewest strands after a change of a few rows, against networkx on the whole piece."""

from __future__ import annotations

import random
from collections.abc import Collection, Mapping
from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from companion.knitting.cloth.fabric import Stitch
from companion.knitting.cloth.rows import Casting, Rows
from companion.knitting.howfar import TooMuchToWeigh
from companion.knitting.strands import ways
from companion.knitting.strands.changing import YarnMoves
from companion.knitting.strands.limits import Carry
from companion.knitting.strands.plan import plan_strands
from tests.knitting.charts import YARNS, Cell, Chart, charts, drawn, limits
from tests.knitting.parted import parted, parted_shapes, shared_limits
from tests.knitting.shaped import Shaped, seam
from tests.knitting.strands.flows import smallest_flow
from tests.knitting.strands.test_strands import plain
from tests.oracles import legal_moves, most_moves, segments

LINES = st.sets(st.integers(0, 8), min_size=1, max_size=3)
DICE = st.randoms(use_true_random=False)


def strands_of(chart: Chart, carry: Carry, yarn: str) -> int:
    """How many strands of a yarn there are: its runs less the most moves between them, by networkx."""
    rows = plain(chart)
    own = {run.place for run in segments(rows) if run.yarn == yarn}
    moves = legal_moves(rows, carry.reach, carry.behind, carry.rest)
    return len(own) - most_moves({move: cost for move, cost in moves.items() if move[0] in own})


def in_some(cells: tuple[Cell, ...], dice: random.Random) -> tuple[Cell, ...]:
    """Every second stitch in any of three yarns."""
    return tuple(Stitch(dice.choice(YARNS[:3])) if cell and dice.random() < 0.5 else cell for cell in cells)


def changed(chart: Chart, rows: Collection[int], dice: random.Random) -> Chart:
    grid = (in_some(cells, dice) if row in rows else cells for row, cells in enumerate(chart.grid))
    return Chart(tuple(grid), chart.rounds)


def in_every_yarn(rows: Rows, carry: Carry) -> dict[str, YarnMoves]:
    return {yarn: YarnMoves(rows, carry, yarn) for yarn in YARNS}


def gone_on(moves: Mapping[str, YarnMoves], rows: Rows, changed: Collection[int]) -> dict[str, YarnMoves]:
    return {yarn: one.in_rows(rows, changed) for yarn, one in moves.items()}


def strands(moves: Mapping[str, YarnMoves]) -> int:
    return sum(one.strands for one in moves.values())


def test_many_changes_of_much_noise() -> None:
    """So many that every turn a path can take is taken: through rows far from those that change too."""
    dice = random.Random(5)
    for _ in range(30):
        carry = Carry(dice.randint(0, 2), dice.randint(0, 3), dice.randint(0, 2))
        grid = tuple(tuple(Stitch(dice.choice(YARNS[:3])) for _ in range(10)) for _ in range(14))
        chart = Chart(grid, (dice.random() < 0.3,) * 14)
        rows = chart.rows()
        moves = YarnMoves(rows, carry, YARNS[0])
        for _ in range(6):
            lines = dice.sample(range(14), dice.randint(1, 3))
            after = changed(chart, lines, dice)
            assert moves.in_rows(rows.of(after.fabric()), lines).strands == strands_of(after, carry, YARNS[0])


def test_many_changes_of_grounds_that_share_runs() -> None:
    """Specks come and go in a ground, each in the piece as the one before left it: where two strands could meet, and
    which of them do, changes far from the speck."""
    dice, differs = random.Random(7), 0
    for _ in range(8):
        carry = Carry(dice.randint(0, 3), dice.choice([0, 0, 3]), dice.choice([0, 0, 1]), share_runs=True)
        chart = Chart(((Stitch("sand"),) * 9,) * 9, (dice.random() < 0.3,) * 9)
        rows = chart.rows()
        moves = in_every_yarn(rows, carry)
        for _ in range(16):
            row, column = dice.randrange(9), dice.randrange(9)
            cells = list(chart.grid[row])
            cells[column] = Stitch("brick" if cells[column].yarn == "sand" else "sand")
            chart = replace(chart, grid=(*chart.grid[:row], tuple(cells), *chart.grid[row + 1:]))
            rows = rows.of(chart.fabric())
            moves = gone_on(moves, rows, [row])
            assert strands(moves) == smallest_flow(plain(chart), carry)[0]
            for one in moves.values():
                taken = ((entry, exit_) for entry, exit_ in one._exit_of.items() if exit_ is not None)
                assert all(exit_ in one._ways.into(entry) for entry, exit_ in taken), "every move made is legal still"
            differs += strands(moves) < plan_strands(rows, carry._replace(share_runs=False)).strands.total.strands
    assert differs >= 20, "so often runs are shared"


@given(
    charts(ways=("flat", "round", "mixed"), max_rows=9, max_columns=9) | parted(), limits(6) | shared_limits(),
    st.lists(LINES, min_size=1, max_size=3), DICE,
)
def test_any_cells_of_any_rows_may_change(
    chart: Chart, carry: Carry, wanted: list[set[int]], dice: random.Random
) -> None:
    """Several changes, each from the same beginning: what one finds out is not left over for the next. And one after
    the other, as strokes are."""
    rows = chart.rows()
    moves, on = in_every_yarn(rows, carry), in_every_yarn(rows, carry)
    at, drawn_on = chart, rows
    for lines in wanted:
        lines = {line % len(chart.grid) for line in lines}
        after = changed(chart, lines, dice)
        assert strands(gone_on(moves, rows.of(after.fabric()), lines)) == smallest_flow(plain(after), carry)[0]
        at = changed(at, lines, dice)
        drawn_on = drawn_on.of(at.fabric())
        on = gone_on(on, drawn_on, lines)
        assert strands(on) == smallest_flow(plain(at), carry)[0]
    assert strands(moves) == smallest_flow(plain(chart), carry)[0]


@settings(max_examples=50)
@given(parted_shapes(), shared_limits(), LINES, DICE)
def test_so_they_may_in_shapes_parts_and_tubes_for_both_hands(
    one: Shaped, carry: Carry, lines: set[int], dice: random.Random
) -> None:
    lines = {line % len(one.rows_told) for line in lines}
    told = list(one.rows_told)
    for line in lines:
        part, way, cells = told[line]
        new = in_some(cells, dice)
        told[line] = part, way, (*new[:len(new) - seam(way)], *new[:1] * seam(way))
    other, rows = replace(one, rows_told=tuple(told)), one.rows()
    moves = gone_on(in_every_yarn(rows, carry), rows.of(other.fabric()), lines)
    assert strands(moves) == smallest_flow(other.plain(), carry)[0]


def test_what_a_yarn_loses_is_worked_out_once_whatever_is_put_in_its_place() -> None:
    rows, sand = drawn("ssss", "ssss", "ssss").rows(), None
    moves = YarnMoves(rows, Carry(3, share_runs=True), "sand")
    for line in ("sbbs", "skks", "sfks"):
        found = moves.in_rows(rows.of(drawn("ssss", line, "ssss").fabric()), [1])
        assert sand in (None, found)
        sand = found
    assert moves.in_rows(rows.of(drawn("ssss", "sbss", "ssss").fabric()), [1]) is not sand


def test_where_the_end_of_a_run_comes_to_lie_inside_one_no_strand_passes_behind_to_it() -> None:
    """Brick in row 2 goes, behind which sand came to its second run."""
    carry = Carry(0, 3, 1, share_runs=True)
    chart, after = drawn("sssb", "ssbs", "bbss"), drawn("sssb", "ssss", "bbss")
    rows = chart.rows()
    moves = gone_on(in_every_yarn(rows, carry), rows.of(after.fabric()), [1])
    assert strands(moves) == smallest_flow(plain(after), carry)[0]


def test_what_was_asked_before_a_stroke_is_worked_out_anew_after_it() -> None:
    """Sand that brick parts in row 2 of four takes a strand more; once it is parted in row 4 as well, two more, or
    one where they may meet between."""
    rows = drawn("ssss", "ssss", "ssss", "ssss").rows()
    speck, other = (drawn(*lines).fabric() for lines in (
        ("ssss", "ssss", "sbss", "ssss"), ("sbss", "ssss", "ssss", "ssss"),
    ))  # fmt: skip
    both = drawn("sbss", "ssss", "sbss", "ssss").fabric()
    for carry, strands in ((Carry(3), 3), (Carry(3, share_runs=True), 2)):
        moves = YarnMoves(rows, carry, "sand")
        assert moves.in_rows(rows.of(speck), [1]).strands == 2
        on = moves.in_rows(rows.of(other), [3])
        assert on.strands == 2
        assert on.in_rows(rows.of(both), [1]).strands == strands


def test_a_strand_that_rests_does_not_pass_what_is_bound_off_meanwhile() -> None:
    """Brick hangs in gap 7 when row 2 binds off three stitches there, and is wanted in row 3 in gap 5."""
    rows = drawn("...bbsss", "...sssss", "sbbsssss").rows()
    assert YarnMoves(rows, Carry(3, 0, 1), "brick").strands == 2
    assert YarnMoves(drawn("sbbsssss", "ssssssss", "sbbsssss").rows(), Carry(3, 0, 1), "brick").strands == 1


def test_no_strand_passes_behind_another_where_each_is_cast_on_by_itself() -> None:
    fabric = drawn("sbs").fabric()
    assert YarnMoves(Rows(fabric), Carry(3, 3), "sand").strands == 1
    assert YarnMoves(Rows(fabric, cast_on=Casting(is_each=True)), Carry(3, 3), "sand").strands == 2
    assert YarnMoves(Rows(fabric, is_off_each=True), Carry(3, 3), "sand").strands == 2


def test_more_moves_than_can_be_weighed_are_refused(monkeypatch: pytest.MonkeyPatch) -> None:
    rows, carry = drawn(*["s" * 8] * 6).rows(), Carry(3, share_runs=True)
    YarnMoves(rows, carry, "sand")
    for name in ("MOST_MOVES", "MOST_LOOKS"):
        with monkeypatch.context() as less:
            less.setattr(ways, name, 30)
            with pytest.raises(TooMuchToWeigh):
                YarnMoves(rows, carry, "sand")
