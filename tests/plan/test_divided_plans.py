"""Pieces that divide, as a plan says it: where, which part first, what becomes of the middle."""

from __future__ import annotations

from collections.abc import Sequence

import pytest

from companion.knitting.piece import Piece
from companion.plan.packed import pack, unpack
from companion.plan.read import load_text
from companion.problems import Problems

FRONT = """\
plan: 1
title: Ferry jumper front
gauge: {stitches: 20, rows: 28}
yarns: {sand: {colour: tan}, tide: {colour: navy}}
symbols: {s: sand, t: tide}
rows:
  - plain: {rows: 2, stitches: 8, yarn: sand}
  - opening: {OPENING}
    chart: |
CHART
"""

NECK = ("ss......", "ss....ss", "sst..tss", "sttttsss")


def plan(opening: str, *lines: str, more: str = "") -> str:
    drawn = "\n".join(f"      {line}" for line in lines)
    return FRONT.replace("OPENING", opening).replace("CHART", drawn) + more


def piece(opening: str, *lines: str, more: str = "") -> Piece:
    return load_text(plan(opening, *lines, more=more), "front.yaml", {}).piece


def told(opening: str, *lines: str, more: str = "") -> tuple[int, str, str]:
    with pytest.raises(Problems) as found:
        piece(opening, *lines, more=more)
    [problem] = [one for one in found.value.problems if not one.is_warning]
    return problem.line, problem.what, problem.mend


def keys(one: Piece) -> list[tuple[str, int, int]]:
    return [(row.part, row.number, row.stitches) for row in one.rows]


def test_it_divides_in_the_first_row_with_a_gap_and_the_part_named_is_worked_first() -> None:
    whole = [("", 1, 8), ("", 2, 8), ("", 3, 8)]
    right, left = [("right", 1, 3), ("right", 2, 2)], [("left", 1, 3), ("left", 2, 2), ("left", 3, 2)]
    assert keys(piece("first: right", *NECK)) == [*whole, *right, *left]
    assert keys(piece("first: left", *NECK)) == [*whole, *left, *right]


def test_without_a_gap_the_plan_says_after_which_stitch_and_from_which_row() -> None:
    slit = piece("first: left, at: 3, row: 2", "ssssssss", "ssssssss", "ssssssss")
    assert keys(slit) == [
        ("", 1, 8), ("", 2, 8), ("", 3, 8), ("left", 1, 5), ("left", 2, 5), ("right", 1, 3), ("right", 2, 3),
    ]  # fmt: skip
    assert slit.fabric.picture[3].stitches == 8


def test_sections_above_belong_to_the_parts_too() -> None:
    more = "  - plain: {rows: 2, stitches: 8, yarn: tide}\n"
    slit = piece("first: right, at: 3", "ssssssss", more=more)
    assert keys(slit) == [
        ("", 1, 8), ("", 2, 8), ("right", 1, 3), ("right", 2, 3), ("right", 3, 3),
        ("left", 1, 5), ("left", 2, 5), ("left", 3, 5),
    ]  # fmt: skip


def test_turned_round_left_is_right() -> None:
    turned = load_text(plan("first: right", *NECK).replace("title:", "mirror: true\ntitle:"), "f.yaml", {}).piece
    assert [(part, n) for part, n, _ in keys(turned)[3:5]] == [("left", 1), ("left", 2)]
    assert [(part, n) for part, n, _ in keys(turned)[5:]] == [("right", 1), ("right", 2), ("right", 3)]


def test_turned_round_its_seams_are_too() -> None:
    text = plan("first: right", *NECK).replace("title:", "seams: {left: 1}\nmirror: true\ntitle:")
    assert load_text(text, "f.yaml", {}).piece.seams == (None, 1)


def test_a_divided_piece_is_packed_and_unpacked_without_loss() -> None:
    held = piece("first: right, middle: held", *NECK)
    assert held.fabric.held == {0}
    assert unpack(pack(held)) == held
    worn = load_text(plan("first: right", *NECK).replace("title:", "worn: back\ntitle:"), "f.yaml", {}).piece
    assert (worn.worn, unpack(pack(worn))) == ("back", worn)


GROWN = ("sss...ss", "ss....ss", "ss....ss", "ssssssss", "ssssssss")


@pytest.mark.parametrize("lines", [GROWN, [line[::-1] for line in GROWN]])
def test_either_part_may_grow_into_the_gap(lines: Sequence[str]) -> None:
    """Its edge goes out while the other part stands or comes in, as long as "." is drawn between them."""
    for order in (("right", "left"), ("left", "right")):
        grown = piece(f"first: {order[0]}", *lines)
        wide = "left" if lines[0].startswith("sss") else "right"
        assert keys(grown)[4:] == [(part, n, 2 + (part == wide and n == 3)) for part in order for n in (1, 2, 3)]
        assert [row.stitches for row in grown.fabric.picture[4:]] == [4, 4, 5]


def test_the_gap_may_go_to_and_fro_between_them() -> None:
    moved = piece("first: right", "s.ssssss", "sss.ssss", "sssss.ss", "ss....ss")
    assert [stitches for _, _, stitches in keys(moved)] == [8, 8, *(2, 2, 4, 6), *(2, 5, 3, 1)]


SAY = 'Say where: "at" is the number of stitches to the right of it.'


@pytest.mark.parametrize(
    ("opening", "lines", "more", "problem"),
    [
        (
            "first: right", ("ssssssss",), "",
            (8, 'The section has an opening, and no row of it has "." between its stitches.', SAY),
        ),
        (
            "first: right, at: 8", ("ssssssss",), "",
            (8, "The opening lies 8 stitches from the right, and the row has 8.", SAY),
        ),
        (
            "first: right, at: 3, row: 2", ("ssssssss",), "",
            (8, "The opening begins in row 2 of the section, which has 1.", SAY),
        ),
        (
            "first: right", ("ss..ssss", "ss......", "ss..ssss"), "",
            (8, 'The right part has stitches above a row in which it has only ".".', "Draw it without a break."),
        ),
        (
            "first: right", NECK,
            "  - plain: {rows: 2, stitches: 8, yarn: sand}\n    opening: {first: left, at: 2}\n",
            (15, "A piece divides once, and a section below has an opening too.", ""),
        ),
        (
            "first: right, at: 3", ("ssssssss",),
            "  - plain: {rows: 2, stitches: 8, yarn: sand}\n    worked: round\n",
            (8, "The rows of a part are worked flat, and a section above the opening is worked round.", ""),
        ),
        (
            "first: right", ("ssssssss", "ss..ssss", "ssssssss"), "",
            (
                8, 'Row 5 of the piece has no "." between the parts, and parts are not joined again.',
                'Draw "." between them, or say with "at" where a slit without a gap lies.',
            ),
        ),
        (
            "first: right, row: 2", ("ss..ssss", "ssssssss"), "",
            (
                8, '"opening" has "row" and no "at"; without it the opening begins in the first row with '
                '"." between.', "",
            ),
        ),
        (
            "first: upper", NECK, "",
            (8, '"first" must be left or right, as seen from the right side, and is "upper".', ""),
        ),
        (
            "first: left, middle: lost", NECK, "",
            (8, '"middle" must be "bound off" or "held", and is "lost".', ""),
        ),
    ],
)  # fmt: skip
def test_what_is_amiss_is_told_at_the_opening(
    opening: str, lines: tuple[str, ...], more: str, problem: tuple[int, str, str]
) -> None:
    assert told(opening, *lines, more=more) == problem


def test_directly_above_a_round_nothing_divides() -> None:
    text = plan("first: right", *NECK[:3]).replace("yarn: sand}\n", "yarn: sand}\n    worked: round\n", 1)
    with pytest.raises(Problems) as found:
        load_text(text, "front.yaml", {})
    [problem] = [one for one in found.value.problems if not one.is_warning]
    assert (problem.line, problem.what) == (
        9, "The row below the opening is a round, and the rows of its parts go to and fro."
    )  # fmt: skip


def test_a_part_is_shaped_at_its_own_edges() -> None:
    with pytest.raises(Problems) as found:
        piece("first: right", "ss..s...", "ss..ssss")
    [problem] = [one for one in found.value.problems if not one.is_warning]
    assert (problem.line, problem.what) == (
        8,
        "Row 2 of this section, counted from the bottom (row 2 of the right part), loses 3 stitches at its end, "
        "where none can be bound off.",
    )
