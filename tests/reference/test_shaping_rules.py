"""Shaping against the trade's rules: which way decreases lean, what each abbreviation takes away, where counts go."""

from __future__ import annotations

import re

import pytest
from hypothesis import given

from companion.knitting import words
from companion.knitting.cloth.shaping import shapings
from companion.knitting.hands.row_ends import row_end
from companion.knitting.hands.runs import row_runs
from companion.knitting.hands.steps import Count
from companion.knitting.strands.limits import Carry
from companion.knitting.strands.plan import plan_strands
from companion.screens.chart import ChartPanel
from tests.knitting.charts import Chart, drawn, piece_of
from tests.knitting.cloth.test_shaping import outlines
from tests.progress.test_finishing import cast_on

LEANS = {
    # "Terms and abbreviations used in knitting patterns" and three concurring lists: k2tog leans to the right, ssk to
    # the left. Their purl and double forms lean like them, as seen from the right side: common practice, no source.
    "k2tog": "right", "p2tog": "right", "k3tog": "right", "p3tog": "right",
    "ssk": "left", "ssp": "left", "sssk": "left", "sssp": "left",
}  # fmt: skip

TAKES_AWAY = {how: 2 if how.startswith(("k3", "p3", "sss")) else 1 for how in LEANS}
"""Three together leave one, and so do three slipped and worked together (the same lists)."""


@given(outlines())
def test_a_decrease_leans_the_way_its_edge_goes(chart: Chart) -> None:
    """The right edge seen from the right side goes to the left as it comes in, and the left edge to the right."""
    rows = chart.rows()
    for index in range(1, len(rows)):
        for one in shapings(rows, index):
            if one.how in LEANS:
                assert LEANS[one.how] == ("left" if one.edge == "right" else "right")
                assert one.stitches == -TAKES_AWAY[one.how]


@pytest.mark.parametrize(
    ("lines", "told"),
    [
        # A published stitch of each kind has its knit name on right-side rows and its purl name on wrong-side rows
        # (the same lists); rows 1 and 3 are right-side rows.
        (("sssssss.", "ssssssss", "ssssssss"), "ssk"),
        ((".sssssss", "ssssssss", "ssssssss"), "k2tog"),
        (("sssssss.", "ssssssss"), "ssp"),
        ((".sssssss", "ssssssss"), "p2tog"),
    ],
)
def test_right_side_rows_decrease_knitwise_and_wrong_side_rows_purlwise(lines: tuple[str, ...], told: str) -> None:
    strands = plan_strands(drawn(*lines).rows(), Carry(3)).strands
    [run] = row_runs(strands, len(lines) - 1)
    assert told in re.split(r"[ ,]+", words.work_in_short(run, words.US))
    count = row_end(strands, len(lines) - 1)[0]
    assert words.tell(count, "full", words.US) == "7 stitches must be on the needle, 1 fewer than before."


def test_binding_off_leaves_one_stitch_on_the_right_needle_which_is_the_rows_first() -> None:
    """Common practice, no source: to bind off three, four are worked, and the last of them is not bound off."""
    strands = plan_strands(drawn("sssss...", "ssssssss", "ssssssss").rows(), Carry(3)).strands
    [run] = row_runs(strands, 2)
    assert words.work_in_short(run, words.US) == "bind off 3 (1 on the right needle), k4 more"
    assert row_end(strands, 2)[0] == Count(1 + 4, (1 + 4) - 8) == Count(8 - 3, -3)


@pytest.mark.parametrize("is_round", [False, True])
def test_row_numbers_stand_on_the_side_where_the_row_begins(is_round: bool) -> None:
    """Flat: right-side rows' numbers at the right edge, wrong-side rows' at the left one; round: all at the right
    ("Charts", technique article)."""
    piece = piece_of(drawn(*["ssbb"] * 4, is_round=is_round))
    chart = ChartPanel()
    chart.session = cast_on(piece)
    lines = ["".join(text for text, _ in line).rstrip() for line in chart.draw(60, 10)][::-1]
    for number, line in enumerate(lines, 1):
        stands_right = line.endswith(str(number))
        assert stands_right == (is_round or number % 2 == 1)
        assert stands_right or line.startswith(str(number))
    assert len(lines) == 4
