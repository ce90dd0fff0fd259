"""Sections that words divide and join again, laid over what is drawn: the fabric drawn by hand, row by row."""

from __future__ import annotations

import pytest

from companion.knitting.cloth.fabric import cells
from companion.knitting.cloth.outlines import openings
from companion.plan.read import Loaded
from companion.problems import Problem
from tests.plan.plans import HEAD, problems_of, read

ROWS = HEAD + "rows:\n"

BELOW = "  - plain: {rows: 2, stitches: 9, yarn: brick}\n"


def piece(sections: str) -> Loaded:
    return read(ROWS + BELOW + sections)


def amiss(sections: str) -> list[Problem]:
    """What is told of sections that cannot be read; no warnings."""
    return [one for one in problems_of(ROWS + BELOW + sections) if not one.is_warning]


def outline(sections: str) -> list[str]:
    """The picture as it looks from the right side above the two rows that lie below, the top row first."""
    loaded = piece(sections)
    symbols = {yarn.name: yarn.symbol for yarn in loaded.piece.yarns}
    rows = [[symbols[cell.yarn] if cell else "." for cell in cells(row)] for row in loaded.piece.fabric.picture]
    return ["".join(reversed(row)) for row in reversed(rows[2:])]


NECK = (
    "  - plain: {yarn: sand}\n"
    "    opening: {first: left}\n"
    "    shape:\n"
    "      - work 1 row even\n"
    "      - bind off the middle 3 sts\n"
    "      - Both parts: work 1 row even (3 sts)\n"
    "      - dec 1 at the neck edge of the next 2 rows (1 st)\n"
)


def test_a_neck_is_shaped_in_the_section_that_divides() -> None:
    assert outline(NECK) == ["s.......s", "ss.....ss", "sss...sss", "sssssssss"]
    loaded = piece(NECK)
    assert [(row.part, row.number, row.stitches) for row in loaded.piece.rows][3:] == [
        ("left", 1, 3), ("left", 2, 2), ("left", 3, 1), ("right", 1, 3), ("right", 2, 2), ("right", 3, 1),
    ]  # fmt: skip
    [opening] = openings(loaded.piece.rows)
    assert (opening.middle, opening.binds_off) == (3, 6)  # the right part begins beside it: row 4 is a wrong-side row


def test_lines_may_stand_below_the_one_that_says_of_which_part_they_tell() -> None:
    """"Right part:" in a list is a key to YAML, with lines below it or behind it."""
    lines = (
        "      - Right part, on 3 sts:\n          - work 1 row even\n"
        "          - dec 1 at the neck edge of next 2 rows\n"
        "      - Left part:\n      - work 1 row even\n      - dec 1 at the neck edge of next 2 rows (1 st)\n"
    )
    assert outline(NECK[:NECK.index("      - Both")] + lines) == outline(NECK)
    wrong = lines.replace("next 2 rows\n", "next 2 rows (2 sts)\n", 1)
    [told] = amiss(NECK[:NECK.index("      - Both")] + wrong)
    assert (told.line, told.column, told.what) == (19, 51, "Here is 1 stitch, and this line says 2.")


def test_a_middle_that_words_leave_on_a_holder_is_held() -> None:
    loaded = piece(NECK.replace("bind off the middle 3 sts", "leave the middle 3 sts on a holder"))
    [opening] = openings(loaded.piece.rows)
    assert (opening.middle, opening.binds_off) == (3, None)


def test_what_is_drawn_lies_in_both_parts_and_nothing_between_them() -> None:
    drawn = "  - chart: |\n" + "      sbsbsbsbs\n" * 4
    assert outline(NECK.replace("  - plain: {yarn: sand}\n", drawn)) == [
        "s.......s", "sb.....bs", "sbs...sbs", "sbsbsbsbs",
    ]  # fmt: skip


def test_a_hole_in_what_is_drawn_is_told_within_either_part_and_not_between_them() -> None:
    lines = ("s........", "ss....sss", "sss...sss", "sssssssss")
    drawn = "  - chart: |\n" + "".join(f"      {line}\n" for line in lines)
    [told] = amiss(NECK.replace("  - plain: {yarn: sand}\n", drawn))
    assert told.what.startswith('Row 4 of this section, counted from the bottom, has "." in column 1 from the right')


def test_a_section_above_goes_on_with_both_parts() -> None:
    above = "  - plain: {yarn: brick}\n    shape: 'Both parts: inc 1 at the outer edge of the next row'\n"
    assert outline(NECK + above)[0] == "bb.......bb"


def test_a_drawn_neck_is_shaped_on_in_words_above() -> None:
    drawn = "  - opening: {first: right}\n    chart: |\n      sss...sss\n      sss...sss\n"
    above = "  - plain: {yarn: brick}\n    shape: 'Both parts: dec 1 at the neck edge of every row twice'\n"
    assert outline(drawn + above) == ["b.......b", "bb.....bb", "sss...sss", "sss...sss"]
    joined = "  - plain: {yarn: brick}\n    shape: [join the parts, work 1 row even, dec 1 each end of next row]\n"
    assert outline(drawn + joined) == [".bbbbbbb.", "bbbbbbbbb", "sss...sss", "sss...sss"]


@pytest.mark.parametrize("middle", ["", "bind off the middle 1 st, "])
def test_parts_are_joined_in_the_section_that_divides_or_in_plain_rows_above(middle: str) -> None:
    on = "" if middle else ", on 4 sts"
    words = f"work 1 row even. {middle}Right part{on}: work 2 rows even. Left part: work 2 rows even. "
    within = "  - plain: {yarn: sand}\n    opening: {first: right}\n    shape: '" + words
    rows = piece(within + "Join the parts, work 1 row even'\n").piece.rows
    assert [(row.part, row.stitches) for row in rows][2:] == [
        ("", 9), ("right", 4), ("right", 4), ("left", 5 - bool(middle)), ("left", 5 - bool(middle)), ("", 9),
    ]  # fmt: skip
    above = piece(within + "'\n  - plain: {rows: 1, yarn: brick}\n").piece.rows
    joined = [row.part for row in above][-1] == ""
    assert joined == bool(middle)  # parts that lie side by side go on to the top


def test_above_parts_that_are_joined_again_edges_are_shaped() -> None:
    slit = "  - plain: {rows: 4, yarn: sand}\n    opening: {first: right, at: 4, rows: 2}\n"
    above = "  - plain: {yarn: brick}\n    shape: dec 1 at each end of the next row\n"
    assert outline(slit + above)[0] == ".bbbbbbb."


def test_rows_of_a_slit_are_counted_on_through_sections_until_its_parts_are_joined() -> None:
    above = "  - plain: {yarn: brick}\n    shape: dec 1 at each end of the next row\n"
    even = "  - plain: {rows: 1, yarn: sand}\n"
    slit = "  - plain: {rows: 3, yarn: sand}\n    opening: {first: right, at: 4, row: 3, rows: 2}\n"
    assert [one.what for one in amiss(slit + above)] == [
        "Two parts lie below side by side, and edges above are not shaped in words.",
    ]  # fmt: skip
    assert outline(slit + even * 2 + above)[0] == ".bbbbbbb."


def test_parts_that_lie_side_by_side_are_shaped_on_above() -> None:
    slit = (
        "  - plain: {yarn: sand}\n    opening: {first: right}\n"
        "    shape: 'Right part, on 4 sts: work 2 rows even. Left part: work 2 rows even'\n"
    )
    above = "  - plain: {yarn: brick}\n    shape: 'Both parts: dec 1 at the neck edge of the next row'\n"
    assert outline(slit + above)[0] == "bbbb..bbb"


def test_what_cannot_be_worked_in_a_part_is_told_at_its_own_words() -> None:
    """Row 3 of the left part would have 1 of 2 stitches, with 1 decreased at either edge."""
    [told] = amiss(
        "  - plain: {yarn: sand}\n    opening: {first: right}\n    shape: |\n"
        "      Right part, on 6 sts: work 3 rows even\n      Left part, on 3 sts: work 2 rows even\n"
        "      dec 1 at each end of the next row\n"
    )
    assert (told.line, told.column) == (17, 7)
    assert "is too narrow for what is made and lost at both its edges" in told.what
