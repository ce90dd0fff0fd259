"""Motifs: copied, turned, repeated, written in letters, taken from files, and set down."""

from __future__ import annotations

import re
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from companion.board.board import Board
from companion.board.letters import HIGH, SIGNS, written
from companion.board.motif_files import motif_in
from companion.board.motifs import Motif, around, copied, moved
from companion.knitting.cloth.areas import Cell, areas
from companion.knitting.cloth.fabric import Fabric, FabricRow, Run, Stitch, merged
from companion.knitting.cloth.rows import Rows
from companion.knitting.strands.limits import Carry
from companion.knitting.strands.plan import plan_strands
from companion.problems import Problems, show
from tests.board.plans_to_draw import QUAY, on_the_board, quay, shown

MOTIFS = st.integers(1, 4).flatmap(
    lambda wide: st.lists(
        st.tuples(*[st.sampled_from(["sand", "ink", None])] * wide), min_size=1, max_size=4
    )
).map(lambda rows: Motif(tuple(rows)))  # fmt: skip


def drawn(motif: Motif) -> list[str]:
    """From the top and from the left, each yarn by its first letter."""
    return ["".join((yarn or ".")[0] for yarn in reversed(row)) for row in reversed(motif.rows)]


def test_what_is_copied_turned_and_repeated_by_hand() -> None:
    with on_the_board(quay("ssiirrss", "siiiirrr", "ssssssss")) as board:
        motif = copied(board.fabric, Cell(2, 7), Cell(1, 4))
        assert drawn(motif) == ["siib", "iiii"]
        assert drawn(motif.flipped()) == ["biis", "iiii"]
        assert drawn(motif.upside_down()) == ["iiii", "siib"]
        assert drawn(motif.repeated(2, 2)) == ["siibsiib", "iiiiiiii", "siibsiib", "iiiiiiii"]
        assert (motif.wide, motif.high) == (4, 2)


def test_the_yarn_around_a_part_is_that_of_most_stitches_beside_it_and_at_its_corners() -> None:
    with on_the_board(quay("ssiirrss", "siiiirrr", "ssssssss")) as board:
        fabric = board.fabric
        assert around(fabric, Cell(1, 4), Cell(1, 6)) == "sand", "of ten around it seven"
        assert around(fabric, Cell(2, 2), Cell(2, 1)) == "brick", "of four around it all"
        assert around(fabric, Cell(2, 3), Cell(2, 3)) == "brick", "two, and two of ink"
        assert around(fabric, Cell(0, 1), Cell(2, 8)) is None
    with on_the_board(quay("iiiiiiii", *["ssssbbss"] * 5, "iiiiiiii")) as board:
        assert around(board.fabric, Cell(1, 3), Cell(5, 4)) == "sand", "ten at its sides, eight of ink"


@settings(max_examples=25)
@given(MOTIFS, st.integers(1, 3), st.integers(1, 3))
def test_turned_twice_is_as_before_and_each_repeat_is_the_same(motif: Motif, across: int, up: int) -> None:
    assert motif.flipped().flipped() == motif == motif.upside_down().upside_down()
    assert motif.flipped().upside_down() == motif.upside_down().flipped()
    many = motif.repeated(across, up).laid(Cell(0, 1))
    once = motif.laid(Cell(0, 1))
    assert many == {
        Cell(cell.row + motif.high * y, cell.column + motif.wide * x): yarn
        for cell, yarn in once.items() for x in range(across) for y in range(up)
    }


def test_set_down_it_covers_what_it_draws_and_cells_without_a_stitch_stay() -> None:
    text = QUAY + "rows:\n  - chart: |\n      .ssssss.\n      ssssssss\n      ssssssss\n"
    with on_the_board(text) as board:
        stroke = board.paint_each(Motif((("ink", None, "ink"), (None, "brick", "ink"))).laid(Cell(1, 6)))
        assert shown(board) == [" bsssss ", "isisssss", "ssssssss"]
        assert stroke.left == 0  # one beside the shape, and none beside the fabric
        board.undo()
        assert board.text == text
        assert copied(board.fabric, Cell(2, 8), Cell(2, 7)).rows == (("sand", None),)
        assert copied(board.fabric, Cell(-1, 8), Cell(0, 9)).rows == ((None, None), ("sand", None))


def test_moved_its_old_place_is_ground_but_where_it_lies_again() -> None:
    with on_the_board(quay("ssssssss", "ssssiirs", "ssssssss")) as board:
        motif = copied(board.fabric, Cell(1, 2), Cell(1, 4))
        board.paint_each(moved(motif, Cell(1, 2), motif, Cell(1, 4), "sand"))
        assert shown(board) == ["ssssssss", "ssiibsss", "ssssssss"]


def test_every_stroke_of_every_letter_is_two_stitches_wide_and_two_rows_high() -> None:
    """And of each letter that is one shape, the ink is one area."""
    for sign in SIGNS.strip():
        rows = ["".join(".#"[yarn is not None] for yarn in row) for row in written(sign, "ink").rows]
        assert len(rows) == HIGH
        assert all(len(run) >= 2 for row in rows for run in re.findall("#+", row)), sign
        columns = ["".join(column) for column in zip(*rows, strict=True)]
        assert all("#" in column for column in columns)
        parts = len(areas(_fabric(rows), lambda stitch: stitch.yarn if stitch.yarn == "ink" else ""))
        assert parts == (2 if sign in "!?:" else 1), sign


def _fabric(rows: list[str]) -> Fabric:
    return Fabric(tuple(
        FabricRow(merged(Run(1, Stitch("ink" if sign == "#" else "sand")) for sign in row)) for row in rows
    ))


def test_no_sign_takes_more_than_four_strands_and_a_single_stroke_takes_one() -> None:
    """At a reach of three stitches, whichever side its first row is on. A speck of one stitch takes one, too."""
    for sign in SIGNS.strip():
        rows = ["".join(".#"[yarn is not None] for yarn in row) for row in written(sign, "ink").rows]
        for below in (0, 1):
            ground = [f"..{row}.." for row in ["." * len(rows[0])] * below + rows]
            found = plan_strands(Rows(_fabric(ground)), Carry(3)).strands.summaries
            assert sum(strand.yarn == "ink" for strand in found) <= (1 if sign in "I1T+/-.,'" else 4), sign


def test_no_two_signs_look_alike() -> None:
    shapes = {sign: drawn(written(sign, "ink")) for sign in SIGNS.strip()}
    assert len({tuple(rows) for rows in shapes.values()}) == len(shapes) == 26 + 10 + len("&?+/!.,-':")


def test_a_word_is_written_from_left_to_right_with_two_stitches_between_its_signs() -> None:
    assert drawn(written("il", "ink")) == [*["ii..ii...."] * 8, *["ii..iiiiii"] * 2]
    assert drawn(written(" i  i ", "ink")) == ["ii......ii"] * 10  # a space is two, and two on either side
    assert written("Ahoi", "ink") == written("AHOI", "ink")


def test_what_is_not_in_the_alphabet_is_told() -> None:
    with pytest.raises(Problems) as refused:
        written("Ö%", "ink")
    [problem] = refused.value.problems
    assert problem.what == 'This alphabet has no sign for "Ö".'
    assert problem.mend.startswith("It has ABCDEFGH")
    with pytest.raises(Problems, match="Nothing is to be written"):
        written("  ", "ink")


@pytest.fixture
def board(tmp_path: Path) -> Board:
    path = tmp_path / "quay.yaml"
    path.write_text(quay("ssssssss", "ssssssss", "ssssiiii"), encoding="utf-8")
    return Board(path)


def _file(tmp_path: Path, text: str) -> Path:
    path = tmp_path / "boat.txt"
    path.write_text(text, encoding="utf-8")
    return path


def test_a_chart_in_a_file_is_a_motif_in_the_plans_symbols(board: Board, tmp_path: Path) -> None:
    motif = motif_in(_file(tmp_path, "..i\n2i b\n"), board.loaded)
    assert drawn(motif) == ["..i", "iib"]
    assert motif.rows == (("brick", "ink", "ink"), ("ink", None, None))


def test_another_plan_is_a_motif_in_yarns_of_the_same_name_or_colour(board: Board, tmp_path: Path) -> None:
    text = (
        "plan: 1\ntitle: Boat\ngauge: {stitches: 20, rows: 28}\n"
        "yarns: {ink: {colour: red}, hull: {colour: brown}}\nsymbols: {x: ink, h: hull, y: {yarn: hull, sewn: ink}}\n"
        "rows:\n  - chart: |\n      .yx\n      hhh\n"
    )
    assert motif_in(_file(tmp_path, text), board.loaded).rows == (("brick",) * 3, ("ink", "ink", None))
    with pytest.raises(Problems) as refused:
        motif_in(_file(tmp_path, text.replace("brown", "green")), board.loaded)
    assert [show(problem) for problem in refused.value.problems] == [
        f'{tmp_path / "boat.txt"}  This motif is drawn in "hull", a yarn that the plan does not have.\n'
        "  Add it there, or call it as one of these: sand, ink, brick, foam."
    ]


@pytest.mark.parametrize(("text", "what"), [
    ("iix\n", ':1:3  Row 1 of this section, counted from the bottom, uses the sign "x", which is none of this plan.\n'
               "    1 | iix\n      |   ^\n"
               "  Draw it in those of this plan: s for sand, i for ink, b for brick and r for brick; "
               ". lets the ground show."),
    ("iii\nii\ni i i\n", ':2:1  Row 2 of this section, counted from the bottom, has 2 stitches, most others have 3.'),
    ("\n..\n", "  This file holds no stitches."),
    ("", "  This file holds no stitches."),
    ("i\x07i\n", ":1:2  A control character (U+0007) stands here."),
])  # fmt: skip
def test_a_file_that_is_no_motif_says_why(board: Board, tmp_path: Path, text: str, what: str) -> None:
    with pytest.raises(Problems) as refused:
        motif_in(_file(tmp_path, text), board.loaded)
    assert f"boat.txt{what}" in str(refused.value)
