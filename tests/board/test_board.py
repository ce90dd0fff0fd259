"""A plan on the board: text, piece and counts say the same after every stroke, and the file does once it is saved."""

from __future__ import annotations

import shutil
from contextlib import suppress
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from the_program import PIER_SIGN, ROOT, run

from companion.board.board import Board
from companion.knitting.cloth.areas import Cell
from companion.knitting.cloth.fabric import cells
from companion.knitting.strands.plan import plan_strands
from companion.plan.outline import for_hands
from companion.plan.read import load
from companion.problems import Problems, show
from tests.board.plans_to_draw import QUAY, STROKE, a_board, on_the_board, plans, quay, said, shown

DEMOS = ["gull-on-the-quay", "harbour-light-cushion", "anchor-pennant", "breakwater-cowl", "swatch"]


@settings(max_examples=30)
@given(plans(), st.lists(STROKE, min_size=1, max_size=5))
def test_after_every_stroke_all_say_the_same_and_taken_back_the_file_has_its_very_bytes(
    text: str, strokes: list[tuple[list[Cell], str]]
) -> None:
    with on_the_board(text) as board:
        states = [text]
        for taken, yarn in strokes:
            before, old = board.fabric, board.text.splitlines()
            try:
                stroke = board.paint(taken, yarn)
            except Problems:
                assert board.path.read_bytes().decode() == board.text == states[-1]
                continue
            assert board.path.read_bytes().decode() == states[-1], "shown before it is saved"
            board.save()
            told = load(board.path)
            assert board.text == board.path.read_bytes().decode()
            assert board.loaded.piece == board.piece == told.piece  # however it was read
            assert [one.lines.texts for one in board.loaded.drawings] == [one.lines.texts for one in told.drawings]
            total = plan_strands(told.piece.rows, told.piece.carry).strands.total
            assert board.counts == (total.strands, total.ends)
            lines = {number for one in told.drawings for number in one.lines.numbers}
            new = board.text.splitlines()
            assert {at for at, line in enumerate(new, 1) if line != old[at - 1]} <= lines
            assert not stroke.is_whole
            painted = {cell for cell in taken if board.can_paint(cell)}
            assert {_stitch(board, cell) for cell in painted} <= {yarn}
            assert len({*map(len, (before.rows, board.fabric.rows))}) == 1
            states += [board.text] if stroke.cells else []
        for state in states[-2::-1]:
            assert board.undo() is not None
            board.save()
            assert board.path.read_bytes().decode() == board.text == state
        assert board.undo() is None
        for state in states[1:]:
            assert board.redo() is not None
            assert board.text == state
        assert board.redo() is None
        total = plan_strands(board.piece.rows, board.piece.carry).strands.total
        assert board.counts == (total.strands, total.ends)


def _stitch(board: Board, cell: Cell) -> str:
    row = [run.stitch and run.stitch.yarn for run in board.fabric.rows[cell.row].runs for _ in range(run.columns)]
    return row[cell.column - 1] or ""


@pytest.mark.parametrize("name", DEMOS)
def test_what_is_shown_of_a_demo_is_what_check_says_of_its_file(name: str, tmp_path: Path) -> None:
    path = tmp_path / "mine.yaml"
    shutil.copy(ROOT / "plans" / f"{name}.yaml", path)
    board, before = Board(path), path.read_bytes()
    first = board.loaded.drawings[-1]
    for at in range(4):
        high = len(first.lines.texts)
        row, column = first.first + (high // 2 + at) % high, first.right + first.wide // 2 + 2 * at
        with suppress(Problems):  # one may be sewn on, or have no stitch
            board.paint([Cell(row, column), Cell(row, column + 1)], board.yarns[at % len(board.yarns)])
    board.save()
    checked = run(tmp_path, "check", "mine.yaml").out
    assert f", {board.counts.strands} strands;" in checked
    assert board.undo()
    while board.undo():
        pass
    board.save()
    assert path.read_bytes() == before


def test_a_stroke_changes_its_own_signs_and_keeps_the_texture_that_the_plan_has_a_symbol_for(tmp_path: Path) -> None:
    board = a_board(tmp_path, quay("sssi 4s", "bb r2b 3i", "iiiiiiii"))
    stroke = board.paint([Cell(1, 1), Cell(1, 5), Cell(1, 7), Cell(2, 1)], "brick")
    assert stroke.cells == {Cell(1, 1), Cell(2, 1)}  # the others are brick
    assert board.text == quay("3s i 3s r", "2b r 2b 2i r", "iiiiiiii")
    board.paint([Cell(1, 8), Cell(1, 7)], "ink")  # no seed stitch in ink
    assert board.text == quay("3s i 3s r", "2i r 2b 2i r", "iiiiiiii")


def test_of_two_charts_the_one_that_a_stitch_stands_in_is_painted_whatever_spaces_stand_in_its_lines() -> None:
    upper = "  - chart: |\n      iiii\tiiii\n      ssss\u00a0ssss\n"
    painted = [("bbbbbbbb", "bbbbbsbb"), ("ssss\u00a0ssss", None), ("iiii\tiiii", "iiii\tisii")]
    with on_the_board(quay("bbbbbbbb") + upper) as board:
        for row, (line, wanted) in enumerate(painted):
            before = board.text.splitlines()
            board.paint([Cell(row, 3)], "sand")
            changed = [(was, now) for was, now in zip(before, board.text.splitlines(), strict=True) if was != now]
            assert changed == ([(f"      {line}", f"      {wanted}")] if wanted else [])


def test_a_new_stroke_ends_what_could_be_done_again(tmp_path: Path) -> None:
    board = a_board(tmp_path, quay("ssssssss", "ssssssss"))
    board.paint([Cell(0, 1)], "ink")
    board.undo()
    board.paint([Cell(0, 2)], "ink")
    assert board.redo() is None
    assert shown(board) == ["ssssssss", "ssssssis"]


def test_where_only_some_stitches_can_be_painted_they_are_and_the_others_told(tmp_path: Path) -> None:
    board = a_board(tmp_path, quay("ssssssss", "iiiiiiii", way="with edges of its own yarns"))
    stroke = board.paint([Cell(2, column) for column in range(1, 14)], "brick")
    assert shown(board) == ["iibbbbbbbbii", "iiiiiiiiiiii", "s" * 12]
    assert stroke.left == 4  # two at either edge; the thirteenth is none
    assert stroke.why
    assert show(stroke.why).splitlines()[0] == (
        f"{board.path}:8  This is an edge: change it where \"edges\" stands."
    )


@pytest.mark.parametrize(("more", "cell", "line", "what"), [
    ("  - plain: {rows: 2, yarn: ink}\n", Cell(2, 1), 10,
     "These are plain rows: a chart in their place can be painted."),
    ("  - chart: |\n      4s4i\n    repeat: 3\n", Cell(3, 1), 12,
     'A sign of this chart stands for 3 stitches ("repeat"): change it in the plan.'),
    ("  - chart: |\n      ssii\n    across: 2\n", Cell(2, 1), 12,
     'A sign of this chart stands for 2 stitches ("across"): change it in the plan.'),
    ("  - mirror: true\n    chart: |\n      ssiiiiii\n", Cell(2, 1), 10,
     'This is drawn the other way round, left for right: paint it with "mirror" left out.'),
    ("mirror: true\n", Cell(0, 1), 10,
     'This is drawn the other way round, left for right: paint it with "mirror" left out.'),
    ("  - chart: {from: boat.txt}\n", Cell(2, 1), 10,
     'This chart is drawn in the file "boat.txt": change it there.'),
    ("  - field: {rows: 2, yarn: sand}\n    motifs:\n      - {from: boat.txt, right: 0, bottom: 0}\n", Cell(2, 1), 10,
     "This is a field: move its motifs, or draw them in their files."),
    ('  - chart: "8s"\n', Cell(2, 1), 10,
     'This chart stands in a line with other things: write it below "chart: |".'),
    ("  - chart: |\n      ssss....\n", Cell(2, 1), 11,
     "There is no stitch here: the chart draws the outline."),
    ("  - opening: {first: right, at: 4}\n    chart: |\n      ssssssss\n", Cell(3, 1), 10,
     "From here on the piece is worked in parts: draw them in the plan."),
])  # fmt: skip
def test_what_cannot_be_painted_says_why_and_in_which_line_it_is_changed(
    more: str, cell: Cell, line: int, what: str, tmp_path: Path
) -> None:
    (tmp_path / "boat.txt").write_text("iiiiiiii\n", encoding="utf-8")
    board = a_board(tmp_path, QUAY + "rows:\n  - chart: |\n      ssssiiii\n      iissssii\n" + more)
    with pytest.raises(Problems) as refused:
        board.paint([cell], "brick")
    assert said(refused.value)[0].splitlines()[0] == f"{board.path}:{line}  {what}"
    assert board.undo() is None
    assert board.costs_at([cell]) == {}


def test_beside_the_fabric_there_is_no_stitch(tmp_path: Path) -> None:
    board = a_board(tmp_path, quay("ssssssss", "iiiiiiii"))
    for cell in (Cell(-1, 1), Cell(2, 1), Cell(0, 9), Cell(0, 0)):
        with pytest.raises(Problems, match="There is no stitch here"):
            board.paint([cell], "brick")


def test_a_stitch_that_is_sewn_on_is_not_painted_and_the_others_are(tmp_path: Path) -> None:
    sewn = "sewn_on:\n  - {yarn: brick, over: sand, row: 1, stitch: 3}\n"
    board = a_board(tmp_path, QUAY + sewn + "rows:\n  - chart: |\n      ssssssss\n      sssssrss\n")
    with pytest.raises(Problems) as refused:
        board.paint([Cell(0, 3)], "ink")
    assert said(refused.value)[0].splitlines()[0] == (
        f'{board.path}:11  This stitch is sewn on: take its area out of "sewn_on" first.'
    )
    board.paint([Cell(1, 3)], "ink")
    board.save()
    assert board.loaded.piece == load(board.path).piece


def test_what_would_not_load_is_refused_with_what_the_plan_would_say_and_nothing_changes(tmp_path: Path) -> None:
    """The edges take their yarn from the chart, which is one yarn at its side as long as it is not painted there."""
    text = QUAY + "rows:\n  - edges: {stitches: 2}\n    chart: |\n      ssssss\n      ssssss\n"
    board = a_board(tmp_path, text)
    with pytest.raises(Problems) as refused:
        board.paint([Cell(0, 3)], "ink")
    assert [told.splitlines()[0] for told in said(refused.value)] == [
        f'{board.path}:7:5  "edges" names no yarn, and the chart has ink and sand at its right edge.'
    ]
    assert board.path.read_text(encoding="utf-8") == board.text == text
    assert board.undo() is None
    board.paint([Cell(0, 4)], "ink")
    assert shown(board) == ["s" * 10, "ssssssisss"]


def test_a_yarn_without_a_symbol_is_not_painted_with(tmp_path: Path) -> None:
    board = a_board(tmp_path, quay("ssssssss", "iiiiiiii"))
    assert board.yarns == ("sand", "ink", "brick")
    with pytest.raises(Problems) as refused:
        board.paint([Cell(0, 1)], "foam")
    assert said(refused.value) == [
        f'{board.path}  No symbol stands for the yarn "foam".\n  Write one under "symbols", such as f: foam'
    ]


def test_a_demo_plan_is_refused() -> None:
    with pytest.raises(Problems, match="A demo plan stays as it is") as refused:
        Board(ROOT / "plans" / "swatch.yaml")
    assert refused.value.problems[0].mend == "Copy it, and change the copy."


def test_a_mirrored_knitter_counts_what_she_knits(tmp_path: Path) -> None:
    path = tmp_path / "quay.yaml"
    path.write_text(quay("siiiiiis", "siissiis", "ssiiiiss", "ssssisss", way="with limits"), encoding="utf-8")
    board = Board(path, lambda piece: for_hands(piece, is_mirrored=True))
    for cell, yarn in ((Cell(1, 3), "brick"), (Cell(2, 6), "sand"), (Cell(3, 3), "ink")):
        costs = board.costs_at([cell])
        before = board.counts.strands
        board.paint([cell], yarn)
        told = plan_strands(board.piece.rows, board.piece.carry).strands.total
        assert board.piece.is_mirrored
        assert board.counts == (told.strands, told.ends)
        assert costs[yarn] == told.strands - before


@pytest.mark.parametrize(("before", "rows", "cell", "yarn"), [
    ("", "  - plain_first: true\n    chart: |\n      bbbbbbbb\n      ssssssss\n", Cell(0, 3), "brick"),
    ("", "  - worked: round\n    chart: |\n      ssssssss\n      ssssssss\n"
     "  - seam_stitches: 1\n    chart: |\n      ssssssss\n      ssssssss\n", Cell(3, 1), "ink"),
    ("sewn_on: [{yarn: brick, over: sand, row: 1, stitch: 4}]\n",
     "  - chart: |\n      ssssssss\n      ssssrsss\n", Cell(1, 4), "brick"),
])  # fmt: skip
def test_where_a_stitch_changes_others_they_are_shown_too(
    before: str, rows: str, cell: Cell, yarn: str, tmp_path: Path
) -> None:
    """Those above it in the first row of a new colour, the seam's stitch, an area sewn on that grows by it."""
    board = a_board(tmp_path, f"{QUAY}{before}rows:\n{rows}")
    old = board.loaded.piece.fabric
    stroke = board.paint([cell], yarn)
    board.save()
    assert board.loaded.piece == load(board.path).piece
    changed = {
        Cell(row, column) for row, (was, now) in enumerate(zip(old.rows, board.fabric.rows, strict=True))
        for column, (one, other) in enumerate(zip(cells(was), cells(now), strict=True), 1) if one != other
    }
    assert stroke.cells == changed
    assert cell in changed


def test_a_round_that_is_bound_off_run_by_run_stays_in_one_colour(tmp_path: Path) -> None:
    rows = "rows:\n  - worked: round\n    chart: |\n      ssssssss\n      ssssssss\n"
    text = f"{QUAY}bind_off: {{colours: each}}\n{rows}"
    board = a_board(tmp_path, text)
    with pytest.raises(Problems, match="is a round of several colours, and no run can be bound off"):
        board.paint([Cell(1, 1)], "ink")
    assert board.text == text
    board.paint([Cell(0, 1)], "ink")
    board.save()
    assert board.loaded.piece == load(board.path).piece


def test_a_plan_in_sizes_is_drawn_in_the_one_that_is_named(tmp_path: Path) -> None:
    sign = PIER_SIGN.replace("title: Pier sign\n", "title: Pier sign\nsizes: [S, M, L]\n")
    path = tmp_path / "pier.yaml"
    path.write_text(f"{sign}    edges: {{stitches: 1 (2, 3), yarn: sand}}\n", encoding="utf-8")
    before = path.read_bytes()
    assert [Board(path, size=size).fabric.columns for size in ("", "M", "L")] == [7, 9, 11]
    board = Board(path, size="L")
    board.paint([Cell(0, 4)], "brick")  # the first of the chart, beside an edge of three
    board.save()
    assert board.fabric.columns == load(path, "L").piece.fabric.columns == 11
    assert [load(path, size).piece.fabric.rows[0].runs[1].columns for size in ("S", "M", "L")] == [1, 1, 1]
    board.undo()
    board.save()
    assert path.read_bytes() == before
