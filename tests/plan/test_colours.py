"""The colours of CSS, against another table of them and the text of the standard."""

from __future__ import annotations

import pytest
from textual.color import Color

from companion.plan.colours import NAMED, hex_of


def test_there_are_as_many_names_as_the_standard_has() -> None:
    assert len(NAMED) == 148


@pytest.mark.parametrize("name", sorted(NAMED))
def test_every_name_is_the_colour_that_another_table_has(name: str) -> None:
    assert Color.parse(name).hex.lower() == NAMED[name]


@pytest.mark.parametrize("name", [name for name in NAMED if "gray" in name])
def test_grey_may_be_spelt_both_ways(name: str) -> None:
    assert NAMED[name.replace("gray", "grey")] == NAMED[name]


@pytest.mark.parametrize(
    ("text", "expected"),
    [
        ("#A8432F", "#a8432f"),
        ("#fa0", "#ffaa00"),
        ("RebeccaPurple", "#663399"),
        ("#ffff", None),
        ("#ggg", None),
        ("ffaa00", None),
        ("#１２３", None),
        ("", None),
    ],
)
def test_a_colour_is_a_name_or_three_or_six_digits(text: str, expected: str | None) -> None:
    assert hex_of(text) == expected
