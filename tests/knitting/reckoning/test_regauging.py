"""A picture at another gauge: sizes worked out by hand, and its stitches against areas counted on a fine raster."""

from __future__ import annotations

from collections import Counter
from fractions import Fraction

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from companion.knitting.cloth.fabric import Gauge, Stitch, Texture
from companion.knitting.reckoning.regauging import at_gauge, in_ground, keeping, redrawn
from companion.knitting.reckoning.size import size
from tests.knitting.reckoning.grids import drawn, grid
from tests.plan.plans import HEAD, read


def test_as_many_stitches_and_rows_as_come_nearest_keep_a_size() -> None:
    """80 stitches at 20 to 10 cm are 40 cm, at 19 to 10 cm 76; 112 rows at 28 are 40 cm, at 27 108. 62 stitches are
    31 cm, 58.9 stitches; 20 stitches to 4 in are 20 to 10.16 cm."""
    old, new = Gauge(Fraction(20), Fraction(28)), Gauge(Fraction(19), Fraction(27))
    assert keeping(80, old.stitch_cm, new.stitch_cm) == 76
    assert keeping(112, old.row_cm, new.row_cm) == 108
    assert keeping(62, old.stitch_cm, new.stitch_cm) == 59
    inches = Gauge(Fraction(20), Fraction(28), Fraction("10.16"))
    assert keeping(100, old.stitch_cm, inches.stitch_cm) == 98  # 50 cm in stitches of 5.08 mm: 98.4
    assert keeping(1, new.stitch_cm, Fraction(1000)) == 1
    assert keeping(40, Fraction(10, 22), Fraction(10, 19), 4) == 36  # 34.5 stitches: 36 is nearer than 32
    assert keeping(4, new.stitch_cm, Fraction(1000), 4) == 4


def test_other_textures_change_in_proportion() -> None:
    head = HEAD.replace("rows: 28}", "rows: 28, garter: {stitches: 18, rows: 40}}")
    piece = read(f"{head}rows:\n  - plain: {{rows: 40, stitches: 18, yarn: sand, stitch: garter}}\n").piece
    new = at_gauge(piece, Gauge(Fraction(10), Fraction(14)))
    assert new.gauges == {"garter": Gauge(Fraction(9), Fraction(20))}
    assert (size(piece).width_cm, size(piece).height_cm) == (10, 10)
    assert (size(new).width_cm, size(new).height_cm) == (20, 20)


def test_twice_and_half_as_many_stitches_are_drawn_as_one_would_by_hand() -> None:
    small, large = ("ab", "ba"), ("aabb", "aabb", "bbaa", "bbaa")
    assert drawn(redrawn(grid(*small), 4, 4)) == list(large)
    assert drawn(redrawn(grid(*large), 2, 2)) == list(small)
    assert drawn(redrawn(grid(*small), 2, 2)) == list(small)
    # Three stitches in two: the first covers all of the first and half of the second.
    assert drawn(redrawn(grid("aab"), 2, 1)) == ["ab"]
    assert drawn(redrawn(grid("abb"), 2, 1)) == ["ab"]
    assert drawn(redrawn(grid("aba"), 1, 1)) == ["a"]
    assert drawn(redrawn(grid("ba"), 1, 1)) == ["b"]  # as much of both: the one that is met last lies in the middle


pictures = st.integers(1, 6).flatmap(
    lambda wide: st.lists(st.text("ab.", min_size=wide, max_size=wide), min_size=1, max_size=6)
)


@settings(max_examples=40)
@given(pictures, st.integers(1, 8), st.integers(1, 8))
def test_each_stitch_is_one_of_those_with_most_area_on_a_fine_raster(
    lines: list[str], columns: int, rows: int
) -> None:
    """The raster has so many squares that old and new stitches are whole numbers of them."""
    old = np.array([list(line) for line in lines])
    fine = old.repeat(rows, axis=0).repeat(columns, axis=1)
    new = drawn(redrawn(grid(*lines), columns, rows))
    assert (len(new), {len(line) for line in new}) == (rows, {columns})
    high, wide = old.shape
    for row, line in enumerate(new):
        for column, sign in enumerate(line):
            area = Counter(fine[row * high:(row + 1) * high, column * wide:(column + 1) * wide].ravel().tolist())
            assert area[sign] == max(area.values())


# Grounds


BOAT = ("gggggggg", "gggbgggg", "gggbbggg", "gggggggg")


def test_the_ground_grows_on_all_sides_and_the_picture_stays() -> None:
    assert drawn(in_ground(grid(*BOAT), 11, 6)) == [
        "ggggggggggg", "ggggggggggg", "gggggbggggg", "gggggbbgggg", "ggggggggggg", "ggggggggggg",
    ]  # fmt: skip


def test_the_ground_is_left_out_as_far_as_there_is_any() -> None:
    assert drawn(in_ground(grid(*BOAT), 5, 4)) == ["ggggg", "gbggg", "gbbgg", "ggggg"]
    assert drawn(in_ground(grid(*BOAT), 1, 1)) == ["gggg", "gbgg", "gbbg", "gggg"]


def test_a_border_stays_at_its_edge() -> None:
    """f: garter stitch in the ground's own yarn."""
    lines, garter = ("ffffffff", "ffggbgff", "ffggggff"), Stitch("g", Texture("garter"))
    bordered = [tuple(garter if cell == Stitch("f") else cell for cell in row) for row in grid(*lines)]
    wider = in_ground(bordered, 10, 4)
    shown = ["".join("f" if cell == garter else cell.yarn for cell in row if cell)[::-1] for row in wider[::-1]]
    assert shown == ["ffffffffff", "ffffffffff", "ffgggbggff", "ffggggggff"]


def test_where_there_is_nothing_but_ground_it_has_the_size_that_is_wanted() -> None:
    assert drawn(in_ground(grid("ggg", "ggg"), 5, 3)) == ["ggggg"] * 3
    assert drawn(in_ground(grid("ggg", "ggg"), 2, 1)) == ["gg"]


def test_where_there_is_no_ground_what_lies_at_the_edge_is_one() -> None:
    assert drawn(in_ground(grid("ab", "ba"), 3, 3)) == ["aab", "aab", "bba"]
    assert drawn(in_ground(grid("ab", "ba"), 1, 1)) == ["ab", "ba"]
    assert drawn(in_ground(grid(".a.", "aaa"), 5, 2)) == [".a.", "aaa"]


@pytest.mark.parametrize(("columns", "rows"), [(8, 4), (9, 5), (20, 30), (12, 4)])
def test_a_ground_has_the_size_that_is_wanted_where_it_grows(columns: int, rows: int) -> None:
    new = in_ground(grid(*BOAT), columns, rows)
    assert (len(new), len(new[0])) == (rows, columns)
    assert sum(cell.yarn == "b" for row in new for cell in row if cell) == 3
