"""A run that two strands share, as front ends tell it: rows 12 and 13 of the bollard coaster."""

from __future__ import annotations

from pathlib import Path

from companion.dialogue.techniques import TechniquesList
from companion.lines.needles import chart_line
from companion.settings import Settings
from tests.dialogue.keyboard import Keyboard
from tests.dialogue.scenarios import BOLLARD
from tests.dialogue.test_same_journal import at_a_keyboard
from tests.screens.at_the_needles import begun

THE_OTHER = (
    "Cross the old strand before the new, in front: lay this fog to your left across the other fog, then take the "
    "other fog up from under it. "
)


def at_the_coaster(home: Path, row: int, runs: int = 0) -> Keyboard:
    """The run after so many of a row, what was told before it told in this sitting."""
    begun(home, BOLLARD, row)
    board = at_a_keyboard(home, BOLLARD, Settings(say="first"))
    board.press(*["space"] * runs)
    return board


def test_the_strand_that_begins_the_run_is_taken_in_hand_and_both_parts_are_told(tmp_path: Path) -> None:
    told = at_the_coaster(tmp_path, 12).sitting.telling
    assert told.full == (
        "Take the fog in hand. 2 strands of fog share this run of 22 stitches: this one works 14, the other 8. "
        "Knit 2, purl 12 in fog."
    )
    assert [act.text for act in told.acts][-3:] == ["SHARE 22", "KNIT", "PURL"]


def test_the_cross_of_one_yarn_is_told_in_full_whatever_was_crossed_before(tmp_path: Path) -> None:
    board = at_the_coaster(tmp_path, 10)
    crosses = list[str]()
    while board.sitting.session.at < (11, 1):
        crosses.append(board.sitting.telling.full)
        board.press("space")
    assert any(text.startswith("Cross: ") for text in crosses), "those of two yarns are known by then"
    assert board.sitting.telling.full == f"{THE_OTHER}Purl 6, knit 2 in fog."
    assert board.sitting.telling.short.startswith("Cross: this fog over the other fog. ")


def test_strands_that_hang_are_told_apart_after_the_first_part(tmp_path: Path) -> None:
    told = at_the_coaster(tmp_path, 12, 1).sitting.telling
    assert [(hang.yarn, hang.away) for hang in told.hanging] == [("fog", 0), ("fog", 0)]
    assert len({told.place_of(hang) for hang in told.hanging}) == 2


def test_the_chart_is_read_out_as_it_is_drawn(tmp_path: Path) -> None:
    rows = at_the_coaster(tmp_path, 12).sitting.session.rows
    assert chart_line(rows[11]) == "Row 12, from the left: 22 fog."


def test_techniques_are_compared_in_the_middle_of_a_shared_run(tmp_path: Path) -> None:
    found = TechniquesList(at_the_coaster(tmp_path, 12, 1).sitting)
    found.fill()
    found.work_out(lambda: False)
    strands = {row[1].text: row[2].text for row in found.table.rows if not isinstance(row, str)}
    assert strands["strict, runs shared"] == "4"
