"""How a piece looks on either side, against cases drawn by hand: a line of signs a row, the last row on top, as one
looks at that side. A small letter is a V in the yarn of that letter, a capital a bump, "." no stitch."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace

import pytest
from hypothesis import given, settings

from companion.knitting.cloth.areas import Cell
from companion.knitting.cloth.rows import LONG_TAIL, Place
from companion.knitting.hands.looks import Look, Looks, Made, right_side, wrong_side
from companion.knitting.piece import Piece
from companion.knitting.strands.plan import plan_strands
from companion.plan.read import load_text
from tests.knitting.charts import Chart, charts, piece_of

HEAD = """\
plan: 1
title: Slipway
gauge: {stitches: 20, rows: 28}
yarns: {sand: {colour: tan}, brick: {colour: brown}, foam: {colour: white}}
symbols: {s: sand, b: brick, f: foam, S: {yarn: sand, stitch: reverse}, B: {yarn: brick, stitch: reverse},
  k: {yarn: sand, sewn: foam}, K: {yarn: sand, sewn: foam, stitch: reverse}}
"""


def piece(rows: str) -> Piece:
    return load_text(f"{HEAD}{rows}", "slipway.yaml", {}.__getitem__).piece


def chart(*lines: str, keys: str = "") -> Piece:
    """A piece of these lines, drawn as its right side looks."""
    return piece(f"{keys}rows:\n  - chart: |\n" + "".join(f"      {line}\n" for line in lines))


def right(whole: Piece, worked: Place | None = None) -> Looks:
    return right_side(plan_strands(whole.rows, whole.carry).strands, worked and Made(worked, (), ()))


def sign(look: Look | None) -> str:
    """The sign of a stitch."""
    if look is None:
        return "."
    letter = (look.sewn or look.yarn)[0]
    return letter.upper() if look.is_bump and not look.sewn else letter


def signs(looks: Looks, of: Callable[[Look], str] | None = None) -> list[str]:
    """The picture as it was drawn by hand; ``of``: of what of each stitch the first letter is shown, "-" for nothing.
    """
    def one(look: Look | None) -> str:
        return sign(look) if of is None or look is None else (of(look) or "-")[0]

    return ["".join(one(look) for look in reversed(row)) for row in reversed(looks)]


def test_the_wrong_side_is_the_right_side_turned_over() -> None:
    looks = right(chart("ssssbb", "sBBsss", "sssbbb"))
    assert signs(looks) == ["ssssbb", "sBBsss", "sssbbb"]
    assert signs(wrong_side(looks)) == ["BBSSSS", "SSSbbS", "BBBSSS"]
    assert wrong_side(wrong_side(looks)) == looks


def test_the_first_ridge_of_purls_in_a_new_colour_shows_both() -> None:
    """Two rows of stockinette in sand, then brick purled on the right side: the heads of the sand stitches lie among
    the feet of the brick ones; in the row above they are brick, too."""
    looks = right(chart("BBBB", "BBBB", "ssss", "ssss"))
    assert signs(looks, lambda look: look.under if look.is_bump else "") == ["bbbb", "ssss", "----", "----"]


def test_on_the_wrong_side_of_stockinette_a_change_of_colour_is_a_ridge_of_both() -> None:
    looks = wrong_side(right(chart("bbbb", "bbss", "ssss")))
    assert signs(looks) == ["BBBB", "SSBB", "SSSS"]
    assert signs(looks, lambda look: look.under) == ["ssbb", "ssss", "ssss"]


@settings(max_examples=60)
@given(charts(max_rows=6, max_columns=8, has_textures=True, has_gaps=False))
def test_every_stitch_looks_as_a_reader_of_charts_says(drawn: Chart) -> None:
    """Cell by cell, by a reader who knows nothing of runs."""
    looks = right(piece_of(drawn))
    for row, line in enumerate(looks):
        said = {column: face for (column, _), face in zip(drawn.worked(row), drawn.faces(row), strict=True)}
        assert [("purl" if look.is_bump else "knit") if look else "" for look in line] == [
            said.get(column, "") for column in range(1, drawn.width + 1)
        ]
        assert [look.yarn for look in line if look] == [cell.yarn for cell in drawn.grid[row] if cell]


def test_what_is_sewn_on_covers_the_right_side_alone() -> None:
    looks = right(chart("ssss", "skKs", "ssss"))
    assert signs(looks) == ["ssss", "sffs", "ssss"]
    assert signs(looks, lambda look: look.yarn) == ["ssss", "ssss", "ssss"]
    assert signs(wrong_side(looks)) == ["SSSS", "SsSS", "SSSS"]


def test_an_area_that_is_not_sewn_on_yet_is_not_worked() -> None:
    """One is begun at row 1, column 2, the other at row 1, column 4."""
    whole = chart("kssk", "ksks")
    strands = plan_strands(whole.rows, whole.carry).strands

    def worked(*sewn: Cell) -> list[str]:
        looks = right_side(strands, Made(Place(1, 1), sewn, ()))
        return signs(looks, lambda look: "w" if look.is_worked else "")

    assert worked(Cell(0, 2), Cell(0, 4), Cell(1, 1)) == ["wwww", "wwww"]
    assert worked(Cell(0, 2)) == ["-ww-", "-www"]
    assert signs(right(whole), lambda look: "w" if look.is_worked else "") == ["wwww", "wwww"]


def test_an_edge_lies_under_what_is_cast_on_and_over_what_is_bound_off() -> None:
    """Four stitches are bound off at the right edge in row 3, one is decreased at the left in row 4."""
    looks = right(chart(".sss....", "ssss....", "ssssssss", "bbbbbbbb"))
    assert signs(looks, lambda look: look.cast_on) == [".---....", "----....", "--------", "bbbbbbbb"]
    assert signs(looks, lambda look: look.bound_off) == [".sss....", "----....", "----ssss", "--------"]


def test_stitches_cast_on_beside_the_piece_have_an_edge_below_them_and_a_lifted_one_has_none() -> None:
    """Row 3, a right-side row, begins with three stitches cast on at the right, and one is made at the left; or it
    ends with three loops there."""
    looks = right(chart("ssssbbb", ".sss...", ".sss..."))
    assert signs(looks, lambda look: look.cast_on) == ["----bbb", ".---...", ".sss..."]
    looks = right(chart("ffbsss", "...sss", "...sss"))
    assert signs(looks, lambda look: look.cast_on) == ["ffb---", "...---", "...sss"]


def test_runs_that_are_cast_on_and_bound_off_in_their_own_strands_have_edges_in_their_colours() -> None:
    whole = replace(
        chart("ssbb", "ssbb"), cast_on=LONG_TAIL._replace(is_each=True), is_off_each=True
    )
    looks = right(whole)
    assert signs(looks, lambda look: look.cast_on) == ["----", "ssbb"]
    assert signs(looks, lambda look: look.bound_off) == ["ssbb", "----"]
    assert signs(right(chart("sbbb")), lambda look: look.bound_off) == ["ssss"], "one strand goes back over all"
    uneven = right(replace(chart("sbbb", "sbbb"), is_off_each=True))
    assert signs(uneven, lambda look: look.bound_off) == ["sbbb", "----"]


def test_a_cast_on_in_a_yarn_of_its_own_shows_below_and_in_the_bumps_on_it() -> None:
    whole = replace(chart("ssss", "SSSS"), cast_on=LONG_TAIL._replace(yarn="foam"))
    looks = right(whole)
    assert signs(looks, lambda look: look.cast_on) == ["----", "ffff"]
    assert signs(looks, lambda look: look.under) == ["ssss", "ffff"]


def test_a_slipped_edge_shows_a_new_colour_a_row_late() -> None:
    """Row 2 begins at the left edge, row 3 at the right one; brick begins in row 2."""
    looks = right(replace(chart("bbbb", "bbbb", "ssss"), has_slipped_edges=True))
    assert signs(looks) == ["bbbb", "sbbb", "ssss"]
    assert signs(looks, lambda look: look.cast_on) == ["----", "----", "ssss"]


def test_what_is_not_worked_is_known() -> None:
    """Rows 1 and 2 and the first run of row 3 are worked, which begins at the right edge."""
    looks = right(chart("ssss", "ssbb", "ssss", "ssss"), Place(2, 1))
    assert signs(looks, lambda look: "w" if look.is_worked else "") == ["----", "--ww", "wwww", "wwww"]
    assert signs(right(chart("ss", "ss"), Place(1, 1)), lambda look: "w" if look.is_worked else "") == ["ww", "ww"]


@pytest.mark.parametrize("is_mirrored", [False, True])
def test_a_tube_is_opened_where_its_rounds_begin_and_has_no_stitches_for_its_seam(is_mirrored: bool) -> None:
    """Five stitches round; in the flat part two more, for the seam."""
    tube = piece(
        "rows:\n  - {plain: {rows: 2, stitches: 5, yarn: sand}, worked: round}\n"
        "  - {plain: {rows: 2, stitches: 5, yarn: brick}, worked: flat, seam_stitches: 2}\n"
        "  - {plain: {rows: 1, stitches: 5, yarn: foam}, worked: round}\n"
    )
    looks = right(replace(tube, is_mirrored=is_mirrored))
    assert signs(looks) == ["fffff", "bbbbb", "bbbbb", "sssss", "sssss"]
    assert signs(looks, lambda look: look.cast_on) == ["-----"] * 4 + ["sssss"]
