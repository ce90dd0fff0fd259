"""Sections worked round: their sides, the flat rows between them, and what blocks of colour would cost there."""

from __future__ import annotations

import pytest

from companion.knitting.rows import Rows
from companion.plan.read import Loaded, load_text
from companion.problems import Problems
from tests.knitting.charts import Chart, drawn

COWL = """\
plan: 1
title: Cowl
gauge: {stitches: 20, rows: 28}
yarns: {sand: {colour: tan}, brick: {colour: brown}}
symbols: {s: sand, b: brick}
rows:
  - plain: {rows: 3, stitches: 24, yarn: sand, stitch: garter}
    worked: round
  - chart: 8s 8b 8s
    repeat: FLAT
  - plain: {rows: 2, stitches: 24, yarn: sand}
    worked: round
"""


def read(text: str) -> Loaded:
    return load_text(text, "cowl.yaml", {})


def test_rounds_are_right_side_rows_and_the_flat_part_begins_where_they_end() -> None:
    """All rounds are right-side rows (stitch guides); a flat row after a round goes on from its end, then the work is
    turned: common practice, no source."""
    loaded = read(COWL.replace("FLAT", "4"))
    assert loaded.warnings == ()
    rows = loaded.piece.rows
    assert [row.side for row in rows] == ["RS"] * 3 + ["RS", "WS", "RS", "WS"] + ["RS"] * 2
    assert [row.is_round for row in rows] == [True] * 3 + [False] * 4 + [True] * 2
    assert [row.toward for row in rows] == ["left" if row.side == "RS" else "right" for row in rows]


def test_garter_in_the_round_is_a_round_knit_and_a_round_purled() -> None:
    from companion.knitting.rows import work

    rows = read(COWL.replace("FLAT", "4")).piece.rows
    assert [work(row, row.segments[0]) for row in rows[:3]] == [(("k", 24),), (("p", 24),), (("k", 24),)]


def test_flat_rows_that_end_at_the_other_edge_are_told() -> None:
    with pytest.raises(Problems) as found:
        read(COWL.replace("FLAT", "3"))
    [problem] = found.value.problems
    told = "is a round, and the flat rows below it end at the other edge."
    assert problem.line == 11
    assert problem.what == f"Row 1 of this section, counted from the bottom, {told}"
    assert problem.mend == "Make them even in number, so that they end where the round begins."


def test_blocks_of_colour_in_the_round_are_told_in_numbers() -> None:
    """By hand: six rounds of three blocks. Every strand ends a block's width past where the next round needs it; only
    the one at the end of a round goes on, as the next round's first. So every round joins two: 1 + 6 x 2 = 13."""
    text = COWL.replace("FLAT", "6\n    worked: round")
    [warning] = read(text).warnings
    assert warning.line == 9
    assert "it takes 13 strands, worked flat 3;" in warning.what
    assert "waits up to 8 stitches from where the next round needs it." in warning.what
    solid = COWL.replace("8s 8b 8s", "24s").replace("FLAT", "6\n    worked: round")
    assert [one.what for one in read(solid).warnings if "round" in one.what] == []


def test_what_is_neither_is_told() -> None:
    with pytest.raises(Problems) as found:
        read(COWL.replace("FLAT", "4").replace("worked: round", "worked: up", 1))
    assert '"worked" must be flat or round, and is "up".' in found.value.problems[0].what


def test_sides_by_counting() -> None:
    chart = drawn(*["s"] * 7)
    mixed = Chart(chart.grid, (False, False, True, False, False, False, True))
    assert [row.side for row in Rows(mixed.fabric())] == ["RS", "WS", "RS", "RS", "WS", "RS", "RS"]
    assert [mixed.side(row) for row in range(7)] == ["RS", "WS", "RS", "RS", "WS", "RS", "RS"]
