"""What happened at the needles is told with few keys, is on disk, and the hands are told what it changes."""

from __future__ import annotations

from pathlib import Path

from at_the_needles import MAT, at_the_needles, on_disk
from textual.widgets import OptionList

from companion.progress.mishaps import others
from companion.screens.asking import AskWords, Choose


async def test_a_length_that_ran_out_is_joined_on_and_leaves_two_ends_more(tmp_path: Path) -> None:
    async with at_the_needles(tmp_path, row=20) as at:
        before = on_disk(tmp_path).strands.total
        await at.press("x")
        assert isinstance(at.app.screen, Choose)
        lines = at.app.screen.query_one(OptionList)
        told = [str(lines.get_option_at_index(i).prompt) for i in range(lines.option_count)]
        assert told[0] == "This tide ran out, has a knot or was cut: splice the next to it, no end"
        assert told[1] == "This tide ran out, has a knot or was cut: join the next, two more ends"
        await at.press("down", "enter")
        assert isinstance(at.app.screen, AskWords)
        await at.type("4")
        assert "planned on from what hangs now" in at.part("end")
        assert "2 more" in at.part("end")
        assert "After 4 stitches this tide ends: leave a tail" in at.part("now")
    after = on_disk(tmp_path)
    assert after.strands.total.ends == before.ends + 2
    assert [(broken.after, broken.is_spliced) for broken in after.strands.breaks] == [(4, False)]


async def test_a_splice_leaves_no_end_and_is_taken_back(tmp_path: Path) -> None:
    async with at_the_needles(tmp_path, row=20) as at:
        before = on_disk(tmp_path)
        await at.press("x", "enter")
        await at.type("4")
        assert "as many as before" in at.part("end")
        assert "After 4 stitches comes the splice in tide, which leaves no end." in at.part("now")
        await at.press("backspace")
    assert on_disk(tmp_path).strands == before.strands


async def test_what_cannot_be_is_said_and_what_is_left_changes_nothing(tmp_path: Path) -> None:
    async with at_the_needles(tmp_path, row=20) as at:
        before = on_disk(tmp_path)
        await at.press("x", "enter")
        await at.type("400")
        assert "Say a number from 0" in at.part("end")
        await at.press("x", "escape")
        await at.press("x", "enter", "escape")
        assert on_disk(tmp_path) == before


async def test_a_strand_joined_after_all_is_another_strand(tmp_path: Path) -> None:
    async with at_the_needles(tmp_path, row=20, runs=1) as at:
        await at.press("x")
        screen = at.app.screen
        assert isinstance(screen, Choose)
        lines = screen.query_one(OptionList)
        told = [str(lines.get_option_at_index(i).prompt) for i in range(lines.option_count)]
        at_index = next(i for i, line in enumerate(told) if line.startswith("I joined a new strand for the last "))
        before = on_disk(tmp_path).strands.at(on_disk(tmp_path).last_place)
        await at.press(*["down"] * at_index, "enter")
        after = on_disk(tmp_path)
        assert after.last_place is not None
        assert after.strands.at(after.last_place) != before


async def test_of_several_strands_gone_on_with_one_that_was_to_be_cut_is_told_and_chosen(tmp_path: Path) -> None:
    # Two other strands may have worked the third run of the mat's row 16: one of them was to be cut below.
    async with at_the_needles(tmp_path, MAT, row=16, runs=2) as at:
        before = on_disk(tmp_path, "Mooring mat")
        place = before.next_place
        assert place is not None
        possible = others(before, place)
        assert len(possible) > 1
        assert set(possible) & before.cut
        await at.press("x")
        await at.choose("I went on with another strand for this tide")
        assert "Which strand worked it?" in at.text
        lines = at.app.screen.query_one(OptionList)
        assert lines.option_count == len(possible)
        await at.press("enter")
        after = on_disk(tmp_path, "Mooring mat")
        assert after.strands.at(place) == possible[0]
