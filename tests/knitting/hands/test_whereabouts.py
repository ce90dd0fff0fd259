"""Where am I? Every row is found by its runs, with the rows that really are alike and no other."""

from __future__ import annotations

from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st
from the_program import run

from companion.knitting.cloth.rows import Rows
from companion.knitting.hands.whereabouts import Landmark, OnNeedle, landmark, rows_like, seen_from
from companion.knitting.words import rows_found
from companion.plan.demo import demo_plans
from companion.plan.needle import runs_on_needle
from companion.plan.read import load
from companion.problems import Problems
from tests.knitting.charts import Chart, charts, drawn

CUSHION = next(path for path in demo_plans() if path.stem == "harbour-light-cushion")


def on_needle(chart: Chart, row: int, *, is_right_side: bool) -> tuple[OnNeedle, ...]:
    """Read cell by cell: column 1 lies at the right with the right side facing."""
    runs: list[OnNeedle] = []
    for cell in reversed(chart.grid[row]):
        if cell is not None:
            if runs and runs[-1].yarn == cell.yarn:
                runs[-1] = OnNeedle(cell.yarn, runs[-1].stitches + 1)
            else:
                runs.append(OnNeedle(cell.yarn, 1))
    return tuple(runs if is_right_side else runs[::-1])


@given(charts(ways=("flat", "round", "mixed")), st.booleans(), st.data())
def test_a_row_is_found_by_its_runs_with_those_that_are_alike(chart: Chart, side: bool, data: st.DataObject) -> None:
    row = data.draw(st.integers(0, len(chart.grid) - 1))
    told = on_needle(chart, row, is_right_side=side)
    alike = [r for r in range(len(chart.grid)) if on_needle(chart, r, is_right_side=side) == told]
    assert list(rows_like(chart.rows(), told, is_right_side=side)) == alike
    both = (True, False)
    either = {r for r in range(len(chart.grid)) for face in both if on_needle(chart, r, is_right_side=face) == told}
    assert set(rows_like(chart.rows(), told)) == either
    uncounted = tuple(OnNeedle(yarn) for yarn, _ in told)
    assert row in rows_like(chart.rows(), uncounted, is_right_side=side)


def test_every_row_of_the_cushion_is_found_with_the_rows_that_really_are_alike() -> None:
    piece = load(CUSHION).piece
    symbols = {yarn.name: yarn.symbol for yarn in piece.yarns}
    runs_of = []
    for row in piece.fabric.rows:
        runs: list[tuple[str, int]] = []
        for part in reversed(row.runs):
            assert part.stitch is not None
            if runs and runs[-1][0] == part.stitch.yarn:
                runs[-1] = (part.stitch.yarn, runs[-1][1] + part.columns)
            else:
                runs.append((part.stitch.yarn, part.columns))
        runs_of.append(runs)
    for index, runs in enumerate(runs_of):
        typed = ", ".join(f"{symbols[yarn]} {stitches}" for yarn, stitches in runs)
        found = rows_like(piece.rows, runs_on_needle(typed, piece.yarns), is_right_side=True)
        assert found == tuple(i for i, other in enumerate(runs_of) if other == runs)
        assert index in found


def test_a_slipped_stitch_is_still_of_the_row_below() -> None:
    """Row 3, a right-side row, slips the sand at the right edge; row 4, a wrong-side one, comes over brick."""
    rows = Rows(drawn("bbbb", "bbbb", "ssss", "ssss").fabric(), has_slipped_edges=True)
    one, three, whole = OnNeedle("sand", 1), OnNeedle("brick", 3), OnNeedle("brick", 4)
    assert seen_from(rows, 2, is_right_side=True) == (three, one)
    assert seen_from(rows, 2, is_right_side=False) == (one, three)
    assert rows_like(rows, (three, one)) == rows_like(rows, (three, one), is_right_side=True) == (2,)
    assert rows_like(rows, (whole,)) == (3,)
    mirrored = Rows(rows.fabric, has_slipped_edges=True, is_mirrored=True)
    assert seen_from(mirrored, 2, is_right_side=True) == (one, three)


def test_a_row_is_told_by_what_came_in_below_it() -> None:
    chart = drawn("ssss", "skks", "sbbs", "sbbs", "ssss")
    rows = chart.rows()
    assert [landmark(rows, row) for row in range(5)] == [
        None, Landmark("brick", 0), Landmark("brick", 1), Landmark("kelp", 0), Landmark("kelp", 1),
    ]  # fmt: skip
    assert rows_found(rows, (1, 2)) == [
        "2 rows are alike in this:",
        "Row 2 (WS) is on the needle, the first row with this brick.",
        "Row 3 (RS) is on the needle, 1 row above the first brick there.",
    ]
    assert rows_found(rows, ()) == [
        "No row of this piece has such runs. Count again, or leave counts out that you are not sure of."
    ]


def test_runs_are_typed_by_name_or_symbol_with_or_without_counts() -> None:
    yarns = load(CUSHION).piece.yarns
    name, symbol = yarns[0].name, yarns[0].symbol
    other = yarns[1].name
    assert runs_on_needle(f"{symbol} 12, {other},{name}3", yarns) == (
        OnNeedle(name, 12), OnNeedle(other), OnNeedle(name, 3),
    )  # fmt: skip
    assert runs_on_needle(f"{symbol} 2, {symbol} 3", yarns) == (OnNeedle(name, 5),)
    with pytest.raises(Problems, match="is no yarn of this piece"):
        runs_on_needle("12", yarns)
    with pytest.raises(Problems, match="is no yarn of this piece"):
        runs_on_needle(f"{name} 3,,", yarns)


def test_the_command_tells_rows_and_refuses_what_is_no_yarn(tmp_path: Path) -> None:
    ran = run(tmp_path, "where", "mooring-mat", "tide")
    assert ran.code == 0
    assert ran.out.splitlines()[1].startswith("Row 1 (RS) is on the needle")
    assert 1 in run(tmp_path, "where", "mooring-mat", "tide", "--side", "RS", "--json").value
    ran = run(tmp_path, "where", "mooring-mat", "tied 3")
    assert (ran.code, ran.out) == (2, "")
    assert 'Did you mean "tide"?' in ran.err
