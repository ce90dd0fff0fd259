"""What other yarns would cost at the cursor: exact, whatever the limits and the outline."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from companion.board.board import Board
from companion.board.costs import Counting, figures
from companion.knitting.cloth.areas import Cell, in_other_yarns
from companion.knitting.piece import Piece
from companion.knitting.reckoning.quantities import lengths
from companion.knitting.strands import moves, ways
from companion.knitting.strands.plan import plan_strands
from companion.plan.read import load
from companion.problems import Problems
from tests.board.plans_to_draw import QUAY, STROKE, a_board, on_the_board, plans, quay


def solved(piece: Piece) -> int:
    return plan_strands(piece.rows, piece.carry).strands.total.strands


@settings(max_examples=40)
@given(plans(), STROKE)
def test_what_a_yarn_would_cost_is_what_the_strands_come_to_with_it(
    text: str, stroke: tuple[list[Cell], str]
) -> None:
    with on_the_board(text) as board:
        costs = board.costs_at(stroke[0])
        counts, text = board.counts, board.text
        can = [cell for cell in stroke[0] if board.can_paint(cell)]
        assert set(costs) == ({"sand", "ink", "brick"} if can else set())
        for yarn, more in costs.items():
            fabric = in_other_yarns(board.fabric, dict.fromkeys(can, yarn))
            assert more == solved(replace(board.piece, fabric=fabric)) - counts.strands
            assert more == board.cost_of(dict.fromkeys(stroke[0], yarn))
        assert (board.counts, board.text) == (counts, text)  # asking changes nothing


ALONG = {
    "the seam of a tube": "rows:\n  - worked: round\n    chart: |\n      ssssiiss\n"
    "  - seam_stitches: 1\n    chart: |\n      sssiiiss\n      ssssiiss\n",
    "an area that grows": "sewn_on: [{yarn: brick, over: sand, row: 2, stitch: 3}]\n"
    "rows:\n  - chart: |\n      iiisssss\n      ississss\n      iiissrss\n      ssssssss\n",
    "an edge in the yarn of the chart": "rows:\n  - edges: {stitches: 2}\n"
    "    chart: |\n      siiiisss\n      ssisiiss\n",
    "a symbol that is sewn": "rows:\n  - chart: |\n      sssxssss\n      sixxiiss\n",
}
"""What changes with a stitch, though it is not painted itself."""


@pytest.mark.parametrize("sections", ALONG.values(), ids=ALONG)
def test_what_changes_along_with_a_stitch_is_in_what_it_costs(sections: str) -> None:
    """Strands and metres, against the file with that stroke saved. What the plan would refuse has no cost."""
    text = QUAY.replace("r: brick}", "r: brick, x: {yarn: sand, sewn: ink}}") + sections
    with on_the_board(text) as board:
        before, refused = board.figures(), 0
        for cell in [cell for one in board.loaded.drawings for cell in one.cells if board.can_paint(cell)]:
            costs, metres = board.costs_at([cell]), dict(board.metres_at([cell]))
            assert costs.keys() == metres.keys() <= {*board.yarns}
            for yarn in board.yarns:
                try:
                    stroke = board.paint([cell], yarn)
                except Problems:
                    refused += 1
                    assert yarn not in costs
                    assert board.cost_of({cell: yarn}) is None
                    continue
                board.save()
                after = figures(load(board.path).piece)
                assert costs[yarn] == after.strands - before.strands == solved(board.piece) - before.strands
                assert metres[yarn] == after.metres - before.metres
                if stroke.cells:
                    board.undo()
        assert (refused > 0) == ("edges" in sections)


def test_by_hand_a_speck_costs_two_strands_and_its_ground_none(tmp_path: Path) -> None:
    """Three rows of sand on one strand: a stitch of ink in the middle of the second is a strand of its own, and parts
    the sand in two, of which one goes on from below and one is joined. At the end of the row it parts nothing. In the
    first row, of three, the sand to its left is another strand until the speck is passed."""
    path = tmp_path / "quay.yaml"
    path.write_text(quay("ssssssss", "ssssssss", "ssssssss"), encoding="utf-8")
    board = Board(path)
    assert board.costs_at([Cell(1, 4)]) == {"sand": 0, "ink": 2, "brick": 2}
    assert board.costs_at([Cell(1, 1)]) == {"sand": 0, "ink": 1, "brick": 1}
    board.paint([Cell(1, 4)], "ink")
    assert board.costs_at([Cell(1, 4)]) == {"sand": -2, "ink": 0, "brick": 0}
    assert board.costs_at([Cell(1, 4), Cell(1, 5), Cell(1, 3)])["sand"] == -2
    assert board.costs_at([Cell(5, 4), Cell(1, 44)]) == {}


def test_what_would_be_too_much_to_weigh_has_no_costs_and_cannot_be_painted(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Above a row of sand two runs of it with a stitch of ink between them: each may go on from below, the second
    also behind the ink, three moves in all. Another stitch of ink in it is one more to pass behind."""
    monkeypatch.setattr(ways, "MOST_MOVES", 3)
    board = a_board(tmp_path, quay("sissssss", "ssssssss", way="with limits"))
    assert board.costs_at([Cell(1, 4)]) == {}
    assert board.cost_of({Cell(1, 4): "ink"}) is None
    with pytest.raises(Problems, match="too many ways"):
        board.paint([Cell(1, 4)], "ink")
    monkeypatch.setattr(ways, "MOST_MOVES", 2)
    with pytest.raises(Problems, match="too many ways"):
        a_board(tmp_path, board.text)


def test_what_lengths_share_is_weighed_before_anything_is_shown(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """For all yarns together: two moves of sand, and with a stitch of ink in two rows one of ink."""
    monkeypatch.setattr(moves, "MOST_MOVES", 2)
    board = a_board(tmp_path, quay("ssssssss", "ssssssss", "sssssssi", way="with halves of one length"))
    before = board.counts
    with pytest.raises(Problems, match="too many ways"):
        board.paint([Cell(1, 1)], "ink")
    assert (board.counts, board.costs_at([Cell(1, 1)])["ink"]) == (before, 0)
    monkeypatch.setattr(moves, "MOST_MOVES", 1)
    with pytest.raises(Problems, match="too many ways"):
        a_board(tmp_path, board.text)


def test_metres_change_as_the_lengths_to_be_wound_do(tmp_path: Path) -> None:
    path = tmp_path / "quay.yaml"
    path.write_text(quay("ssssssss", "ssiiisss", "ssssssss"), encoding="utf-8")
    board = Board(path)

    def metres() -> Fraction:
        wound = lengths(board.piece, plan_strands(board.piece.rows, board.piece.carry).strands)
        return sum((length.cm for length in wound), Fraction(0)) / 100

    before, told = metres(), board.figures()
    assert (told.metres, told.strands, told.ends) == (before, *board.counts)
    assert told.most_at_once == 3  # sand on both sides of the ink, and ink
    more = dict(board.metres_at([Cell(0, 1), Cell(0, 2)]))
    assert more["sand"] == 0
    board.paint([Cell(0, 1), Cell(0, 2)], "brick")
    assert metres() - before == more["brick"] > 0
    assert set(told.yarns) == {"sand", "ink", "brick", "foam"}
    assert told.yarns["foam"] == 0


@settings(max_examples=20)
@given(plans(), st.lists(STROKE, min_size=1, max_size=4), st.booleans())
def test_counted_on_and_on_the_count_is_that_of_a_new_start(
    text: str, strokes: list[tuple[list[Cell], str]], is_asked: bool
) -> None:
    """Whether or not it was asked before what the stroke would cost."""
    with on_the_board(text) as board:
        piece = board.piece
        counting = Counting(piece)
        for cells, yarn in strokes:
            can = [cell for cell in cells if board.can_paint(cell)]
            wanted = replace(piece, fabric=in_other_yarns(piece.fabric, dict.fromkeys(can, yarn)))
            more = counting.more_in(wanted) if is_asked else None
            before = counting.counts
            counting.goes_on_with(wanted)
            assert counting.counts == Counting(wanted).counts
            assert counting.counts.strands == figures(wanted).strands
            assert more in (None, counting.counts.strands - before.strands)
            piece = wanted


def test_where_runs_are_shared_the_figures_are_those_of_the_saved_plan(tmp_path: Path) -> None:
    """The sand parts round a stitch of ink, closes, and parts again: with the two strands of ink two of sand, which
    share the row between. Where ink stands there, too, it is one strand; where the upper ink is gone, nobody needs to
    meet."""
    path = tmp_path / "quay.yaml"
    path.write_text(quay("sssissss", "ssssssss", "sssissss", way="with shared runs"), encoding="utf-8")
    board = Board(path)
    assert board.counts == (4, 8)
    assert board.costs_at([Cell(1, 5)]) == {"sand": 0, "ink": -1, "brick": 1}
    assert board.costs_at([Cell(2, 5)])["sand"] == -1
    two = [Cell(1, 5), Cell(2, 5)]
    for cells, yarn, strands in ((two[:1], "ink", 3), (two, "sand", 3), (two[1:], "ink", 4)):
        board.paint(cells, yarn)
        board.save()
        saved = Board(path)
        assert board.counts == saved.counts == (strands, 2 * strands)
        assert solved(saved.piece) == board.figures().strands == strands


def test_two_joins_that_are_halves_of_one_length_leave_no_ends_between_them(tmp_path: Path) -> None:
    """Two specks with a stitch between them: two strands of ink, joined two stitches apart, which is the reach. They
    part the sand in three; the first goes on from the row below, the others are joined two stitches apart as well."""
    path = tmp_path / "quay.yaml"
    path.write_text(quay("ssssssss", "ssssssss", way="with halves of one length"), encoding="utf-8")
    board = Board(path)
    assert board.counts == (1, 2)
    board.paint([Cell(1, 4), Cell(1, 6)], "ink")
    assert board.counts == (5, 2 * 5 - 2 * 2)
