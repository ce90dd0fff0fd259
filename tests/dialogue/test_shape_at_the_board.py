"""The shape of what is drawn at the cursor, in words, on the drawing board. The sums are worked out by hand."""

from __future__ import annotations

from pathlib import Path

import pytest
from at_the_easel import Easel

from companion.dialogue.knitter import Knitter
from companion.dialogue.painting_shape import section_at
from companion.plan.demo import demo_plans
from companion.plan.read import load
from companion.settings import Settings

NARROWER = ("..ssss..", "..ssss..", ".ssssss.", ".ssssss.", "ssssssss")
"""Rows 2 to 6 on a plain row of 8: row 2 is a wrong-side row, and at rows 3 and 5, right-side rows, one goes at each
edge."""


def said(folder: Path, *keys: str, **settings: str) -> list[str]:
    easel = Easel(folder, NARROWER, Knitter(Settings(**settings)))  # type: ignore[arg-type]
    easel.press(*keys)
    return easel.said


def test_the_section_at_the_cursor_is_told_in_words_with_the_stitches_after_each_line(tmp_path: Path) -> None:
    assert said(tmp_path, "left", "e") == [
        "The shape of this section",
        "On 8 sts:",
        "Here, rows 2 to 5: dec 1 st at each end of every RS row twice. (4 sts)",
        "Row 6: work 1 row even.",
    ]


def test_it_is_said_which_line_tells_of_the_row_at_the_cursor_and_the_uk_works_straight(tmp_path: Path) -> None:
    told = said(tmp_path, "left", "left", "up", "up", "up", "up", "e", terms="uk")
    assert told[2:] == [
        "Rows 2 to 5: dec 1 st at each end of every RS row twice. (4 sts)", "Here, row 6: work 1 row straight.",
    ]  # fmt: skip


def test_the_section_below_has_words_of_its_own(tmp_path: Path) -> None:
    assert said(tmp_path, "down", "e")[1:] == ["Cast on 8 sts.", "Here, row 1: work 1 row even."]


@pytest.mark.parametrize("plan", demo_plans(), ids=lambda path: path.stem)
def test_every_row_of_every_demo_lies_in_a_section(plan: Path) -> None:
    loaded = load(plan)
    for level in range(len(loaded.piece.fabric.levels)):
        assert level in section_at(loaded, level)
