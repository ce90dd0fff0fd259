"""Words that divide a section, shape its two parts beside the opening and join them again: the stitches of every row
worked out by hand, and what is told of words that no hands could follow."""

from __future__ import annotations

import pytest

from companion.plan.shape import Outline, ShapeReader
from companion.plan.shape_parts import Below


def read(*lines: str, begins: int = 20, rows: int | None = None, below: Below | None = None) -> Outline:
    """The outline of lines above other rows, the first row a right-side row, in which nothing is amiss."""
    reader = ShapeReader(begins, is_first=False, is_right=True, rows=rows, parts=below)
    outline = reader.read(lines)
    assert [str(one.amiss) for one in reader.amiss] == []
    return outline


def picture(*lines: str, begins: int = 20, rows: int | None = None, below: Below | None = None) -> list[str]:
    """The rows from the bottom up as they lie seen from the right side, "-" where no stitch is."""
    outline = read(*lines, begins=begins, rows=rows, below=below)
    found = []
    for row in outline.rows:
        columns = {column for one in row.each for column in range(one.right, one.right + one.stitches)}
        found.append("".join("x" if at in columns else "-" for at in reversed(range(outline.wide))))
    return found


def amiss(*lines: str, rows: int | None = None, below: Below | None = None) -> tuple[int, int, str, str]:
    """The line, from 0, the offset in it, what is told there, and how to mend it."""
    reader = ShapeReader(20, is_first=False, is_right=True, rows=rows, parts=below)
    reader.read(lines)
    [one] = reader.amiss
    return one.line, one.amiss.at, one.amiss.what, one.amiss.mend


MIDDLE = "bind off the middle 8 sts"
DIVIDES = (
    "The row that divides the piece has the stitches of its part: beside the opening nothing comes or goes in it."
)


def test_a_neck_is_bound_off_and_then_rounded_in_both_parts() -> None:
    """Of 24 stitches 8 in the middle go, 8 are left for each part. Row 1 divides and is a right-side row. The right
    part's neck edge is its left one, where wrong-side rows begin: 3 off in row 2, 2 in row 4 and 1 decreased in rows
    5 and 6; the left part's neck edge is where right-side rows begin, so it binds off a row later, in rows 3 and 5,
    and decreases in rows 6 and 7: 8 - 3 - 2 - 2 = 1 stitch. The right part waits for it with row 7."""
    assert picture(
        "bind off the middle 8 sts",
        "Both parts: bind off 3 at the neck edge, then 2 sts at the neck edge of every other row once (3 sts each)",
        "dec 1 at the neck edge of the next 2 rows (1 st)",
        begins=24,
    ) == [
        "xxxxxxxx--------xxxxxxxx",
        "xxxxxxxx-----------xxxxx",
        "xxxxx--------------xxxxx",
        "xxxxx----------------xxx",
        "xxx-------------------xx",
        "xx---------------------x",
        "x----------------------x",
    ]


def test_what_is_bound_off_at_a_neck_is_told_by_each_part_as_its_hands_do_it() -> None:
    """Row 2 of the section divides and is a wrong-side row, which begins at the left: there the right part begins
    beside the opening and binds the middle off."""
    lines = (
        "work 1 row even",
        "Right part, on 13 sts:",
        "bind off 6 sts at the neck edge of the next row. (7 sts)",
        "Left part, on 7 sts:",
        "work 1 row even",
        "inc 1 st at the neck edge of the next row. (8 sts)",
    )
    assert picture(*lines) == [
        "xxxxxxxxxxxxxxxxxxxx", "xxxxxxx------xxxxxxx", "xxxxxxxx------------",
    ]  # fmt: skip


def test_the_outer_edge_is_the_armhole_and_the_inner_one_the_neck() -> None:
    names = ("outer", "outside", "armhole", "side"), ("neck", "inner", "inside", "front")
    for outer in names[0]:
        assert picture("Both parts:", f"dec 1 at the {outer} edge of the next 2 rows", begins=8) == [
            "-xxxxxx-", "--xxxx--",
        ]  # fmt: skip
    for inner in names[1]:
        lines = "Both parts:", "work 1 row even", f"dec 1 at {inner} edge of the next row"
        assert picture(*lines, begins=8) == ["xxxxxxxx", "xxx--xxx"]


def test_parts_are_joined_with_or_without_stitches_between_them() -> None:
    lines = "leave the middle 4 sts on a holder", "Both parts: work 2 rows even"
    for join in ("Both parts joined, on 20 sts, 4 of them cast on between them:", "join the parts",
                 "Join both parts, cast on 4 sts between them"):  # fmt: skip
        outline = read(*lines, join, "dec 1 at each end of the next row")
        assert [[(one.right, one.stitches) for one in row.each] for row in outline.rows] == [
            [(0, 8), (12, 8)], [(0, 8), (12, 8)], [(1, 18)],
        ]  # fmt: skip
        assert [one[:6] for one in outline.opened] == [(0, 8, 4, True, 4, True)]
        assert outline.opened[0].high == 2


def test_a_slit_has_no_stitches_in_its_middle() -> None:
    [one] = read("work 1 row even", "Right part, on 5 sts: work 1 row even. Left part: work 1 row even").opened
    assert (one.row, one.right, one.gap, one.is_seen, one.high) == (1, 5, 0, False, None)


def test_parts_that_lie_below_go_on_and_are_joined() -> None:
    """8 and 6 stitches of 20, 6 columns between them."""
    below = Below((0, 8), (14, 20), False)
    assert picture("Left part: bind off 2 at the outer edge", "Right part: work 1 row even", below=below) == [
        "xxxxxx------xxxxxxxx", "--xxxx--------------",
    ]  # fmt: skip
    assert picture("Both parts: work 1 row even", "join the parts", "work 1 row even", below=below) == [
        "xxxxxx------xxxxxxxx", "x" * 20,
    ]  # fmt: skip
    assert picture("both parts joined: work 1 row even", below=below) == ["x" * 20]


def test_a_part_that_is_bound_off_ends_below_the_other() -> None:
    lines = "Right part: work 1 row even. Bind off all sts.", "Left part: work 2 rows even. Cast off the rem 3 sts."
    assert picture(*lines, begins=6) == ["xxxxxx", "xxx---"]
    assert picture(*lines, begins=6, rows=4) == ["xxxxxx", "xxx---"]


def test_a_section_with_rows_of_its_own_has_them_in_both_parts() -> None:
    assert picture("Right part: work 1 row even", "Left part: work 2 rows even", begins=4, rows=3) == ["xxxx"] * 3


@pytest.mark.parametrize(
    ("lines", "line", "at", "what", "mend"),
    [
        (("dec 1 at the neck edge of the next row",), 0, 0, "Here the piece is whole, and has no neck edge.",
         'Say it below a line "Right part:", "Left part:" or "Both parts:".'),
        ((MIDDLE, "Both parts: dec 1 at the neck edge of every RS row twice"), 1, 12,
         DIVIDES,
         'Begin with "work 1 row even".'),
        ((MIDDLE, "Left part: bind off 2 at the neck edge of the next row"), 1, 11,
         DIVIDES,
         'Begin with "work 1 row even".'),
        ((MIDDLE, "Both parts: dec 1 at the beginning of the next row"), 1, 12,
         "Of two parts one has its neck edge where a row begins, and the other its outer edge.",
         'Write "at the neck edge" or "at the outer edge".'),
        ((MIDDLE, "Right part: work 1 row even", "bind off 2 at the outer edge of the next row"), 2, 0,
         "Row 2 of the section begins at the neck edge of the right part, and stitches are bound off where a row "
         "begins.",
         'Bind them off a row later, or write "at the beginning".'),
        ((MIDDLE, "Both parts, on 7 sts each:"), 1, 0,
         "Here the piece has 20 stitches, and these words tell of 7 and 7 and 8 in the middle.", "Mend the numbers."),
        (("Right part, on 7 sts: work 1 row even", "Left part, on 7 sts:"), 1, 0,
         "Here the piece has 20 stitches, and these words tell of 7 and 7.",
         'Say before the parts what becomes of the others: "bind off the middle 6 sts", or "leave the middle 6 sts '
         'on a holder".'),
        (("bind off the middle 7 sts", "Both parts:"), 1, 0, "13 stitches make no two parts of one size.",
         'Such as "Right part, on 6 sts:", "Left part, on 7 sts:".'),
        (("bind off the middle 19 sts",), 0, 0, "Here are 20 stitches, and 19 in the middle leave no two parts.",
         "Mend the number."),
        ((MIDDLE, "work 1 row even"), 1, 0,
         "Here the piece divides, and it is not said which of them these words tell of.",
         'Write "Right part:", "Left part:" or "Both parts:" before.'),
        ((MIDDLE,), 0, 0, "Here the piece divides, and it is not said which of them these words tell of.",
         'Write "Right part:", "Left part:" or "Both parts:" before.'),
        ((MIDDLE, "Left part: work 1 row even"), 0, 0, "Nothing is told of the right part.",
         'Add "Right part:" and its rows.'),
        ((MIDDLE, "Right part: work 1 row even"), 0, 0, "Nothing is told of the left part.",
         'Add "Left part:" and its rows.'),
        ((MIDDLE, "Right part: work 1 row even (6 sts)", "Right part, on 5 sts:"), 2, 0,
         "The right part has 6 stitches here, and this line says 5.", "Mend the number, or leave it out."),
        ((MIDDLE, "Both parts: work 1 row even (7 sts)"), 1, 28,
         "Here are 6 stitches in the right part, and this line says 7.", "Mend the words before it, or the number."),
        ((MIDDLE, "Right part: work 1 row even", "Left part: work 2 rows even", "join the parts"), 3, 0,
         "Here the parts are joined, and the right one is 1 row high, the left one 2.",
         "Work rows even on the lower one."),
        ((MIDDLE, "Both parts: work 1 row even", "join the parts, on 19 sts"), 2, 0,
         "Joined, the parts have 20 stitches, and this line says 19.", "Mend the number, or leave it out."),
        ((MIDDLE, "Both parts: work 1 row even", "join the parts, casting on 6 between them"), 2, 0,
         "Between the parts lie 8 columns, and this line casts on 6.", "Mend the number, or leave it out."),
        ((MIDDLE, "Right part: work 1 row even", "join the parts"), 2, 0,
         "Both parts are to be joined, and not both are told of.", "Tell of both before it."),
        (("join the parts",), 0, 0, "Here the piece is whole, and no parts are joined.", "Leave it out."),
        ((MIDDLE, MIDDLE), 1, 0, "The piece is divided already.", "Leave it out."),
        ((MIDDLE, "Right part: work 1 row even", "inc 1 at the neck edge of the next 8 rows",
          "Left part: work 9 rows even"), 3, 11, "In row 9 of the section the parts meet.",
         'Let one have fewer stitches, or write "join the parts".'),
        (("Left part: work 1 row even. Bind off all sts.", "Right part: work 1 row even",
          "cast on 2 at the neck edge of the next row"), 2, 0, "In row 2 of the section the parts meet.",
         'Let one have fewer stitches, or write "join the parts".'),
        (("Right part: work 1 row even. Bind off all sts.", "Left part: work 1 row even",
          "cast on 2 at the neck edge of the next row"), 2, 0, "In row 2 of the section the parts meet.",
         'Let one have fewer stitches, or write "join the parts".'),
        ((MIDDLE, "Both parts: work 1 row even. Bind off all sts.", "work 1 row even"), 2, 0,
         "All of the right part is bound off above.", "Leave these words out."),
        ((MIDDLE, "Both parts: work 1 row even. Bind off all 5 sts."), 1, 29,
         "Here are 6 stitches in the right part, and this line says 5.", "Mend the words before it, or the number."),
        ((MIDDLE, "Both parts: work 1 row even. Bind off all sts.", "join the parts"), 2, 0,
         "All of the right part is bound off, and the parts are joined.", "Leave one of them out."),
        ((MIDDLE, "Right shoulder: work 1 row even"), 1, 0,
         '"Right shoulder" may be so called as it is worn, or as seen from the right side.',
         'Write "Right part:" or "Left part:", as seen from the right side.'),
        ((MIDDLE, "Upper part: work 1 row even"), 1, 0, '"Upper" is not understood here.', 'Did you mean "outer"?'),
        ((MIDDLE, "Left part: inc 1 at the neck edge of the next row"), 1, 11, DIVIDES,
         'Begin with "work 1 row even".'),
        (("bind off 3 at beg of next row. 2 sts at the left edge of the next row",), 0, 31,
         '"2 sts at the left edge of the next row" is not understood here.',
         'Such as "bind off 3 at the beginning of the next 2 rows", "dec 1 at each end of every RS row 3 times".'),
        (("bind off 3 at beg of next row; 2 sts at the left edge of the next row",), 0, 31,
         '"2 sts at the left edge of the next row" is not understood here.',
         'Such as "bind off 3 at the beginning of the next 2 rows", "dec 1 at each end of every RS row 3 times".'),
        (("2 sts at the left edge of the next row",), 0, 0,
         '"2 sts at the left edge of the next row" is not understood here.',
         'Such as "bind off 3 at the beginning of the next 2 rows", "dec 1 at each end of every RS row 3 times".'),
    ],
)  # fmt: skip
def test_what_nobody_can_follow_is_told_at_its_word(
    lines: tuple[str, ...], line: int, at: int, what: str, mend: str
) -> None:
    assert amiss(*lines) == (line, at, what, mend)


def test_above_two_parts_it_must_be_said_which_is_meant_and_how_high_a_slit_is_is_not_told_twice() -> None:
    two = Below((0, 8), (14, 20), False)
    told = "Two parts lie below, and it is not said which of them these words tell of."
    assert amiss("work 1 row even", below=two)[2] == told
    assert amiss("Right part: work 1 row even", below=two)[2] == "Nothing is told of the left part."
    slit = Below((0, 10), (10, 20), True)
    assert amiss("join the parts", below=slit) == (
        0, 0, "The parts below lie side by side, and how high they are is told there.",
        "Join them in the section that divides.",
    )  # fmt: skip


def test_what_lies_behind_a_line_is_kept_of_each_part_it_tells_of() -> None:
    reader = ShapeReader(20, is_first=False, is_right=True)
    reader.read(["work 2 rows even", MIDDLE, "Both parts: work 1 row even", "bind off 2 at the neck edge"])
    assert reader.after == [
        (("", 2, 20),), (("", 2, 12),), (("right", 3, 6), ("left", 3, 6)), (("right", 4, 4), ("left", 5, 4)),
    ]  # fmt: skip


def test_what_is_bound_off_at_an_edge_is_bound_off_in_the_first_row_that_begins_there() -> None:
    """Row 1, a right-side row, begins at the right edge, and row 2 at the left one."""
    assert picture("bind off 3 at the left edge; bind off 3 at the right edge", begins=10) == [
        "xxxxxxxxxx", "---xxxxxxx", "---xxxx---",
    ]  # fmt: skip
