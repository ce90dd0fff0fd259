"""The written rows and the table of strands, whole."""

from __future__ import annotations

from fractions import Fraction
from pathlib import Path

import pytest
from the_program import PIER_SIGN, run

from companion.pages.written import number

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

       Rows   Runs  Stitches  Carried  Joined in (places as that row is held)
        1-4      4        13        1  row 1, the sand
        2-3      2         4        1  row 2, the brick between sand and sand, second from the right
        2-3      2         3        0  row 2, the sand at the left edge, beside brick
"""


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    (tmp_path / "pier.yaml").write_text(PIER_SIGN, encoding="utf-8")
    return tmp_path


def test_the_heading_tells_gauge_size_cast_on_and_yarns(folder: Path) -> None:
    assert run(folder, "rows", "pier.yaml").out.startswith(WRITTEN)


def test_every_row_has_its_line_with_its_side_and_count(folder: Path) -> None:
    told = run(folder, "rows", "pier.yaml").out.splitlines()[-4:]
    assert [line[:12] for line in told] == [f"Row {n} ({side}): " for n, side in enumerate(("RS", "WS") * 2, 1)]
    assert all("(5 sts)" in line for line in told)
    assert told[-1].endswith("Bind off.")


def test_cuts_stand_at_the_end_of_their_row_by_place(folder: Path) -> None:
    row_3 = run(folder, "rows", "pier.yaml", "--rows", "3").out.splitlines()[-1]
    assert row_3.endswith(
        "(5 sts) Cut, leaving a tail: the sand at the right edge, beside brick; "
        "the brick between sand and sand, second from the right."
    )


def test_the_table_of_strands_tells_places_in_order_of_joining(folder: Path) -> None:
    ran = run(folder, "strands", "pier.yaml")
    assert (ran.code, ran.out, ran.err) == (0, STRANDS, "")


def test_a_gauge_in_inches_gives_the_size_in_both_measures(folder: Path) -> None:
    # 5 sts at 20 sts to 4 in are 1 in = 2.54 cm; 4 rows at 28 rows to 4 in are 4/7 in = 1.45 cm.
    (folder / "inches.yaml").write_text(PIER_SIGN.replace("10 cm", "4 in"), encoding="utf-8")
    told = run(folder, "rows", "inches.yaml").out.splitlines()
    assert told[2] == "Gauge: 20 sts and 28 rows over 10.16 cm"
    assert told[3] == "Size: 2.5 x 1.5 cm (1.0 x 0.6 in), 5 sts x 4 rows"


@pytest.mark.parametrize(
    ("value", "told"),
    [(Fraction(10), "10"), (Fraction(100), "100"), (Fraction(45, 2), "22.5"), (Fraction(1, 3), "0.33")],
)
def test_numbers_carry_no_needless_zeros(value: Fraction, told: str) -> None:
    assert number(value) == told
