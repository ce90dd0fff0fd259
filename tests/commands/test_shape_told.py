"""The shape of a piece on the command line: what lies behind each line of words, and the words of any outline."""

from __future__ import annotations

from pathlib import Path

import pytest
from the_program import run

from companion.knitting.words.shape import shape_of
from companion.knitting.words.terms import US
from companion.plan.read import load

PLANS = Path(__file__).resolve().parents[2] / "plans"

SLEEVE = """\
plan: 1
title: Ferry sleeve
gauge: {stitches: 20, rows: 28, over: 10 cm}
yarns: {fog: {colour: grey}}
rows:
  - plain: {rows: 4, stitches: 12, yarn: fog, stitch: {rib: [2, 2]}}
  - plain: {yarn: fog}
    shape: |
      Inc 1 st each end of every 4th row 3 times. (18 sts)
      Cast off 3 sts at beg of next 2 rows.     # the cap
      Dec 1 st each end of every RS row until 6 sts rem.
"""

CHECKED = """\
sleeve.yaml: 18 sts x 23 rows, 1 yarn, 1 strand; nothing to mend.
sleeve.yaml:9  Inc 1 st each end of every 4th row 3 times. (18 sts) -> 18 sts after 12 rows
sleeve.yaml:10  Cast off 3 sts at beg of next 2 rows. -> 12 sts after 14 rows
sleeve.yaml:11  Dec 1 st each end of every RS row until 6 sts rem. -> 6 sts after 19 rows
"""

SHAPE = """\
Ferry sleeve: its shape

Cast on 12 sts.
  Rows 1 to 4: work 4 rows even.
  Rows 5 to 16: inc 1 st at each end of every fourth row 3 times. (18 sts)
  Rows 17 to 18: bind off 3 sts at the beginning of the next 2 rows. (12 sts)
  Rows 19 to 23: dec 1 st at each end of every RS row 3 times. (6 sts)
"""

FRONT = """\
Ferry jumper, front: its shape

Cast on 62 sts.
  Rows 1 to 58: work 58 rows even.
  Rows 59 to 60: bind off 3 sts at the beginning of the next 2 rows. (56 sts)
  Rows 61 to 65: dec 1 st at each end of every RS row 3 times. (50 sts)
  Rows 66 to 84: work 19 rows even.

Right part, on 19 sts:
  Rows 1 to 2: work 2 rows even.
  Rows 3 to 11: dec 1 st at the neck edge of every RS row 5 times. (14 sts)
  Rows 12 to 14: work 3 rows even.

Left part, on 31 sts:
  Row 1: bind off 12 sts at the neck edge of the next row. (19 sts)
  Rows 2 to 11: dec 1 st at the neck edge of every RS row 5 times. (14 sts)
  Rows 12 to 14: work 3 rows even.
"""
"""Counted in the drawing of the demo plan: 62 columns, 12 rows of rib and 86 drawn, its armholes and its neck."""


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    (tmp_path / "sleeve.yaml").write_text(SLEEVE, encoding="utf-8")
    return tmp_path


def test_check_tells_the_stitches_after_each_line_of_words(folder: Path) -> None:
    found = run(folder, "check", "sleeve.yaml")
    assert (found.code, found.out, found.err) == (0, CHECKED, "")


def test_check_tells_a_wrong_sum_at_its_line(folder: Path) -> None:
    (folder / "sleeve.yaml").write_text(SLEEVE.replace("(18 sts)", "(20 sts)"), encoding="utf-8")
    found = run(folder, "check", "sleeve.yaml")
    assert (found.code, found.out) == (2, "sleeve.yaml: 1 to mend.\n")
    assert found.err == (
        "sleeve.yaml:9:51  Here are 18 stitches, and this line says 20.\n"
        "    9 |       Inc 1 st each end of every 4th row 3 times. (20 sts)\n"
        "      |                                                   ^\n"
        "  Mend the words before it, or the number.\n"
    )


def test_the_shape_of_a_piece_is_told_in_words(folder: Path) -> None:
    assert run(folder, "rows", "sleeve.yaml", "--shape").out == SHAPE


def test_the_parts_of_a_drawn_front_are_told_each_by_itself(folder: Path) -> None:
    assert run(folder, "rows", "ferry-jumper-front", "--shape").out == FRONT


KEYHOLE = """\
plan: 1
title: Quay keyhole
gauge: {stitches: 20, rows: 28}
yarns: {fog: {colour: grey}}
symbols: {f: fog}
rows:
  - plain: {rows: 2, stitches: 9, yarn: fog}
  - opening: {first: left, middle: held}
    chart: |
      fffffffff
      fff...fff
      ffff.ffff
"""


def test_a_keyhole_is_told_with_what_is_held_and_cast_on_and_no_neck(folder: Path) -> None:
    (folder / "keyhole.yaml").write_text(KEYHOLE, encoding="utf-8")
    assert run(folder, "rows", "keyhole.yaml", "--shape").out == """\
Quay keyhole: its shape

Cast on 9 sts.
  Rows 1 to 2: work 2 rows even.

Leave the middle 1 st on a holder.

Left part, on 4 sts:
  Row 1: work 1 row even.
  Row 2: dec 1 st at the inner edge of the next row. (3 sts)

Right part, on 4 sts:
  Row 1: work 1 row even.
  Row 2: dec 1 st at the inner edge of the next row. (3 sts)

Both parts joined, on 9 sts, 3 of them cast on between them:
  Row 5: work 1 row even.
"""


def test_some_rows_of_parts_are_told_with_what_each_is_worked_on() -> None:
    piece = load(PLANS / "ferry-jumper-front.yaml").piece
    told = [one if isinstance(one, str) else one.text for one in shape_of(piece.rows, US, range(95, 98))]
    assert told == ["Right part, on 14 sts:", "Work 3 rows even.", "Left part, on 14 sts:", "Work 3 rows even."]


def test_the_uk_casts_off_and_works_straight(folder: Path) -> None:
    told = run(folder, "rows", "sleeve.yaml", "--shape", "--terms", "uk").out
    assert told == SHAPE.replace("bind off", "cast off").replace("even", "straight")


def test_left_hands_bind_off_a_row_later(folder: Path) -> None:
    (folder / "sleeve.yaml").write_text(SLEEVE.replace("     # the cap", " Work 2 rows even."), encoding="utf-8")
    told = run(folder, "rows", "sleeve.yaml", "--shape", "--hands", "left").out
    assert "  Row 17: work 1 row even.\n  Rows 18 to 19: bind off 3 sts at the beginning of the next 2 rows." in told


@pytest.mark.parametrize("more", [("--json",), ("--rows", "3-4")])
def test_the_shape_is_that_of_the_whole_piece(folder: Path, more: tuple[str, ...]) -> None:
    found = run(folder, "rows", "sleeve.yaml", "--shape", *more)
    assert found.code == 2
    assert "--shape tells the whole piece in words: leave --rows and --json out." in found.err


def test_a_title_is_data_and_no_markup(folder: Path) -> None:
    (folder / "sleeve.yaml").write_text(SLEEVE.replace("Ferry sleeve", '"[MC] [/ [red]x"'), encoding="utf-8")
    assert run(folder, "rows", "sleeve.yaml", "--shape").out.startswith("[MC] [/ [red]x: its shape\n")
