"""Which stitches a stroke takes."""

from __future__ import annotations

from itertools import pairwise

import networkx as nx
from hypothesis import given, settings
from hypothesis import strategies as st

from companion.board.tools import box, fill, line
from companion.knitting.cloth.areas import Cell
from companion.knitting.cloth.fabric import cells
from tests.board.plans_to_draw import on_the_board, plans, quay

PLACES = st.builds(Cell, st.integers(-20, 20), st.integers(-20, 20))


def drawn(taken: tuple[Cell, ...]) -> str:
    """From the top and from the left; all places from 0 to the farthest."""
    high, wide = max(cell.row for cell in taken), max(cell.column for cell in taken)
    columns = range(wide, -1, -1)
    return "\n".join("".join(".#"[Cell(row, at) in taken] for at in columns) for row in range(high, -1, -1))


def test_lines_by_hand() -> None:
    assert drawn(line(Cell(0, 0), Cell(2, 6))) == "##.....\n..###..\n.....##"
    assert drawn(line(Cell(3, 0), Cell(0, 3))) == "...#\n..#.\n.#..\n#..."
    assert line(Cell(4, 4), Cell(4, 4)) == (Cell(4, 4),)
    assert line(Cell(1, 3), Cell(1, 1)) == (Cell(1, 3), Cell(1, 2), Cell(1, 1))


@settings(max_examples=40)
@given(PLACES, PLACES)
def test_a_line_goes_from_end_to_end_by_single_steps_and_stays_within_half_a_stitch(start: Cell, end: Cell) -> None:
    found = line(start, end)
    assert (found[0], found[-1]) == (start, end)
    assert len(found) == 1 + max(abs(end.row - start.row), abs(end.column - start.column))
    assert all(max(abs(b.row - a.row), abs(b.column - a.column)) == 1 for a, b in pairwise(found))
    for at, cell in enumerate(found):
        part = at / max(1, len(found) - 1)
        assert abs(cell.row - (start.row + part * (end.row - start.row))) <= 0.5 + 1e-9
        assert abs(cell.column - (start.column + part * (end.column - start.column))) <= 0.5 + 1e-9


def test_boxes_by_hand() -> None:
    assert drawn(box(Cell(3, 0), Cell(0, 4))) == "#####\n#...#\n#...#\n#####"
    assert drawn(box(Cell(0, 4), Cell(3, 0), is_full=True)) == "#####\n#####\n#####\n#####"
    assert box(Cell(2, 2), Cell(2, 2)) == (Cell(2, 2),)
    assert drawn(box(Cell(0, 0), Cell(1, 1))) == "##\n##"
    assert len(box(Cell(5, 1), Cell(0, 9))) == len(set(box(Cell(5, 1), Cell(0, 9)))) == 6 * 9 - 4 * 7


@settings(max_examples=25)
@given(plans(), st.builds(Cell, st.integers(-1, 8), st.integers(0, 12)))
def test_a_fill_takes_what_a_graph_of_touching_stitches_of_one_yarn_connects(text: str, start: Cell) -> None:
    with on_the_board(text) as board:
        yarns = {
            Cell(row, column): stitch.yarn
            for row, line_ in enumerate(board.fabric.rows) for column, stitch in enumerate(cells(line_), 1) if stitch
        }
        graph = nx.Graph()
        graph.add_nodes_from(yarns)
        for cell, yarn in yarns.items():
            for beside in (Cell(cell.row + 1, cell.column), Cell(cell.row, cell.column + 1)):
                if yarns.get(beside) == yarn:
                    graph.add_edge(cell, beside)
        wanted = nx.node_connected_component(graph, start) if start in yarns else set()
        assert set(fill(board.fabric, start)) == wanted


def test_a_fill_does_not_go_round_a_corner() -> None:
    with on_the_board(quay("ssssssss", "iissssss", "ssiiiiii")) as board:
        assert len(fill(board.fabric, Cell(0, 1))) == 6
        assert len(fill(board.fabric, Cell(1, 8))) == 2
