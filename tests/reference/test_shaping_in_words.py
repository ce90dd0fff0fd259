"""Words that shape against the trade's: published abbreviations, and the sums of garments worked out by hand."""

from __future__ import annotations

import pytest

from companion.plan.shape import ShapeReader

# The Craft Yarn Council's list of knit abbreviations (from memory; lists of publishers and yarn makers concur) has
# alt, beg, BO, CO, cont, dec, foll, inc, rem, RS, WS, st and sts. "Cast off", "straight" and "foll alt row" are the
# UK's ways of saying it: common practice, no source.
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
