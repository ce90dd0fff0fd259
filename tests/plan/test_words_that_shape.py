"""Words that shape a section, read: how many stitches every row has, on which side they came or went, and what is
told of words that no hands could follow."""

from __future__ import annotations

import pytest

from companion.plan.shape import Outline, ShapeReader


def read(
    *lines: str, begins: int = 20, rows: int | None = None, is_first: bool = False, is_right: bool = True
) -> Outline:
    """The outline of lines in which nothing is amiss."""
    reader = ShapeReader(begins, is_first=is_first, is_right=is_right, rows=rows)
    outline = reader.read(lines)
    assert [str(one.amiss) for one in reader.amiss] == []
    return outline


def counts(*lines: str, begins: int = 20, is_right: bool = True) -> list[int]:
    """The stitches of every row."""
    return [row.stitches for row in read(*lines, begins=begins, is_right=is_right).rows]


def amiss(*lines: str, rows: int | None = None, is_first: bool = False) -> tuple[int, int, str, str]:
    """The line, from 0, the offset in it, what is told there, and how to mend it."""
    reader = ShapeReader(20, is_first=is_first, is_right=True, rows=rows)
    reader.read(lines)
    [one] = reader.amiss
    return one.line, one.amiss.at, one.amiss.what, one.amiss.mend


@pytest.mark.parametrize(
    ("line", "wanted"),
    [
        ("bind off 3 at the beginning of the next 2 rows", [17, 14]),
        ("cast off 3 sts at start of next 2 rows", [17, 14]),
        ("dec 1 each end every RS row 3 times", [18, 18, 16, 16, 14]),
        ("dec 1 st at each end of every WS row twice", [20, 18, 18, 16]),
        ("work 4 rows even", [20] * 4),
        ("Work straight for 4 rows.", [20] * 4),
        ("cont without shaping for three rows", [20] * 3),
        ("work next row straight", [20]),
        ("inc 1 each end of every 4th row 2 times", [20, 20, 20, 22, 22, 22, 22, 24]),
        ("inc 1 st each end of every fourth row twice", [20, 20, 20, 22, 22, 22, 22, 24]),
        ("cast on 2 at the beginning of the next 4 rows", [22, 24, 26, 28]),
        ("cast on 5 sts at the end of the next row", [25]),
        ("dec 2 at the end of every other row 3 times", [20, 18, 18, 16, 16, 14]),
        ("decrease one stitch at both edges of alternate rows twice", [20, 18, 18, 16]),
        ("dec 1 each end of next row and 2 foll alt rows", [18, 18, 16, 16, 14]),
        ("dec 1 each end of next and foll 2 alt rows", [18, 18, 16, 16, 14]),
        ("dec 1 st each end of foll alt row", [20, 18]),
        ("dec 1 at each end of the next row, then every 3rd row 2 times", [18, 18, 18, 16, 16, 16, 14]),
        ("dec 1 each end of every 2nd row 2 times, then every row 2 times", [20, 18, 18, 16, 14, 12]),
        ("dec 1 each end of every row until 14 sts remain", [18, 16, 14]),
        ("inc 1 each end of next and every foll alt row to 26 sts", [22, 22, 24, 24, 26]),
        ("dec 1 each end of every other RS row x 2", [20, 20, 18, 18, 18, 18, 16]),
        ("bind off 4 at the beginning and inc 1 at the end of the next row", [17]),
        ("Dec 1 each end of the next row. Work 1 row even; dec 1 each end of next row (16 sts)", [18, 18, 16]),
    ],
)  # fmt: skip
def test_each_way_of_saying_it_gives_its_rows(line: str, wanted: list[int]) -> None:
    assert counts(line) == wanted


def test_every_right_side_row_is_counted_from_the_first_that_comes() -> None:
    """After a right-side row a wrong-side row comes, in which nothing is done."""
    assert counts("dec 1 each end of every RS row twice", is_right=False) == [20, 18, 18, 16]
    assert counts("work 1 row even", "dec 1 each end of every RS row twice") == [20, 20, 18, 18, 16]


def test_the_beginning_of_a_row_is_at_the_right_edge_on_right_side_rows() -> None:
    outline = read("bind off 3 at the beginning of the next row", "bind off 5 at beg of next row")
    assert [(row.right, row.stitches) for row in outline.rows] == [(3, 17), (3, 12)]
    turned = read("bind off 3 at the beginning of the next row", "bind off 5 at beg of next row", is_right=False)
    assert [(row.right, row.stitches) for row in turned.rows] == [(0, 17), (5, 12)]


def test_the_edges_are_as_seen_from_the_right_side_in_every_row() -> None:
    outline = read("inc 1 at the left edge of every row 2 times", "dec 1 at the right edge of the next 2 rows")
    assert [(row.right, row.stitches) for row in outline.rows] == [(0, 21), (0, 22), (1, 21), (2, 20)]


def test_an_outline_is_as_wide_as_all_that_it_takes_up_and_what_it_begins_with() -> None:
    wider = read("inc 1 each end of the next 2 rows", "dec 1 each end of the next 2 rows")
    assert (wider.wide, wider.base, wider.begins) == (24, 2, 20)
    assert [row.right for row in wider.rows] == [1, 0, 1, 2]
    narrower = read("bind off 4 at the beginning of the next 2 rows")
    assert (narrower.wide, narrower.base) == (20, 0)
    aslant = read("dec 1 at the right edge of the next 3 rows", "inc 1 at the left edge of the next 3 rows")
    assert (aslant.wide, aslant.base, aslant.rows[-1].right) == (23, 0, 3)


def test_rows_that_the_words_say_nothing_of_are_worked_even() -> None:
    outline = read("dec 1 each end of the next row", rows=4)
    assert [row.stitches for row in outline.rows] == [18, 18, 18, 18]


def test_the_cast_on_may_be_told_where_nothing_lies_below() -> None:
    lines = "cast on 12", "work 1 row even", "inc 1 each end of next row (14 sts)"
    outline = read(*lines, begins=0, is_first=True)
    assert (outline.begins, [row.stitches for row in outline.rows]) == (12, [12, 14])


def test_what_is_cast_on_at_an_edge_first_of_all_is_not_the_cast_on() -> None:
    outline = read("cast on 2 sts at the beginning of every WS row twice", is_first=True)
    assert (outline.begins, [row.stitches for row in outline.rows]) == (20, [20, 22, 22, 24])


def test_what_lies_behind_each_line_is_kept() -> None:
    reader = ShapeReader(60, is_first=False, is_right=True)
    reader.read(["bind off 3 at beg of next 2 rows", "dec 1 each end every RS row 3 times", "work 4 rows even"])
    assert reader.after == [(("", 2, 54),), (("", 7, 48),), (("", 11, 48),)]


@pytest.mark.parametrize(
    "said",
    ["(18 sts)", "[18 sts]", "(= 18 sts)", "-> 18 sts", "= 18 sts", "— 18 sts rem", "(18 sts left)", ". 18 sts."],
)
def test_a_sum_that_is_said_is_checked(said: str) -> None:
    assert counts(f"dec 1 each end of the next row {said}") == [18]
    _, at, what, mend = amiss(f"dec 1 each end of the next row {said.replace('18', '19')}")
    assert what == "Here are 18 stitches, and this line says 19."
    assert (at > 30, mend) == (True, "Mend the words before it, or the number.")


SUCH = 'Such as "bind off 3 at the beginning of the next 2 rows", "dec 1 at each end of every RS row 3 times".'


@pytest.mark.parametrize(
    ("line", "at", "what", "mend"),
    [
        ("bind off at the beginning of the next 2 rows", 0, "It is not said how many stitches are bound off.",
         "Such as: bind off 3 sts ..."),
        ("cast on at beg of next row", 0, "It is not said how many stitches are cast on.",
         "Such as: cast on 3 sts ..."),
        ("bind off 3 of the next 2 rows", 0, "It is not said at which edge stitches are bound off.",
         'Such as "at the beginning", "at each end", "at the left edge".'),
        ("dec 1 each end", 14, "It is not said in which rows.",
         'Such as "of the next 2 rows" or "of every RS row 3 times".'),
        ("dec 1 each end of every RS row", 15, 'It is not said how often: "of every RS row".',
         'Such as "of every RS row 3 times", or "of every RS row until 40 sts remain".'),
        ("bind off 3 at the beginnning of the next 2 rows", 18, '"beginnning" is not understood here.',
         'Did you mean "beginning"?'),
        ("bind of 3 at the beginning of the next row", 0, '"bind of 3 at the beginning of the next r" is not '
         "understood here.", 'Did you mean "bind off"?'),
        ("dcrease 1 each end of next row", 0, '"dcrease" is not understood here.', 'Did you mean "decrease"?'),
        ("dec 1 each end of evry RS row 3 times", 18, '"evry" is not understood here.', 'Did you mean "every"?'),
        ("dec 1 each end of every RS row 3 tmes", 33, '"tmes" is not understood here.', 'Did you mean "times"?'),
        ("dec 4 sts evenly across the next row", 0,
         "Stitches come and go at the edges of rows, and are not spread over one.",
         'Such as "dec 1 at each end of every RS row 3 times".'),
        ("k4, yo", 0, '"k4" is not understood here.', SUCH),
        ("work 4 rows even, 18", 18, '"18" is not understood here.', SUCH),
        ("dec 1 each end of the next row and every alt row 3 times", 35,
         "It can be read two ways: 3 times in all, the row before it counted, or 3 times more.",
         'Write ", then every alt row 3 times" if it is 3 times more.'),
        ("bind off 3 at the end of the next row", 0, "Stitches are bound off where a row begins, not where it ends.",
         "Bind them off at the beginning of the next row."),
        ("bind off 3 at each end of the next row", 0, "Stitches are bound off where a row begins, not where it ends.",
         "Bind them off at the beginning of the next row."),
        ("bind off 3 at the left edge of the next row", 0,
         "Row 1 of the section begins at the right edge, and stitches are bound off where a row begins.",
         'Bind them off a row later, or write "at the beginning".'),
        ("inc 2 at each end of the next row", 0, "2 stitches at once are not increased at an edge.",
         "Bind off, or cast on, so many."),
        ("dec 3 at each end of the next row", 0, "3 stitches at once are not decreased at an edge.",
         "Bind off, or cast on, so many."),
        ("dec 1 at the beginning and inc 1 at the right edge of next row", 27,
         "Two things are done at one edge of a row.",
         "Say one of them in a row of its own."),
        ("bind off 0 at the beginning of the next row", 0, "Here nothing is made and nothing lost.", "Leave it out."),
        ("work even to row 20", 0,
         'Even rows are told by how many they are, not by the row to which they go: "work even to row 20".',
         'Write "work 20 rows even", and row 20 of the section is the last of them.'),
        ("work 3 rows even, then cont straight to end of rnd 4.", 23,
         'Even rows are told by how many they are, not by the row to which they go: "cont straight to end of rnd 4".',
         'Write "work 1 row even", and row 4 of the section is the last of them.'),
        ("work 3 rows even, then work even through row 3", 23, "Row 3 of the section is worked already.",
         "Mend the number."),
        ("work 0 rows even", 0, "Rows are counted from 1 up.", "Leave it out."),
        ("dec 1 each end of every row 0 times", 15, "Rows are counted from 1 up.",
         'Such as "of the next 2 rows", "of every 4th row 3 times".'),
        ("dec 1 each end of every row until 15 sts remain", 15,
         "From 20 stitches, 2 fewer each time, nobody comes to 15.", "Mend the number, or say how many times."),
        ("dec 1 each end of every row until 24 sts remain", 15,
         "From 20 stitches, 2 fewer each time, nobody comes to 24.", "Mend the number, or say how many times."),
        ("bind off 7 at the beginning of the next 3 rows", 0,
         "Row 3 of the section is worked on 6 stitches, and 7 would go.", "One at least must be left."),
        ("dec 1 each end of every row 10 times", 0, "Row 10 of the section is worked on 2 stitches, and 2 would go.",
         "One at least must be left."),
        ("inc 1 each end of the next 2000 rows", 0, "Row 1,991 has 4,002 stitches; a piece may be 4,000 wide.", ""),
        ("work 10001 rows even", 0, "With these rows the shape has more than 10,000.", ""),
        ("dec 1 each end of every 9999th row 999999 times", 15, "With these rows the shape has more than 10,000.",
         ""),
        ("bind off all sts", 0, "All stitches are bound off after the last row of the piece.",
         "Leave this line out."),
        ("cast off the rem 20 sts", 0, "All stitches are bound off after the last row of the piece.",
         "Leave this line out."),
        ("cast on 20 sts", 0, "It is not said at which edge stitches are cast on.",
         'Such as "at the beginning", "at each end", "at the left edge".'),
    ],
)  # fmt: skip
def test_what_nobody_can_follow_is_told_at_its_word(line: str, at: int, what: str, mend: str) -> None:
    assert amiss(f"  {line}") == (0, at + 2, what, mend)


def test_words_that_go_on_past_the_section_are_told() -> None:
    told = amiss("work 2 rows even", "dec 1 each end of every RS row 3 times", rows=6)
    assert told == (1, 0, "The section has 6 rows, and these words go on.",
                    "Let the shape end there, or give the section more rows.")  # fmt: skip


def test_row_1_of_a_piece_has_the_stitches_that_are_cast_on() -> None:
    told = amiss("inc 1 each end of the next row", is_first=True)
    assert told == (0, 0, "Row 1 of the piece is worked on the cast-on, and has just those stitches.",
                    'Begin with "work 1 row even", or cast on more or fewer.')  # fmt: skip
