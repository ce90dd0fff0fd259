"""How a chart is read and a row is told, held against published rules. Charts of our own; row 1 is their last line.

Sources, by title:
- "Working from charts", stitch guide
- Teach Yourself Visually Knitting, p. 104
- "How to read knitting chart symbols"
- Craft Yarn Council, knitting abbreviations; with it "Terms and abbreviations used in knitting patterns"
"""

from __future__ import annotations

import re

import pytest

from companion.knitting.cloth.carries import carry
from companion.knitting.cloth.fabric import Fabric, FabricRow, Run, Stitch, Texture
from companion.knitting.cloth.faces import work
from companion.knitting.cloth.rows import Place, Rows
from companion.knitting.hands.row_ends import row_end
from companion.knitting.hands.runs import row_runs
from companion.knitting.strands.limits import Carry
from companion.knitting.strands.plan import plan_strands
from companion.knitting.words import US, written_row
from tests.knitting.charts import Chart, drawn

BUOY = (
    "ssssssss",
    "ssbbbsss",
    "ssbbbbss",
    "skkkkkkk",
)


def colours(chart: Chart, number: int) -> list[tuple[str, int]]:
    """Row ``number``, from 1, in working order."""
    row = chart.rows()[number - 1]
    return [(segment.yarn, segment.stitches) for segment in row.segments]


def test_one_square_is_one_stitch_of_one_row() -> None:
    """ "Working from charts"; Teach Yourself Visually Knitting, p. 104."""
    rows = drawn(*BUOY).rows()
    assert len(rows) == 4
    assert [row.stitches for row in rows] == [8, 8, 8, 8]


def test_reading_starts_at_the_bottom_right() -> None:
    """ "Working from charts"; Teach Yourself Visually Knitting, p. 104: bottom right, then upward."""
    assert colours(drawn(*BUOY), 1) == [("kelp", 7), ("sand", 1)]
    assert colours(drawn(*BUOY), 4) == [("sand", 8)]


def test_flat_odd_rows_are_right_side_rows_and_go_from_right_to_left() -> None:
    """ "Working from charts"."""
    rows = drawn(*BUOY).rows()
    assert [(row.side, row.toward) for row in list(rows)[::2]] == [("RS", "left")] * 2
    assert colours(drawn(*BUOY), 3) == [("sand", 3), ("brick", 3), ("sand", 2)]


def test_flat_even_rows_are_wrong_side_rows_and_go_from_left_to_right() -> None:
    """ "Working from charts"."""
    rows = drawn(*BUOY).rows()
    assert [(row.side, row.toward) for row in list(rows)[1::2]] == [("WS", "right")] * 2
    assert colours(drawn("ssbbbsss", "ssssssss"), 2) == [("sand", 2), ("brick", 3), ("sand", 3)]


def test_in_the_round_every_row_is_a_right_side_row_from_right_to_left() -> None:
    """ "Working from charts"; Teach Yourself Visually Knitting, p. 104."""
    chart = drawn("ssbbbsss", "ssbbbsss", is_round=True)
    assert [(row.side, row.toward) for row in chart.rows()] == [("RS", "left")] * 2
    assert colours(chart, 1) == colours(chart, 2) == [("sand", 3), ("brick", 3), ("sand", 2)]


@pytest.mark.parametrize(
    ("kind", "told"),
    [
        # The blank square: knit on right-side rows, purl on wrong-side rows.
        ("stockinette", ["k", "p"]),
        # The dot or dash: purl on right-side rows, knit on wrong-side rows.
        ("reverse", ["p", "k"]),
    ],
)
def test_a_square_is_worked_so_that_it_looks_the_same_from_the_right_side(kind: str, told: list[str]) -> None:
    """ "How to read knitting chart symbols"."""
    line = FabricRow((Run(5, Stitch("sand", Texture(kind))),))
    rows = Rows(Fabric((line, line)))
    assert [work(row, row.segments[0]) for row in rows] == [((hand, 5),) for hand in told]


def written(chart: Chart) -> list[str]:
    strands = plan_strands(chart.rows(), Carry(3)).strands
    return [written_row(row, row_runs(strands, i), row_end(strands, i), US) for i, row in enumerate(strands.rows)]


# Craft Yarn Council, knitting abbreviations: the ones that rows of blocks of colour need.
ABBREVIATIONS = {"k": "knit", "p": "purl", "RS": "right side", "WS": "wrong side", "st": "stitch", "sts": "stitches"}


def test_written_rows_use_the_trades_abbreviations_and_no_others() -> None:
    """Craft Yarn Council, knitting abbreviations."""
    told = " ".join(written(drawn(*BUOY)))
    used = set(re.findall(r"\b([a-zA-Z]{1,3})\d+\b", told))
    used |= set(re.findall(r"\((\w+)\)", told))
    used |= set(re.findall(r"\d+ (st\w*)", told))
    assert used <= set(ABBREVIATIONS)
    assert {"k", "p", "RS", "WS", "sts"} <= used


def test_a_count_follows_its_abbreviation_and_the_side_its_row() -> None:
    """Craft Yarn Council, knitting abbreviations: k, p, RS, WS, st(s)."""
    first, second = written(drawn("ssss", "ssss"))
    assert first == "Row 1 (RS): cast on 4 sts in sand, with sand k4. (4 sts)"
    assert second.startswith("Row 2 (WS): with sand p4. (4 sts)")


# Common practice, no source ------------------------------------------------------------------------------


def test_a_strand_hangs_at_the_last_stitch_it_worked() -> None:
    """Common practice, no source. Going left, the brick of columns 4 to 6 ends at column 6 and hangs left of it, in
    gap 6; going right, it ends at column 4 and hangs right of it, in gap 3."""
    rows = drawn("sssbbbsss", "sssbbbsss").rows()
    assert [rows.segment(Place(row, 1)).exit for row in (0, 1)] == [6, 3]


@pytest.mark.parametrize("shift", [-3, -2, -1, 0, 1, 2, 3])
def test_the_next_row_worked_back_starts_within_the_shift_of_the_colour_edge(shift: int) -> None:
    """Common practice, no source. The left edge of a block moves by ``shift``; so far is the strand from its first
    stitch, whatever the right edge does."""
    below = "s" * 6 + "b" * 8 + "s" * 6
    for right_edge in (-2, 0, 2):
        above = "s" * (6 + shift) + "b" * (8 - shift + right_edge) + "s" * (6 - right_edge)
        assert carry(drawn(above, below).rows(), Place(0, 1), Place(1, 1)) == abs(shift)


@pytest.mark.parametrize("width", [1, 2, 5, 9])
def test_worked_round_a_strand_is_its_own_blocks_width_away(width: int) -> None:
    """Common practice, no source; this is why blocks of colour are not worked in plain rounds."""
    line = "s" * 12 + "b" * width + "s" * 4
    assert carry(drawn(line, line, is_round=True).rows(), Place(0, 1), Place(1, 1)) == width
    assert carry(drawn(line, line).rows(), Place(0, 1), Place(1, 1)) == 0
