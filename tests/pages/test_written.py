"""The written rows and the table of strands, whole."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction
from pathlib import Path

import pytest
from the_program import PIER_SIGN, run

from companion.knitting.cloth.fabric import Ball, Fabric, FabricRow, Gauge, Run, Stitch, Texture, Yarn
from companion.knitting.piece import Piece
from companion.knitting.strands.limits import Carry
from companion.knitting.strands.plan import plan_strands
from companion.knitting.words import Terms
from companion.pages.tables import strand_table
from companion.pages.written import heading, number, size
from companion.plan.read import load_text

WRITTEN = """\
Pier sign

Gauge: 20 sts and 28 rows over 10 cm
Size: 2.5 x 1.4 cm (1.0 x 0.6 in), 5 sts x 4 rows
Cast on: 5 sts in sand
Yarns:
  s  sand (#d9c9a5, in balls of 120 m / 50 g)
  b  brick (#a8432f)

"""

STRANDS = """\
Pier sign

3 strands, 6 ends to weave in, 2 stitches carried in all.
Most at once: 3, first in row 2.

       Rows   Runs  Stitches  Carried   Length  Wind                  Joined in (places as that row is held)
        1-4      4        13        1    1.5 m  butterfly, 37 wraps   row 1, the sand
        2-3      2         4        1    60 cm  loose, 12 wraps       row 2, the brick between sand and sand, {second}
        2-3      2         3        0    60 cm  loose, 11 wraps       row 2, the sand beside brick, {first}

Yarn for one stitch: 2.05 cm, 4.1 times its width in stockinette. Unpick 20 stitches and measure to know better.
Each length holds its carries and rests, its tails of 15 cm, and a tenth to spare, 15 cm at least;
the first one the cast-on (long-tail), the one in hand at the end the bind-off.
Wraps are loose ones round the needle, one for a stitch; the tails come on top.

Yarn for the piece, spare included. The gauge is that of 4 Medium yarn.
  sand: 2.1 m, 0.9 g: buy 1 ball of 120 m / 50 g (416.7 tex, 3 Light or 4 Medium).
  brick: 60 cm.

Lay the supplies out as their strands lie, facing the right side from the right, facing the wrong side from the left:
  row 1: sand
  rows 2 to 3: sand, brick, sand
  row 4: sand
""".format(first="first from the left", second="second from the right")

IN_INCHES = """\
       Rows   Runs  Stitches  Carried   Length  Wind                  Joined in (places as that row is held)
        1-4      4        13        1   1.5 yd  butterfly, 37 wraps   row 1, the sand
        2-3      2         4        1    24 in  loose, 12 wraps       row 2, the brick between sand and sand, {second}
        2-3      2         3        0    24 in  loose, 11 wraps       row 2, the sand beside brick, {first}

Yarn for one stitch: 0.81 in, 4.1 times its width in stocking stitch. Unpick 20 stitches and measure to know better.
Each length holds its carries and rests, its tails of 6 in, and a tenth to spare, 6 in at least;
the first one the cast-on (long-tail), the one in hand at the end the cast-off.
Wraps are loose ones round the needle, one for a stitch; the tails come on top.

Yarn for the piece, spare included. The tension is that of 4 Medium yarn.
  sand: 2.2 yd, 0.8 g: buy 1 ball of 131.2 yd / 50 g (416.7 tex, 3 Light or 4 Medium).
  brick: 24 in.
""".format(first="first from the left", second="second from the right")


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    (tmp_path / "pier.yaml").write_text(PIER_SIGN, encoding="utf-8")
    return tmp_path


def test_the_heading_tells_gauge_size_cast_on_and_yarns(folder: Path) -> None:
    assert run(folder, "rows", "pier.yaml").out.startswith(WRITTEN)


@pytest.mark.parametrize("worked", ["round", "flat"])
def test_where_all_are_rounds_nothing_is_said_of_rows_or_of_a_wrong_side(worked: str) -> None:
    text = f"{PIER_SIGN.rstrip()}\n    worked: {worked}\n"
    piece = load_text(text, "pier.yaml", {}).piece
    told = " ".join(heading(piece, plan_strands(piece.rows, piece.carry).strands, Terms()))
    said = ("The right side (RS) is toward you in every round" in told, "At the back lay the old strand" in told)
    assert said == 2 * (worked == "round",)
    assert ("WS" in told or "row is told" in told) == (worked == "flat")


def test_every_row_has_its_line_with_its_side_and_count(folder: Path) -> None:
    told = run(folder, "rows", "pier.yaml").out.splitlines()[-4:]
    assert [line[:12] for line in told] == [f"Row {n} ({side}): " for n, side in enumerate(("RS", "WS") * 2, 1)]
    assert all("(5 sts)" in line for line in told)
    assert told[-1].endswith("Bind off in pattern in sand, right side toward you, and cut it.")


def test_cuts_stand_at_the_end_of_their_row_by_place(folder: Path) -> None:
    row_3 = run(folder, "rows", "pier.yaml", "--rows", "3").out.splitlines()[-1]
    assert row_3.endswith(
        "(5 sts) Cut, leaving a tail: the sand beside brick, first from the right; "
        "the brick between sand and sand, second from the right."
    )


def test_the_table_of_strands_tells_places_in_order_of_joining(folder: Path) -> None:
    ran = run(folder, "strands", "pier.yaml")
    assert (ran.code, ran.out, ran.err) == (0, STRANDS, "")


def test_lengths_are_told_in_inches_and_yards_where_asked() -> None:
    piece = load_text(PIER_SIGN, "pier.yaml", {}).piece
    told = list(strand_table(piece, plan_strands(piece.rows, piece.carry).strands, Terms("uk", is_inches=True)))
    assert told[5:-5] == IN_INCHES.splitlines()


def test_the_halves_of_one_length_name_each_other() -> None:
    piece = load_text(PIER_SIGN, "pier.yaml", {}).piece
    strands = plan_strands(piece.rows, piece.carry).strands
    told = list(strand_table(piece, replace(strands, shared=((strands.first[1], strands.first[3]),))))
    # A tail less in each: 104.9 - 15 = 89.9 cm and 51.15 - 15 = 36.15 cm.
    assert told[6].endswith(" the sand; one length of 1.3 m with row 2, the sand beside brick, first from the left")
    assert told[8].endswith(" beside brick, first from the left; one length of 1.3 m with row 1, the sand")


def test_a_gauge_in_inches_gives_the_size_in_both_measures(folder: Path) -> None:
    # 5 sts at 20 sts to 4 in are 1 in = 2.54 cm; 4 rows at 28 rows to 4 in are 4/7 in = 1.45 cm.
    (folder / "inches.yaml").write_text(PIER_SIGN.replace("10 cm", "4 in"), encoding="utf-8")
    told = run(folder, "rows", "inches.yaml").out.splitlines()
    assert told[2] == "Gauge: 20 sts and 28 rows over 4 in (10 cm)"
    assert told[3] == "Size: 2.5 x 1.5 cm (1.0 x 0.6 in), 5 sts x 4 rows"


def test_in_inches_they_come_first_a_gauge_over_10_cm_is_told_to_be_over_4_in_and_balls_are_in_yards() -> None:
    """100 m are 109.36 yd; 100 sts at 20 sts to 10 cm go 50 cm, 19.7 in, round a tube, 4 rounds at 28 are 1.4 cm."""
    yarn = Yarn("sand", "#c8a070", "s", Ball(Fraction(100), Fraction(50)))
    fabric = Fabric((FabricRow((Run(100, Stitch("sand")),), is_round=True),) * 4)
    piece = Piece("Quay", Gauge(Fraction(20), Fraction(28)), (yarn,), fabric, Carry(3))
    told = list(heading(piece, plan_strands(piece.rows, piece.carry).strands, Terms(is_inches=True)))
    assert told[2] == "Gauge: 20 sts and 28 rows over 10 cm (4 in)"
    assert told[3] == "Size: 19.7 around x 0.6 in (50.0 around x 1.4 cm), 100 sts x 4 rounds"
    assert told[6] == "  s  sand (#c8a070, in balls of 109.4 yd / 50 g)"
    assert size(piece) == "Size: 50.0 around x 1.4 cm (19.7 around x 0.6 in), 100 sts x 4 rounds"


@pytest.mark.parametrize(
    ("value", "told"),
    [(Fraction(10), "10"), (Fraction(100), "100"), (Fraction(45, 2), "22.5"), (Fraction(1, 3), "0.33")],
)
def test_numbers_carry_no_needless_zeros(value: Fraction, told: str) -> None:
    assert number(value) == told


def test_the_size_is_reckoned_with_every_gauge_that_was_measured() -> None:
    """Worked out by hand: 40 stitches of garter at 18 over 10 cm are 22.2 cm wide, 58 rows of it at 28 are 20.7 high;
    by the gauge of stockinette they would be 20.0 by 29.0 cm."""
    garter = Stitch("sand", Texture("garter"))
    fabric = Fabric((FabricRow((Run(40, garter),)),) * 58)
    gauges = {"garter": Gauge(Fraction(18), Fraction(28))}
    piece = Piece("Quay", Gauge(Fraction(20), Fraction(20)), (), fabric, Carry(3), gauges=gauges)
    assert size(piece) == "Size: 22.2 x 20.7 cm (8.7 x 8.2 in), 40 sts x 58 rows"


def test_a_tube_that_begins_flat_is_measured_around_and_told_in_rows() -> None:
    row = FabricRow((Run(40, Stitch("sand")),))
    fabric = Fabric((row, *[row._replace(is_round=True)] * 6))
    piece = Piece("Quay", Gauge(Fraction(20), Fraction(28)), (), fabric, Carry(3))
    assert size(piece) == "Size: 20.0 around x 2.5 cm (7.9 around x 1.0 in), 40 sts x 7 rows"
