"""The shape of rows in words: what is taken together, and how it is said in US and UK terms."""

from __future__ import annotations

import pytest

from companion.knitting.cloth.edges import EVEN, Change, stints
from companion.knitting.cloth.rows import Side
from companion.knitting.words.shape import stint_told
from companion.knitting.words.terms import US, Terms

OFF, ON, DEC, INC = Change(-3, 0), Change(4, 0), Change(-1, -1), Change(1, 1)


def told(*changes: Change, terms: Terms = US, begins: int = 60, first: Side = "RS") -> list[str]:
    """Rows from the one that is worked on so many stitches, in words."""
    other: Side = "WS" if first == "RS" else "RS"
    sides = [first if row % 2 == 0 else other for row in range(len(changes))]
    found, done, stitches = list[str](), 0, begins
    for one in stints(changes, sides):
        rows = changes[done:done + one.rows]
        done, stitches = done + one.rows, stitches + sum(change.start + change.end for change in rows)
        found.append(stint_told(one, stitches, terms))
    assert done == len(changes)
    return found


@pytest.mark.parametrize(
    ("changes", "words"),
    [
        ((EVEN,) * 4, ["Work 4 rows even."]),
        ((EVEN,), ["Work 1 row even."]),
        ((OFF, OFF), ["Bind off 3 sts at the beginning of the next 2 rows. (54 sts)"]),
        ((ON,), ["Cast on 4 sts at the beginning of the next row. (64 sts)"]),
        ((DEC, EVEN, DEC, EVEN, DEC), ["Dec 1 st at each end of every RS row 3 times. (54 sts)"]),
        ((EVEN, DEC, EVEN, DEC), ["Dec 1 st at each end of every WS row twice. (56 sts)"]),
        ((EVEN, EVEN, DEC, EVEN, DEC),
         ["Work 2 rows even.", "Dec 1 st at each end of every RS row twice. (56 sts)"]),
        ((EVEN, EVEN, EVEN, INC) * 3, ["Inc 1 st at each end of every fourth row 3 times. (66 sts)"]),
        ((INC, EVEN, EVEN, EVEN, INC, EVEN, EVEN, EVEN, INC, EVEN),
         ["Inc 1 st at each end of the next row, then of every fourth row twice. (66 sts)", "Work 1 row even."]),
        ((EVEN, INC, EVEN, EVEN, INC),
         ["Work 1 row even.", "Inc 1 st at each end of the next row, then of every third row once. (64 sts)"]),
        ((EVEN,) * 5 + (INC, EVEN, EVEN, INC),
         ["Work 3 rows even.", "Inc 1 st at each end of every third row twice. (64 sts)"]),
        ((DEC, DEC, OFF), ["Dec 1 st at each end of the next 2 rows. (56 sts)",
                           "Bind off 3 sts at the beginning of the next row. (53 sts)"]),
        ((Change(-4, 1),), ["Bind off 4 sts at the beginning and inc 1 st at the end of the next row. (57 sts)"]),
        ((Change(0, -2),), ["Dec 2 sts at the end of the next row. (58 sts)"]),
        ((Change(5, 5),), ["Cast on 5 sts at each end of the next row. (70 sts)"]),
    ],
)  # fmt: skip
def test_rows_that_do_the_same_are_told_together(changes: tuple[Change, ...], words: list[str]) -> None:
    assert told(*changes) == words


def test_rows_are_counted_on_from_a_wrong_side_row_too() -> None:
    assert told(EVEN, DEC, EVEN, DEC, first="WS") == ["Dec 1 st at each end of every RS row twice. (56 sts)"]


def test_the_uk_casts_off_and_works_straight() -> None:
    assert told(OFF, EVEN, EVEN, terms=Terms("uk")) == [
        "Cast off 3 sts at the beginning of the next row. (57 sts)", "Work 2 rows straight.",
    ]  # fmt: skip


def test_one_stitch_is_no_more_than_one() -> None:
    assert told(Change(-1, 0), begins=2) == ["Dec 1 st at the beginning of the next row. (1 st)"]
