"""A piece that divides, at the needles: rows of parts are shown, typed and looked at by their names."""

from __future__ import annotations

import re
from pathlib import Path

from at_the_needles import JUMPER, at_the_needles, on_disk, reopened
from rich.style import Style

from companion.screens.chart import ChartPanel, near_columns
from companion.screens.flowing import Line
from companion.screens.marking import MarkedChart, MarkingScreen

NAME = "Ferry jumper, front"
RIGHT, LEFT = 85, 99
"""In working order the places of the parts' first rows, of which the right one has 14."""


async def test_where_the_piece_divides_that_is_done_first_and_then_the_head_says_which_part(tmp_path: Path) -> None:
    async with at_the_needles(tmp_path, JUMPER, RIGHT - 1) as at:
        await at.press("w")
        assert at.part("head").startswith("Row 84 of 84 WS ──▶")
        told = "The piece divides here: the right part (the wearer's left) is worked first, on 19 stitches."
        assert told in at.part("now")
        assert at.part("end") == "Row 84 is done. Press space, then: turn."
        await at.press("space")
        assert at.part("head").startswith("Right part, row 1 of 14 RS")
        assert at.part("end").startswith("Row 84 is done. Turn, the needle's tip away from you.")
        await at.press("w")
        assert at.part("head").startswith("Right part, row 2 of 14 WS")


async def test_at_the_end_of_a_part_it_is_bound_off_and_the_other_one_taken_up(tmp_path: Path) -> None:
    async with at_the_needles(tmp_path, JUMPER, LEFT - 1) as at:
        await at.press("w")
        assert at.part("head").startswith("Right part, row 14 of 14 35 ends ready"), "it is held as for the next row"
        told = "14 stitches must be on the needle. Bind off 14 stitches in fog, the strand in hand, right side toward"
        assert f"{told} you, in pattern and not tightly: work 2, lift the first" in at.part("now")
        assert at.part("end") == "Row 14 of the right part is done. Press space, then: take up, have ready."
        await at.press("w")
        told = "Take up the left part (the wearer's right): its 19 stitches and the 12 in the middle back on the"
        assert told in at.part("now")
        assert "must be on the needle" not in at.text
        assert at.part("end") == "Row 14 of the right part is done. Press space, then: have ready."
        await at.press("space")
        assert "Have ready: new fog (6.5 m, bobbin)." in at.part("now")
        await at.press("space")
        assert at.part("head").startswith("Left part, row 1 of 14 RS")
        assert "Bind off 12 (1 on the right needle), knit 18 more" in at.part("now")
        assert at.part("end").startswith("Row 14 of the right part is done.")
        assert "ake up" not in at.text


async def test_whoever_is_at_the_other_part_is_not_told_to_take_it_up(tmp_path: Path) -> None:
    async with at_the_needles(tmp_path, JUMPER, LEFT) as at:
        assert at.part("head").startswith("Left part, row 1 of 14 RS")
        assert "ake up" not in at.text
        assert "Then bind off" not in at.text


async def test_picked_up_after_a_part_is_bound_off_no_strand_is_said_to_be_in_hand(tmp_path: Path) -> None:
    async with at_the_needles(tmp_path, JUMPER, LEFT - 1) as at:
        await at.press("w", "space")
    async with reopened(tmp_path, JUMPER) as at:
        greeting = "Row 14 of the right part, wrong side toward you. The row is done. The cast-on tail hangs"
        assert at.part("end").startswith(greeting)
        assert "Take up the left part" in at.part("now")
        assert "in your hand" not in at.text


async def test_a_row_of_a_part_is_typed_by_its_name(tmp_path: Path) -> None:
    async with at_the_needles(tmp_path, JUMPER, LEFT + 2) as at:
        await at.press("r")
        assert "(0 to 84, right 1 to right 14, left 1 to left 2; 0 = the cast-on)" in at.text
        await at.type("right 12")
        await at.press("y")
        assert at.part("head").startswith("Right part, row 13 of 14")
        await at.press("g")
        await at.type("left 3")
        assert at.part("head").startswith("Left part, row 3 of 14")
        await at.press("g")
        await at.type("left")
        assert "Type a row's number, and before it left or right for one of a part." in at.part("end")
        await at.press("g")
        await at.type("right 40")
        assert "The right part has 14 rows." in at.part("end")
    assert on_disk(tmp_path, NAME).rows_done == LEFT + 1


async def test_the_chart_shows_both_parts_side_by_side_and_marks_what_is_done_of_each(tmp_path: Path) -> None:
    async with at_the_needles(tmp_path, JUMPER, LEFT + 2, size=(80, 40)) as at:
        await at.press("c", "z")
        assert [line.rstrip()[-2:] for line in at.lines if "◀" in line][1:] == ["◀3"]
        at_work = next(i for i, line in enumerate(at.lines) if line.rstrip().endswith("◀3"))
        assert at.lines[at_work].count("f") == 2 * 18 - 2  # row 3 of both parts in letters, the run in brackets
        above = at.lines[at_work - 1]  # rows 5 and 4 of both parts on one line; row 4 has a stitch more in each
        assert (above.count("▀"), above.count("▄")) == (2 * 17, 2)


async def test_a_mistake_is_marked_in_the_part_where_it_lies(tmp_path: Path) -> None:
    async with at_the_needles(tmp_path, JUMPER, LEFT + 2) as at:
        await at.press("x")
        await at.choose("Stitches below are wrong")
        assert isinstance(at.app.screen, MarkingScreen)
        chart = at.app.screen.query_one(MarkedChart)
        assert chart.cells[0] == (LEFT, 38)  # the last stitch of row 2 of the left part, which ends at the opening
        await at.press("down", "down")
        assert chart.cells[0] == (RIGHT - 2, 38)  # row 84, on which both parts lie
        await at.press(*["right"] * 18, "up")
        assert chart.cells[0] == (RIGHT - 1, 20)  # row 1 of the right part


async def test_ends_of_a_part_are_told_with_it(tmp_path: Path) -> None:
    async with at_the_needles(tmp_path, JUMPER, LEFT + 2, size=(90, 60)) as at:
        await at.press("e", "end")
        assert re.search(r"too fresh left 1 RS start ▏.▕ \w+ the \w+", at.text)


async def test_what_is_done_of_one_part_is_not_underlined_in_the_other(tmp_path: Path) -> None:
    """Row 3 of the right part is in work. Of the parts' rows 1 and 2, beside each other in the chart, the right one's
    19 stitches are done (columns 7 to 25) and the left one's none; row 84 below is done all across."""
    async with at_the_needles(tmp_path, JUMPER, RIGHT + 2, size=(200, 60)) as at:
        await at.press("c")
        chart = at.app.screen.query_one(ChartPanel)
        assert chart.session is not None
        columns = near_columns(chart.session.piece.gauge)
        done = [columns_done for line in chart._lines if (columns_done := _underlined(line, columns))]
        assert [len(columns_done) for columns_done in done[:3]] == [19, 19, 50]
        assert done[0] == done[1] == list(range(7, 26))


def _underlined(line: Line, columns: int) -> list[int]:
    """The columns of a row of the chart that are shown as done; it is drawn from the last column to the first."""
    styles = [style for text, style in line[1:-1] for _ in range(len(text) // columns)]
    return [at for at, style in enumerate(reversed(styles), 1) if isinstance(style, Style) and style.underline]


async def test_strands_of_different_parts_are_told_by_their_parts_rows(tmp_path: Path) -> None:
    async with at_the_needles(tmp_path, JUMPER, LEFT + 2, size=(120, 60)) as at:
        await at.press("s")
        assert "fog 34 to right 14 " in at.text
        assert "fog left 1 to left 14 " in at.text
