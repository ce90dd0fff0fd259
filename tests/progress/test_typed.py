"""Rows as they are typed and named, in pieces that divide and in those that do not."""

from __future__ import annotations

import pytest
from hypothesis import given

from companion.knitting.cloth.rows import Rows
from companion.progress.actions import Refused
from companion.progress.typed import row_named, row_typed, rows_upto
from tests.knitting.charts import drawn
from tests.knitting.cloth.test_joined import JOINED
from tests.knitting.cloth.test_parts import JUMPER, Told, divided, fabric_of

PARTED = Rows(fabric_of(JUMPER))  # two rows, two of the right part, three of the left one


@pytest.mark.parametrize(
    ("text", "place"),
    [("0", 0), ("2", 2), ("3", 3), (" right 1", 3), ("Right  2", 4), ("left 1", 5), ("left 3", 7), ("left 4", 8)],
)
def test_a_row_is_found_by_its_name(text: str, place: int) -> None:
    assert row_typed(text, PARTED) == place


@pytest.mark.parametrize(
    ("text", "why"),
    [
        ("left", "Type a row's number, and before it left or right for one of a part."),
        ("left -1", "Type a row's number, and before it left or right for one of a part."),
        ("left 5", "The left part has 3 rows."),
        ("9", "The whole piece has 2 rows."),
    ],
)
def test_what_is_no_row_is_refused(text: str, why: str) -> None:
    with pytest.raises(Refused, match=why):
        row_typed(text, PARTED)


def test_a_piece_that_does_not_divide_has_no_parts() -> None:
    rows = drawn("ss", "ss").rows()
    assert [row_typed(str(n), rows) for n in (0, 1, 3, 40)] == [0, 1, 3, 40]
    with pytest.raises(Refused, match="The piece has no left part"):
        row_typed("left 1", rows)
    assert rows_upto(2, rows) == ["2"]


def test_the_rows_that_may_stay_are_told_part_by_part() -> None:
    assert rows_upto(0, PARTED) == ["0"]
    assert rows_upto(2, PARTED) == ["2"]
    assert rows_upto(4, PARTED) == ["2", "right 2"]
    assert rows_upto(6, PARTED) == ["2", "right 2", "left 2"]


@given(divided())
def test_every_name_finds_its_row(told: list[Told]) -> None:
    rows = Rows(fabric_of(told))
    for place in range(len(rows) + 2):
        assert row_typed(row_named(place, rows), rows) == place


TWICE = Rows(fabric_of(JOINED))  # two rows, one of each part, rows 4 and 5, one of each part again


@pytest.mark.parametrize(("text", "place"), [("2", 2), ("3", 3), ("4", 5), ("5", 6), ("left 2", 7), ("right 2", 8)])
def test_above_an_opening_rows_are_found_by_their_height_and_those_of_its_parts_are_counted_on(
    text: str, place: int
) -> None:
    assert row_typed(text, TWICE) == place
    assert row_named(place, TWICE) == (text if text != "3" else "left 1")


def test_a_row_that_lies_beside_an_opening_is_one_of_a_part() -> None:
    why = "Row 3 lies beside an opening: type a row of a part, such as left 1."
    with pytest.raises(Refused, match=why):
        row_typed("3", TWICE, may_be_past=False)
    with pytest.raises(Refused, match=r"The whole piece has 5 rows\."):
        row_typed("8", TWICE)
    assert rows_upto(8, TWICE) == ["2", "left 1", "right 1", "5", "left 2", "right 2"]
