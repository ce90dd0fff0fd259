"""A mistake marked on the chart, weighed, and the choice on disk; a missed cross and the tail that closes it."""

from __future__ import annotations

from pathlib import Path

from at_the_needles import At, at_the_needles, on_disk
from textual.widgets import OptionList

from companion.knitting.cloth.rows import Place
from companion.knitting.hands.mistakes import Mistake
from companion.screens.marking import MarkedChart, MarkingScreen
from companion.screens.plain_parts import PlainInput


def lines(at: At) -> list[str]:
    return [str(option.prompt).strip() for option in at.app.screen.query_one(OptionList).options]


async def test_wrong_stitches_are_marked_weighed_and_sewn_over(tmp_path: Path) -> None:
    async with at_the_needles(tmp_path, row=21, runs=2) as at:
        await at.press("x")
        await at.choose("Stitches below are wrong")
        assert isinstance(at.app.screen, MarkingScreen)
        # The last run worked was the coral of row 21, columns 5 to 10, from the right.
        assert at.app.screen.marking.at == (20, 10)
        await at.press("down", "left", "space", "left", "space")
        assert " [!] !  s  c  c  c  c " in " ".join(at.lines)
        await at.press("enter")
        assert lines(at) == ["Worked in tide", "Worked in coral", "In the right yarn, but the wrong stitch"]
        await at.choose("Worked in tide")
        assert lines(at) == [
            "Sew over it afterwards: 2 stitches in duplicate stitch.",
            "Not to be laddered down to: the yarn that lies there stays the same.",
            "Leave it: strands hang elsewhere than planned, the rest is planned on from there.",
            "Unpick 5 runs, 22 stitches, the wrong one last.",
        ]
        await at.choose("Sew over")
        assert "Told." in at.part("end")
    assert on_disk(tmp_path).mended == {Mistake(19, (11, 12), "tide"): "sew"}


async def test_what_cannot_be_done_is_said_and_changes_nothing(tmp_path: Path) -> None:
    async with at_the_needles(tmp_path, row=21, runs=2) as at:
        for keys in (("escape",), ("down", "enter", "escape")):
            await at.press("x")
            await at.choose("Stitches below are wrong")
            await at.press(*keys)
        await at.press("x")
        await at.choose("Stitches below are wrong")
        await at.press("down", "enter")
        await at.choose("Worked in tide")
        await at.choose("Not to be laddered")
        assert "Its columns cannot be dropped." in at.part("end")
    assert on_disk(tmp_path).mended == {}


async def test_ripping_to_a_mistake_says_what_is_to_be_unpicked_then(tmp_path: Path) -> None:
    async with at_the_needles(tmp_path, row=23, runs=1) as at:
        await at.press("x")
        await at.choose("Stitches below are wrong")
        await at.press(*["down"] * 3, "enter")
        await at.choose("In the right yarn")
        await at.choose("Rip back")
        assert "Now unpick" in at.part("end")
    session = on_disk(tmp_path)
    assert (session.rows_done, list(session.mended.values())) == (21, ["rip"])


async def test_a_missed_cross_is_told_to_the_tail_that_closes_it(tmp_path: Path) -> None:
    async with at_the_needles(tmp_path, row=23) as at:
        await at.press("x")
        await at.choose("Stitches below are wrong")
        await at.press("down", "down", "enter")
        cross = next(line for line in lines(at) if line.startswith("The cross of"))
        await at.choose("The cross of")
        session = on_disk(tmp_path)
        [hole] = session.missed
        assert hole.row == 19
        assert hole == Place(19, hole.segment)
        row = session.rows[19]
        assert cross == (
            f"The cross of {row.segments[hole.segment - 1].yarn} over {row.segments[hole.segment].yarn} "
            "was missed in row 20"
        )
        assert "On its way close the hole" in at.part("end")
        await at.press("e")
        told = []
        for _ in range(at.app.screen.query_one(OptionList).option_count):
            told.append("a cross was missed there" in at.text)
            await at.press("down")
        assert sum(told) == 1


async def test_marks_move_over_worked_stitches_of_one_row_only(tmp_path: Path) -> None:
    async with at_the_needles(tmp_path, row=20, runs=1) as at:
        await at.press("x")
        await at.choose("Stitches below are wrong")
        chart = at.app.screen.query_one(MarkedChart)
        assert chart.cells[0] == (19, 13)  # row 20 comes from the left: tide is worked, columns 24 to 13
        await at.press("right", "right")
        assert chart.cells[0] == (19, 13)
        await at.press("left", "space", "down")
        assert (chart.cells[0], chart.marked) == ((18, 14), frozenset())
        await at.press(*["right"] * 5, "up")
        assert chart.cells[0] == (19, 13)
        await at.press("up", *["pagedown"] * 5)
        assert chart.cells[0][0] == 0


async def test_the_runs_on_the_needle_are_clicked_or_typed(tmp_path: Path) -> None:
    async with at_the_needles(tmp_path, row=21) as at:
        await at.press("i")
        yarns, at.app.clicks.again = at.app.screen.query_one(OptionList), 0
        for yarn in (1, 0, 2, 0):  # row 20 as it lies: tide, shell, coral, shell
            await at.pilot.click(yarns, offset=(4, yarn))
        field = at.app.screen.query_one(PlainInput)
        assert field.value == "t, s, c, s"
        await at.press("enter")
        assert "5 rows are alike in this:" in at.text
        assert "Row 20 (WS) is on the needle, 1 row above the first coral there." in at.text
        await at.press("escape", "i")
        await at.type("t 12, s 3, c 4, s 5")
        assert "2 rows are alike in this:" in at.text
