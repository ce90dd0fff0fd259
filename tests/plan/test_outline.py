"""Shaped pieces: "." is no stitch, and an outline that no hands could work is told with its row."""

from __future__ import annotations

import pytest

from companion.plan.outline import for_hands, mirrored_trouble
from companion.plan.packed import pack, unpack
from companion.plan.read import load_text
from companion.problems import Problems

PENNANT = """\
plan: 1
title: Pennant
gauge: {stitches: 20, rows: 28}
yarns: {sand: {colour: tan}, brick: {colour: brown}}
symbols: {s: sand, b: brick}
rows:
  - plain: {rows: 2, stitches: 8, yarn: sand}
  - chart: |
CHART
"""


def plan(*lines: str) -> str:
    return PENNANT.replace("CHART", "\n".join(f"      {line}" for line in lines))


def told(*lines: str) -> tuple[str, str]:
    with pytest.raises(Problems) as found:
        load_text(plan(*lines), "pennant.yaml", {})
    [problem] = [one for one in found.value.problems if not one.is_warning]
    assert problem.line == 8
    return problem.what, problem.mend


def in_section(row: int) -> str:
    """A row of the chart, which begins on two plain rows."""
    return f"Row {row} of this section, counted from the bottom (row {row + 2} of the piece)"


def test_a_shaped_chart_is_read_as_its_outline() -> None:
    piece = load_text(plan("..ssbb..", ".sssbbb.", "2.3s1b2."), "pennant.yaml", {}).piece
    assert [row.stitches for row in piece.rows] == [8, 8, 4, 6, 4]
    assert [row.upto(4) for row in piece.rows] == [4, 4, 2, 3, 2]
    assert unpack(pack(piece)) == piece


def test_shaping_may_lie_some_stitches_in() -> None:
    text = plan(".ssssbb.").replace("rows:\n", "shaping: {at: 2}\nrows:\n")
    piece = load_text(text, "pennant.yaml", {}).piece
    assert piece.inward == piece.rows.inward == 2
    assert unpack(pack(piece)) == piece


@pytest.mark.parametrize(
    ("lines", "what", "mend"),
    [
        (("ssssssss", "........"), 'has no stitch, only ".".', "Draw at least one."),
        (
            ("sss..sss",),
            'has "." between its stitches.',
            'Edges are shaped, "." left or right of a row; where the piece divides, write opening: {first: right}.',
        ),
        ((".....sss", "sss....."), "lies wholly beside the row below it.", "Let them share at least one stitch."),
    ],
)
def test_rows_that_no_hands_could_work_are_told(lines: tuple[str, ...], what: str, mend: str) -> None:
    row = len(lines) if what.startswith("lies") else 1
    assert told(*lines) == (f"{in_section(row)}, {what}", mend)


def test_stitches_lost_at_a_rows_end_are_told_with_the_mend() -> None:
    """Row 3 of the piece is a right-side row, from the right: its end is at the left."""
    assert told("...sssss") == (
        f"{in_section(1)}, loses 3 stitches at its end, where none can be bound off.",
        "Take them away at the left edge one row later, where a row starts, or two in a row. Is the chart drawn for "
        "left hands? Then one row earlier: for them it goes a row later.",
    )
    load_text(plan("sssss..."), "pennant.yaml", {})


def test_what_is_drawn_for_left_hands_comes_out_as_drawn_once_it_is_drawn_a_row_earlier() -> None:
    """Left hands begin right-side rows at the left edge: three go there in row 5, where right hands bind off none."""
    as_meant = ("...sssss", "...sssss", "ssssssss", "ssssssss")
    assert told(*as_meant)[1].endswith("Then one row earlier: for them it goes a row later.")
    earlier = load_text(plan(*as_meant[:2], as_meant[0], as_meant[-1]), "pennant.yaml", {}).piece
    mirrored = for_hands(earlier, is_mirrored=True)
    assert [row.stitches for row in mirrored.rows] == [8, 8, 8, 8, 5, 5]


def test_where_left_hands_could_not_work_it_either_nothing_is_said_of_them() -> None:
    """Row 3 loses at both edges, and whoever begins it at one ends it at the other."""
    assert "left hands" not in told("...ss...")[1]


def test_what_is_made_and_lost_at_both_edges_must_not_meet() -> None:
    """Worked out by hand: of three stitches the middle one is left, and two decreases need four."""
    assert told(".s......", "sss.....", "ssssss..", "ssssssss") == (
        f"{in_section(4)}, is too narrow for what is made and lost at both its edges.",
        "Shape one of them a row later.",
    )


def test_rounds_have_no_edges_to_shape() -> None:
    text = plan(".ssssss.", "ssssssss") + "    worked: round\n"
    with pytest.raises(Problems) as found:
        load_text(text.replace("yarn: sand}", "yarn: sand}\n    worked: round"), "pennant.yaml", {})
    [problem] = [one for one in found.value.problems if not one.is_warning]
    assert problem.what == (
        "Row 2 of this section, counted from the bottom (round 4 of the piece), is a round, or lies on one, and does "
        "not have the same columns as the row below."
    )


def test_what_is_gone_for_one_row_at_the_end_of_a_mirrored_one_cannot_be_worked() -> None:
    """A mirrored knitter's right-side rows begin at the left edge and end where three stitches would go; a row later
    they are there again."""
    piece = load_text(plan("ssssssss", "sssss...", "ssssssss", "ssssssss"), "p.yaml", {}).piece
    trouble = mirrored_trouble(piece)
    assert trouble is not None
    assert for_hands(piece, is_mirrored=False) is piece, "right hands can"
    assert trouble.what == "Worked mirrored, row 5 loses 3 stitches at its end, where none can be bound off."
    assert mirrored_trouble(load_text(plan("sssss...", "ssssssss", "ssssssss"), "p.yaml", {}).piece) is None
    assert mirrored_trouble(load_text(plan(".ssssss.", "ssssssss"), "p.yaml", {}).piece) is None
