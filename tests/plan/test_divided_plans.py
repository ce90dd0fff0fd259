"""Pieces that divide, as a plan says it: where, which part first, what becomes of the middle."""

from __future__ import annotations

from collections.abc import Sequence

import pytest

from companion.knitting.cloth.shaping import shapings
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
            "first: right, at: 3", ("ssssssss",),
            "  - plain: {rows: 2, stitches: 8, yarn: sand}\n    opening: {first: left, at: 2}\n",
            (
                12, "The parts of the opening below are not joined again, and a part does not divide.",
                'Join them first: draw a row with no "." between them, or say with "rows" how high that one is.',
            ),
        ),
        (
            "first: right, at: 3", ("ssssssss",),
            "  - plain: {rows: 2, stitches: 8, yarn: sand}\n    worked: round\n",
            (8, "The rows of a part are worked flat, and a section above the opening is worked round.", ""),
        ),
        (
            "first: right, rows: 2", ("ss..ssss", "ss..ssss", "ss..ssss"), "",
            (
                8, 'Row 5 of the piece is to join the parts, and has "." between them.',
                'Mend "rows", or leave it out.',
            ),
        ),
        (
            "first: right, at: 2, rows: 1", ("ssssssss",), "",
            (
                8, "The opening is 1 row high, and of the piece 0 lie above its first row.",
                'Without "rows" it is open to the top.',
            ),
        ),
        (
            "first: right, at: 2, rows: 3", ("ssssssss", "ssssssss", "ssssssss"), "",
            (
                8, "The opening is 3 rows high, and of the piece 2 lie above its first row.",
                'Without "rows" it is open to the top.',
            ),
        ),
        (
            "first: right, rows: 2", ("ssssssss", "ss......", "ss..ssss"), "",
            (
                8, "Row 5 of the piece joins the parts, and the right part ends below it.",
                "Draw both up to the row below it.",
            ),
        ),
        (
            "first: right", ("ss..ssss",),
            "  - plain: {rows: 2, stitches: 8, yarn: sand}\n    worked: round\n",
            (
                8, "Row 4 of the piece joins the parts, and is a round.",
                "Work at least one flat row above the opening.",
            ),
        ),
        (
            "first: right, at: 3, rows: 1", ("ssssssss",),
            "  - plain: {rows: 4, stitches: 8, yarn: sand}\n    opening: {first: left, at: 2}\n",
            (
                12, "Row 4 of the piece lies in an opening, and joins the parts of the one below it.",
                "Work at least one row between two openings.",
            ),
        ),
        (
            "first: right, at: 3, rows: 9", ("ssssssss",),
            "  - plain: {rows: 14, stitches: 8, yarn: sand}\n    opening: {first: left, at: 2, row: 3}\n",
            (
                12, "Row 6 of the piece lies in an opening, and joins the parts of the one below it.",
                "Work at least one row between two openings.",
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


def test_a_slit_that_is_drawn_is_joined_by_the_first_row_without_a_gap() -> None:
    """Row 3 and 4 are open; the rows of the whole piece keep the numbers of their height."""
    slit = piece("first: left", "ssssssss", "ssss.sss", "sss..sss")
    assert keys(slit) == [
        ("", 1, 8), ("", 2, 8), ("left", 1, 3), ("left", 2, 4), ("right", 1, 3), ("right", 2, 3), ("", 5, 8),
    ]  # fmt: skip
    rows = slit.rows
    assert [rows.before(at) for at in range(7)] == [(), (0,), (1,), (2,), (1,), (4,), (3, 5)]
    assert [rows.following(at) for at in range(7)] == [(1,), (2, 4), (3,), (6,), (5,), (6,), ()]
    assert [rows.at(row.key) for row in rows] == list(range(7))
    assert [row.side for row in rows] == ["RS", "WS", "RS", "WS", "RS", "WS", "RS"]
    assert [row.after for row in rows][-1] == (("left", 2), ("right", 2))
    assert [len(level) for level in slit.fabric.levels] == [1, 1, 2, 2, 1]


def test_a_slit_without_a_gap_is_as_high_as_the_plan_says() -> None:
    slit = piece("first: right, at: 3, row: 2, rows: 2", *["ssssssss"] * 5)
    assert keys(slit) == [
        ("", 1, 8), ("", 2, 8), ("", 3, 8), ("right", 1, 3), ("right", 2, 3), ("left", 1, 5), ("left", 2, 5),
        ("", 6, 8), ("", 7, 8),
    ]  # fmt: skip


def test_a_section_above_joins_the_parts_and_the_piece_divides_again() -> None:
    more = (
        "  - plain: {rows: 2, stitches: 8, yarn: sand}\n"
        "  - chart: |\n      sss..sss\n    opening: {first: left, middle: held}\n"
    )
    twice = piece("first: right", "ss....ss", more=more)
    assert keys(twice)[2:] == [
        ("right", 1, 2), ("left", 1, 2), ("", 4, 8), ("", 5, 8), ("left", 2, 3), ("right", 2, 3)
    ]  # fmt: skip
    assert twice.fabric.held == {1}
    assert unpack(pack(twice)) == twice
    assert [twice.rows.at(row.key) for row in twice.rows] == list(range(8))


def test_an_opening_holds_for_every_slit_that_is_drawn_in_its_section() -> None:
    slits = piece("first: left", "sss..sss", "ssssssss", "sss.ssss", "ssssssss", "ss....ss")
    assert [(part, number) for part, number, _ in keys(slits)[2:]] == [
        ("left", 1), ("right", 1), ("", 4), ("left", 2), ("right", 2), ("", 6), ("left", 3), ("right", 3)
    ]  # fmt: skip


def test_what_lies_between_the_parts_is_cast_on_where_the_row_comes_to_it() -> None:
    """A buttonhole: four stitches bound off, and four cast on in the row above, in tide and sand as they are drawn;
    the wrong-side row comes to the tide first."""
    hole = piece("first: right", "ssttssss", "ss....ss")
    row = hole.rows[4]
    assert (row.base, row.inner) == (None, (2, 6))
    assert [(one.how, one.stitches, one.segment, one.after) for one in shapings(hole.rows, 4)] == [
        ("loops", 2, 1, 0), ("loops", 2, 2, 0)
    ]  # fmt: skip
    assert [row.reached(gap) for gap in range(9)] == [0, 1, 2, 2, 2, 2, 2, 3, 4]


def test_where_stitches_are_cast_on_between_parts_the_outer_edges_are_not_shaped() -> None:
    assert told("first: right", ".sssssss", "ss....ss")[1] == (
        "Row 2 of this section, counted from the bottom (row 4 of the piece), joins two parts with stitches between "
        "them, and is shaped at an edge, too."
    )


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
