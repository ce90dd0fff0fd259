"""Rows and columns inserted and deleted: whole lines and signs of the plan, and the numbers that count them."""

from __future__ import annotations

from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from companion.board.board import Board
from companion.knitting.cloth.areas import Cell
from companion.knitting.strands.plan import plan_strands
from companion.plan.read import load
from companion.problems import Problems, show
from tests.board.plans_to_draw import QUAY, on_the_board, plans, quay, shown

FRAMED = QUAY + """\
sewn_on:
  - {yarn: brick, over: sand, row: 5, stitch: 5}   # a lamp
rows:
  - plain: {rows: 2, stitches: 10, yarn: sand}   # the hem
  - edges: {stitches: 2, yarn: ink}
    chart: |
      ssssss
      3s r 2s
      iissss
      iiiiii
  - chart: |
      8s2i
    repeat: 2   # a ridge
  - field: {rows: 1, yarn: ink, stitches: 10}
"""
"""From the bottom: hem 1, 2; chart 3 to 6, with the lamp in row 5, fifth from the right; ridge 7, 8; field 9."""


def a_board(tmp_path: Path, text: str) -> Board:
    path = tmp_path / "quay.yaml"
    path.write_bytes(text.encode())
    return Board(path)


def test_rows_of_a_chart_are_whole_lines_and_what_counts_rows_counts_on(tmp_path: Path) -> None:
    board = a_board(tmp_path, FRAMED)
    assert board.insert_rows(3, 2).is_whole
    assert board.text == FRAMED.replace("      iissss\n", "      iissss\n" * 3).replace("row: 5", "row: 7")
    board.delete_rows(4, 3)
    assert board.text == FRAMED
    board.delete_rows(2, 2)
    assert board.text == FRAMED.replace("      iiiiii\n", "").replace("row: 5", "row: 4")
    board.insert_rows(0)
    assert board.text.count("rows: 3") == 1
    board.save()
    assert load(board.path).piece == board.piece
    assert len(board.fabric.rows) == 9
    for _ in range(4):
        board.undo()
    assert board.text == FRAMED


def test_columns_go_through_all_charts_and_the_widths_that_are_written(tmp_path: Path) -> None:
    board = a_board(tmp_path, FRAMED)
    board.insert_columns(4, 2)  # one of sand, and of the row with iissss too
    assert shown(board)[1:6] == ["ssssssssssii"] * 2 + ["ii" + "s" * 8 + "ii"] * 2 + ["iiiissssssii"]
    assert "stitch: 7}" in board.text
    assert board.text.count("stitches: 12") == 2
    assert "      10s 2i\n" in board.text
    assert "      3s r 4s\n" in board.text
    board.delete_columns(5, 4)
    assert board.text == FRAMED.replace("8s2i", "8s 2i")
    assert board.delete_columns(8, 8).is_whole
    assert "stitch: 5}" in board.text
    assert "      2s r 2s\n" in board.text


@settings(max_examples=25)
@given(plans(), st.integers(0, 9), st.integers(1, 12), st.integers(1, 2))
def test_what_is_inserted_and_deleted_again_is_as_before(text: str, row: int, column: int, many: int) -> None:
    """And between, file and counts say the same; the other rows and columns stay."""
    with on_the_board(text) as board:
        before, looks = board.loaded.piece, shown(board)
        at = len(looks) - 1 - row
        for insert, delete, wanted in (
            (lambda: board.insert_rows(row, many), lambda: board.delete_rows(row + 1, row + many),
             [*looks[:max(at, 0)], *looks[max(at, 0):at + 1] * many, *looks[max(at, 0):]]),
            (lambda: board.insert_columns(column, many), lambda: board.delete_columns(column + 1, column + many),
             [line[:len(line) - column] + line[-column:][:1] * many + line[len(line) - column:] for line in looks]),
        ):  # fmt: skip
            try:
                insert()
            except Problems:
                assert board.path.read_bytes().decode() == board.text == text
                continue
            assert shown(board) == wanted
            board.save()
            assert load(board.path).piece == board.piece
            total = plan_strands(board.piece.rows, board.piece.carry).strands.total
            assert board.counts == (total.strands, total.ends)
            delete()
            assert board.loaded.piece == before
            board.undo()
            board.undo()
            assert board.text == text


def test_the_last_line_without_an_end_gets_one_when_it_comes_twice(tmp_path: Path) -> None:
    board = a_board(tmp_path, quay("ssssssss", "iiiiiiii").replace("# the cast-on edge\n", "").rstrip())
    board.insert_rows(0)
    assert shown(board) == ["ssssssss", "iiiiiiii", "iiiiiiii"]
    board.undo()
    assert not board.text.endswith("\n")


@pytest.mark.parametrize(("do", "first"), [
    (lambda board: board.insert_columns(1), "{}:10  An edge lies here: its stitches are counted there."),
    (lambda board: board.delete_columns(9, 10), "{}:10  An edge lies here: its stitches are counted there."),
    (lambda board: board.insert_columns(11), "{}  There is no stitch here."),
    (lambda board: board.insert_rows(9), "{}  This row has no line of its own in the plan."),
    (lambda board: board.insert_rows(6),
     "{}  This cannot be done here: something else in the plan depends on these rows or stitches."),
    (lambda board: board.delete_rows(2, 5), "{}:11:5  The chart is empty."),
    (lambda board: board.delete_rows(4, 4), "{}:7:5  Stitch 5 of row 5 is in "),
])  # fmt: skip
def test_what_cannot_be_inserted_or_deleted_is_told_and_nothing_changes(
    do: object, first: str, tmp_path: Path
) -> None:
    board = a_board(tmp_path, FRAMED)
    assert callable(do)
    with pytest.raises(Problems) as refused:
        do(board)
    assert show(refused.value.problems[0]).startswith(first.format(board.path))
    assert board.path.read_text(encoding="utf-8") == board.text == FRAMED
    assert board.undo() is None


def test_a_row_more_where_shaping_needs_row_starts_is_refused_with_what_the_plan_says(tmp_path: Path) -> None:
    """Three stitches go where row 3, a right-side row, begins; a row lower they would go at the end of a row."""
    text = QUAY + "rows:\n  - chart: |\n      sssss...\n      ssssssss\n      ssssssss\n"
    board = a_board(tmp_path, text)
    with pytest.raises(Problems, match="loses 3 stitches at its end, where none can be bound off"):
        board.insert_rows(1)
    assert board.insert_rows(1, 2).is_whole
    assert board.paint([Cell(2, 1)], "ink").cells == {Cell(2, 1)}


def test_a_chart_on_the_line_of_its_key_has_no_line_of_its_own(tmp_path: Path) -> None:
    board = a_board(tmp_path, QUAY + "rows:\n  - chart: |\n      ssssssss\n  - chart: 3s 5i\n")
    with pytest.raises(Problems) as refused:
        board.insert_rows(1)
    assert show(refused.value.problems[0]).splitlines()[0] == (
        f"{board.path}:9  This row has no line of its own in the plan."
    )
    board.insert_columns(2)
    assert board.text.endswith("      sssssssss\n  - chart: 4s 5i\n".replace("4s 5i", "3s 6i"))


def test_rows_that_another_size_needs_are_not_deleted(tmp_path: Path) -> None:
    """The words take five rows of the chart in size S, seven in size M; on the board it is size S."""
    text = QUAY + """\
sizes: [S, M]
rows:
  - chart: |
      ssssssss
      ssssssss
      ssssssss
      ssssssss
      ssssssss
      ssssssss
      ssssssss
      iiiiiiii
    shape: [work 2 (4) rows even, dec 1 at each end of every RS row twice]
"""
    board = a_board(tmp_path, text)
    with pytest.raises(Problems) as refused:
        board.delete_rows(5, 6)
    assert [problem.what for problem in refused.value.problems] == [
        "Size M: The section has 6 rows, and these words go on."
    ]
    assert board.path.read_text(encoding="utf-8") == board.text == text
    assert board.delete_rows(6, 6).is_whole
