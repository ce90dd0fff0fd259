"""Words that shape against the trade's: published abbreviations, and the sums of garments worked out by hand."""

from __future__ import annotations

import pytest

from companion.plan.shape import ShapeReader

# "Terms and abbreviations used in knitting patterns" and three concurring lists have beg, BO, CO, cont, dec, foll,
# inc, rem, RS, WS, st and sts; the Craft Yarn Council's has them, too, and alt (from memory). "Cast off", "straight"
# and "foll alt row" are the UK's ways of saying it: common practice, no source.
#
# How a garment's parts are shaped (what goes at once at an armhole, what on alternate rows): common practice, no
# source. The sums are worked out by hand from the words alone.
ABBREVIATED = [
    ("BO 3 sts at beg of next 2 rows", "bind off 3 stitches at the beginning of the next 2 rows"),
    ("cast off 3 sts at beg of next 2 rows", "bind off 3 stitches at the beginning of the next 2 rows"),
    ("CO 3 sts at beg of foll 2 rows", "cast on 3 stitches at the beginning of the following 2 rows"),
    ("dec 1 st each end of foll alt row", "decrease 1 stitch at each end of the following alternate row"),
    ("inc 1 st at beg of alt rows 3 times", "increase 1 stitch at the beginning of alternate rows 3 times"),
    ("inc 1 st each end of every alt row 3 times", "increase 1 stitch at each end of every other row 3 times"),
    ("dec 1 st each end of every RS row until 14 sts rem",
     "decrease 1 stitch at each end of every right-side row until 14 stitches remain"),
    ("dec 1 st each end of next 2 WS rows", "decrease 1 stitch at each end of the next 2 wrong side rows"),
    ("cont straight for 5 rows", "continue even for five rows"),
    ("BO 3 sts at left edge", "bind off 3 stitches at the left edge"),
    ("BO 4 sts at beg of next row, then 2 sts at beg of foll alt row",
     "bind off 4 stitches at the beginning of the next row, bind off 2 stitches at the beginning of the following "
     "alternate row"),
]  # fmt: skip


def counts(begins: int, *lines: str) -> list[int]:
    """The stitches of every row."""
    reader = ShapeReader(begins, is_first=False, is_right=True)
    rows = reader.read(lines).rows
    assert reader.amiss == []
    return [row.stitches for row in rows]


@pytest.mark.parametrize(("short", "full"), ABBREVIATED)
def test_an_abbreviation_means_what_its_word_means(short: str, full: str) -> None:
    assert counts(20, short) == counts(20, full)


def test_a_set_in_armhole_worked_by_hand() -> None:
    """A front of 100 stitches: 6 and then 3 off at each side (100 - 12 - 6 = 82), then 5 times one at each side on
    right-side rows (82 - 10 = 72): 4 rows and 9, of which the last is a right-side row. Worked by hand."""
    rows = counts(
        100,
        "bind off 6 sts at the beginning of the next 2 rows (88 sts)",
        "bind off 3 sts at the beginning of the next 2 rows (82 sts)",
        "dec 1 st at each end of every RS row 5 times (72 sts)",
        "work 37 rows even",
    )
    assert rows[:13] == [94, 88, 85, 82, 80, 80, 78, 78, 76, 76, 74, 74, 72]
    assert rows[13:] == [72] * 37


def test_a_stepped_shoulder_worked_by_hand() -> None:
    """24 stitches of a shoulder in three steps of 8 at each side, of 72: 72 - 6 x 8 = 24 for the neck."""
    assert counts(72, "cast off 8 sts at beg of next 6 rows (24 sts)") == [64, 56, 48, 40, 32, 24]


def test_a_sleeve_worked_by_hand() -> None:
    """From 44 stitches to 64 by ten increases at each side, 6 rows apart: 60 rows. Its cap: 64 - 2 x 5 = 54, then one
    at each side on every right-side row down to 24, which is 15 times in 29 rows, then 4 off four times: 8."""
    rows = counts(
        44,
        "inc 1 st at each end of every 6th row 10 times (64 sts)",
        "BO 5 sts at beg of next 2 rows (54 sts)",
        "dec 1 st at each end of every RS row until 24 sts rem",
        "work 1 row even",
        "BO 4 sts at beg of next 4 rows (8 sts)",
    )
    assert [row for row in range(60) if rows[row] > ([44, *rows][row])] == list(range(5, 60, 6))
    assert (rows[59], len(rows), rows[62:91:2], rows[-4:]) == (
        64, 60 + 2 + 29 + 1 + 4, list(range(52, 23, -2)), [20, 16, 12, 8]
    )  # fmt: skip


def parts(begins: int, *lines: str) -> tuple[list[int], list[int]]:
    """The stitches of every row of the right part and of the left one."""
    reader = ShapeReader(begins, is_first=False, is_right=True)
    rows = [row.each for row in reader.read(lines).rows]
    assert reader.amiss == []
    both = [row for row in rows if len(row) == 2]
    return [right.stitches for right, _ in both], [left.stitches for _, left in both]


def test_a_round_neck_worked_by_hand() -> None:
    """A front of 60 stitches, 16 of them in the middle of its neck: 22 are left for each side, of which 3 and then 2
    go, and 1 four times on alternate rows: 22 - 3 - 2 - 4 = 13 for the shoulder. Its first row is a right-side row,
    at whose end the right part's neck lies, and at whose start the left part's: so the right part binds off in rows 2
    and 4 and decreases in 6, 8, 10 and 12, and the left one a row later each."""
    right, left = parts(
        60,
        "BO centre 16 sts",
        "Each side: BO 3 sts at neck edge, then 2 sts at neck edge of foll alt row (17 sts each)",
        "dec 1 st at neck edge of every alt row 4 times (13 sts each)",
        "work 2 rows even. Bind off rem 13 sts.",
    )
    gone = [22, 19, 19, 17, 17, 16, 16, 15, 15, 14, 14, 13, 13, 13]
    assert right == [*gone, 13]
    assert left == [22, *gone]


def test_a_v_neck_and_a_sloped_shoulder_worked_by_hand() -> None:
    """41 stitches with one in the middle of the V: 20 each. One goes at the neck on every right-side row, in rows 3,
    5, ... 17: 8 times, which leaves 12. Three shoulder steps of 4 go at the armhole edge, which is where right-side
    rows begin for the right part and wrong-side rows for the left one: in rows 19 and 21, or 20 and 22, two of them,
    and the third is what is bound off last."""
    right, left = parts(
        41,
        "leave the middle 1 st on a holder",
        "Both parts: work 1 row even, dec 1 at neck edge of every RS row 8 times (12 sts)",
        "work 1 row even",
        "bind off 4 at the armhole edge, then 4 sts at the armhole edge of the foll alt row. Bind off rem 4 sts",
    )
    slope = [20, 20, *(20 - n for n in range(1, 9) for _ in range(2))]
    assert right == [*slope, 8, 8, 4, 4]
    assert left == [*slope, 12, 8, 8, 4]


def test_a_keyhole_worked_by_hand() -> None:
    """21 stitches divide for 10 rows beside the one in the middle, which is cast on again where they are joined."""
    reader = ShapeReader(21, is_first=False, is_right=True)
    outline = reader.read(["work 2 rows even", "BO middle 1 st", "Both parts: work 10 rows even (10 sts each)",
                           "Join the parts, on 21 sts, casting on 1 st between them", "work 3 rows even (21 sts)"])
    assert reader.amiss == []
    assert [[one.stitches for one in row.each] for row in outline.rows] == [[21]] * 2 + [[10, 10]] * 10 + [[21]] * 3
