"""Sections worked round: their sides, the flat rows between them, and what blocks of colour would cost there."""

from __future__ import annotations

from pathlib import Path

import pytest
from hypothesis import given

from companion.knitting.cloth.areas import areas
from companion.knitting.cloth.carries import carry
from companion.knitting.cloth.rows import Place, Rows
from companion.knitting.strands.plan import plan_strands
from companion.plan.cautions import away
from companion.plan.edit import use
from companion.plan.packed import pack, unpack
from companion.plan.read import Loaded, load, load_text
from companion.problems import Problems
from companion.progress.alike import differing_rows
from tests.knitting.charts import Chart, charts, drawn

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
    rows = read(COWL.replace("FLAT", "4")).piece.rows
    assert [row.side for row in rows] == ["RS"] * 3 + ["RS", "WS", "RS", "WS"] + ["RS"] * 2
    assert [row.is_round for row in rows] == [True] * 3 + [False] * 4 + [True] * 2
    assert [row.toward for row in rows] == ["left" if row.side == "RS" else "right" for row in rows]


def test_garter_in_the_round_is_a_round_knit_and_a_round_purled() -> None:
    from companion.knitting.cloth.faces import work

    rows = read(COWL.replace("FLAT", "4")).piece.rows
    assert [work(row, row.segments[0]) for row in list(rows)[:3]] == [(("k", 24),), (("p", 24),), (("k", 24),)]


def test_flat_rows_that_end_at_the_other_edge_are_told() -> None:
    with pytest.raises(Problems) as found:
        read(COWL.replace("FLAT", "3"))
    [problem] = found.value.problems
    told = "is a round, and the flat rows below it end at the other edge."
    assert problem.line == 11
    assert problem.what == f"Row 1 of this section, counted from the bottom (round 7 of the piece), {told}"
    assert problem.mend == "Make them even in number, so that they end where the round begins."


@pytest.mark.parametrize("rows", [1, 2, 3, 4])
def test_below_the_first_round_any_number_of_rows_may_be_flat(rows: int) -> None:
    """After a right-side row the round goes on where it ended, after a wrong-side row the work is turned first."""
    text = COWL.replace("    worked: round\n", "", 1).replace("rows: 3", f"rows: {rows}", 1)
    text = text.replace("FLAT", "1\n    worked: round")
    assert [row.is_round for row in read(text).piece.rows] == [False] * rows + [True] * 3


def test_blocks_of_colour_in_the_round_are_told_in_numbers() -> None:
    """By hand: six rounds of three blocks. Every strand ends a block's width past where the next round needs it; only
    the one at the end of a round goes on, as the next round's first. So every round joins two: 1 + 6 x 2 = 13."""
    text = COWL.replace("FLAT", "6\n    worked: round")
    [warning] = read(text).warnings
    assert warning.line == 9
    assert "it takes 13 strands, worked flat 3;" in warning.what
    assert "waits up to 8 stitches from where the next round needs it." in warning.what
    assert warning.mend == (
        'Work those rows flat, with "seam_stitches: 1" in their section for the seam, or knit the ground and sew '
        "small motifs on."
    )
    solid = COWL.replace("8s 8b 8s", "24s").replace("FLAT", "6\n    worked: round")
    assert [one.what for one in read(solid).warnings if "round" in one.what] == []


@given(charts(ways=("round", "mixed"), max_rows=6))
def test_how_far_strands_wait_is_the_shortest_of_all_ways(chart: Chart) -> None:
    """By the one formula for a carry, for every strand of the yarn in the row below."""
    rows = chart.rows()
    for index in range(1, len(rows)):
        every = [
            [carry(rows, Place(index - 1, u), Place(index, v))
             for u, one in enumerate(rows[index - 1].segments) if one.yarn == other.yarn]
            for v, other in enumerate(rows[index].segments)
        ]  # fmt: skip
        assert list(away(rows, index)) == [min(carries) for carries in every if carries]


def test_blocks_of_colour_in_the_round_that_take_no_more_strands_are_not_warned_of() -> None:
    """One such round between plain ones: flat or round, brick and the sand past it are joined and cut once each."""
    loaded = read(COWL.replace("FLAT", "1\n    worked: round"))
    assert len(plan_strands(loaded.piece.rows, loaded.piece.carry).strands.first) == 3
    assert loaded.warnings == ()


def test_the_mend_of_blocks_in_the_round_is_one() -> None:
    mended = read(COWL.replace("FLAT", "6\n    seam_stitches: 1"))
    assert mended.warnings == ()
    assert len(plan_strands(mended.piece.rows, mended.piece.carry).strands.first) == 3


def test_a_picture_worked_flat_between_rounds_is_told_that_its_edges_stay_open() -> None:
    [warning] = read(COWL.replace("FLAT", "4")).warnings
    assert (warning.line, warning.what, warning.mend) == (
        9,
        "Rows 4 to 7 of the piece are worked flat between rounds, and the edges of these rows stay open.",
        'Write "seam_stitches: 1" in the section to sew them up, 2 for a seam a whole stitch deep; or leave it so '
        "where an opening is wanted.",
    )
    assert read(COWL.replace("FLAT", "4").replace("8s 8b 8s", "24s") + "  - chart: 8b 8s 8b\n").warnings == ()


def test_stitches_for_the_seam_are_made_from_the_plan_and_packed_with_it() -> None:
    for stitches in (1, 2):
        piece = read(COWL.replace("FLAT", f"4\n    seam_stitches: {stitches}")).piece
        assert [row.stitches for row in piece.rows] == [24] * 3 + [24 + stitches] * 4 + [24] * 2
        assert [row.seam_stitches for row in piece.fabric.rows] == [0] * 3 + [stitches] * 4 + [0] * 2
        assert unpack(pack(piece)) == piece


def test_a_seam_thought_of_while_the_rounds_below_it_are_knitted_changes_nothing_worked() -> None:
    without, with_seam = (
        read(COWL.replace("FLAT", f"4{more}")).piece.rows for more in ("", "\n    seam_stitches: 1")
    )
    assert differing_rows(without, with_seam, 2, 1) == ()
    assert differing_rows(without, with_seam, 3, 3) == (3,)


def test_turned_round_the_seam_stays_at_the_left_edge_in_the_colour_of_column_1() -> None:
    text = COWL.replace("FLAT", "4\n    seam_stitches: 1").replace("8s 8b 8s", "2b 14s 8b")
    for mirror, runs in (("", [8, 14, 3]), ("mirror: true\n", [2, 14, 9])):
        piece = read(text.replace("rows:\n", f"{mirror}rows:\n", 1)).piece
        assert [run.columns for run in piece.fabric.rows[3].runs] == runs


def test_what_is_sewn_on_at_the_edge_is_found_again_when_it_is_written_into_the_plan(tmp_path: Path) -> None:
    text = COWL.replace("FLAT", "4\n    seam_stitches: 1").replace("8s 8b 8s", "22s 2b")
    path = tmp_path / "cowl.yaml"
    path.write_text(text, encoding="utf-8")
    piece = load(path).piece
    [area] = [one for one in areas(piece.fabric) if one.first == (3, 1)]
    use(path, sewn=[(area, "sand")])
    again = load(path).piece
    assert [run.columns for run in again.fabric.rows[3].runs] == [2, 23]


@pytest.mark.parametrize(
    ("text", "line", "what", "mend"),
    [
        (
            COWL.replace("FLAT", "4\n    seam_stitches: 3"), 11,
            '"seam_stitches" must be 1 or 2, and is "3".',
            "1: the seam lies half a stitch from each edge; 2: a whole stitch.",
        ),
        (
            COWL.replace("FLAT", "4\n    seam_stitches: 1\n    worked: round"), 9,
            'This section has "seam_stitches" and is worked round: rounds have no edges to sew up.',
            'Leave it out, or "worked: round".',
        ),
        (
            COWL.replace("FLAT", "4\n    seam_stitches: 1").replace("    worked: round\n", ""), 10,
            '"seam_stitches" is for flat sections of a tube, and no section of this plan is worked round.',
            'Write "worked: round" in its rounds; the side edges of a flat piece stand under "seams".',
        ),
        (
            COWL.replace("FLAT", "4\n    seam_stitches: 1\n    opening: {first: right, row: 3, at: 12}"), 11,
            '"seam_stitches" is for flat sections of a tube, and here the piece divides.',
            "Leave it out; where the section begins with rows of the tube, make those a section.",
        ),
        (
            COWL.replace("FLAT", "4\n    seam_stitches: 1").replace("8s 8b 8s", "8s 8b 7s ."), 9,
            'Row 1 of this section, counted from the bottom (row 4 of the piece), has ".", and the tube it is part '
            'of is sewn up with "seam_stitches".',
            'Draw stitches there, or leave "seam_stitches" out.',
        ),
        (
            COWL.replace("FLAT", "3\n    seam_stitches: 1"), 12,
            "Row 1 of this section, counted from the bottom (round 7 of the piece), is a round, and the flat rows "
            "below it end at the other edge.",
            "Make them even in number, so that they end where the round begins.",
        ),
    ],
)  # fmt: skip
def test_stitches_for_a_seam_that_cannot_be_are_one_problem(text: str, line: int, what: str, mend: str) -> None:
    with pytest.raises(Problems) as found:
        read(text)
    [problem] = found.value.problems
    assert (problem.line, problem.what, problem.mend) == (line, what, mend)


@pytest.mark.parametrize(
    ("chart", "stitches", "edge"),
    [("8b 15s 1b", 1, "right"), ("1b 15s 8b", 1, ""), ("8s 8b 8b", 1, "left"), ("8s 8b 8b", 2, "")],
)
def test_a_change_of_colour_at_the_seam_is_told(chart: str, stitches: int, edge: str) -> None:
    text = COWL.replace("FLAT", f"4\n    seam_stitches: {stitches}").replace("8s 8b 8s", chart)
    warnings = [one for one in read(text).warnings if "seam" in one.what]
    what = f"A change of colour lies within a stitch of the seam at the {edge} edge, in 4 rows, first in row 4."
    mend = (
        "Draw the first and the last two stitches of those rows in one colour, so that the seam runs between "
        "stitches of it."
    )
    assert [(one.line, one.what, one.mend) for one in warnings] == ([(11, what, mend)] if edge else [])


def test_what_is_neither_is_told() -> None:
    with pytest.raises(Problems) as found:
        read(COWL.replace("FLAT", "4").replace("worked: round", "worked: up", 1))
    assert '"worked" must be flat or round, and is "up".' in found.value.problems[0].what


def test_sides_by_counting() -> None:
    chart = drawn(*["s"] * 7)
    mixed = Chart(chart.grid, (False, False, True, False, False, False, True))
    assert [row.side for row in Rows(mixed.fabric())] == ["RS", "WS", "RS", "RS", "WS", "RS", "RS"]
    assert [mixed.side(row) for row in range(7)] == ["RS", "WS", "RS", "RS", "WS", "RS", "RS"]


def test_a_strand_goes_on_from_a_round_into_the_flat_row_that_begins_where_it_ends() -> None:
    """The last round ends beside its own beginning: common practice, no source."""
    text = COWL.replace("  - chart: 8s 8b 8s\n    repeat: FLAT\n", "  - plain: {rows: 4, stitches: 24, yarn: sand}\n")
    piece = read(text).piece
    assert plan_strands(piece.rows, piece.carry).strands.total.strands == 1
