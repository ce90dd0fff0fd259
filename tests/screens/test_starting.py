"""Opening a plan's piece: the greeting, a second window, an edited plan, several pieces, a disk that cannot save."""

from __future__ import annotations

import sqlite3
import sys
from contextlib import closing
from pathlib import Path

import pytest
from at_the_needles import JUMPER, MAT, SWATCH, at_the_needles, begun, on_disk, reopened, shelf, where

from companion.plan.read import load
from companion.screens.app import RowsideApp
from companion.screens.asking import Choose, ReadingScreen
from companion.screens.finding import FindingScreen
from companion.screens.knitting import KnittingScreen

NAME = "Harbour practice swatch"


async def test_a_new_piece_begins_at_the_cast_on(tmp_path: Path) -> None:
    async with reopened(tmp_path) as at:
        assert "Row 1 of 32" in at.part("head")
        assert "Cast on 24 sts in shell" in at.part("now")
        assert where(on_disk(tmp_path)) == (1, 0)


async def test_a_piece_that_is_open_already_lies_below_all_screens_and_is_closed_with_the_app(tmp_path: Path) -> None:
    with shelf(tmp_path).start(load(SWATCH), SWATCH) as knitting:
        app = RowsideApp(knitting)
        async with app.run_test() as pilot:
            assert [type(screen) for screen in app.screen_stack] == [KnittingScreen]
            await pilot.press("space", "question_mark")
            await pilot.pause()
            assert [type(screen) for screen in app.screen_stack] == [KnittingScreen, FindingScreen]
            await pilot.press("escape", "w", "q")
            await pilot.pause()
        assert app.return_code == 0
        assert knitting.is_look_only
    assert where(on_disk(tmp_path)) == (2, 1)  # rows 1 and 2 are one run each
    with shelf(tmp_path).resume(NAME) as again:
        assert not again.is_look_only


async def test_on_opening_in_mid_row_the_greeting_says_where_you_are_and_which_side_this_is(tmp_path: Path) -> None:
    # Row 22, a wrong-side row: 12 tide, then 3 shell are worked; 4 coral and 5 shell wait.
    async with at_the_needles(tmp_path, row=22, runs=2) as at:
        assert at.part("end").startswith(
            "Row 22, wrong side toward you. 15 stitches on the right needle, 9 on the left. "
            "You last worked shell; the shell strand is in your hand. "
            "The cast-on tail hangs at the lower left now (long-tail cast-on)."
        )
        await at.press("space")
        assert "You last worked" not in at.text


@pytest.mark.parametrize(("row", "side", "yarn"), [(20, "wrong", "tide"), (23, "right", "shell")])
async def test_on_opening_at_a_turn_the_greeting_tells_the_row_and_side_that_the_top_line_tells(
    tmp_path: Path, row: int, side: str, yarn: str
) -> None:
    async with at_the_needles(tmp_path, row=row) as at:
        assert at.part("head").startswith(f"Row {row} of 32 {'WS' if side == 'wrong' else 'RS'}")
        assert at.part("end").startswith(
            f"Row {row}, {side} side toward you: 24 stitches on the left needle; take the {yarn} in hand."
        )


async def test_the_greeting_at_a_turn_counts_what_is_on_the_needle_and_not_what_the_row_makes(tmp_path: Path) -> None:
    # So many as the row below has are on the needle before a row in which the jumper's edges come in or go out.
    rows = load(JUMPER).piece.rows
    shaped = next(at for at in range(1, 80) if rows[at].stitches != rows[at - 1].stitches)
    async with at_the_needles(tmp_path, JUMPER, row=shaped + 1, size=(120, 40)) as at:
        assert f"side toward you: {rows[shaped - 1].stitches} stitches on the" in at.part("end")


async def test_a_cast_on_from_a_length_of_its_own_is_told_by_where_row_1_was_joined(tmp_path: Path) -> None:
    text = SWATCH.read_text(encoding="utf-8").replace("\nrows:", "\ncast_on: {yarn: coral}\nrows:")
    (tmp_path / "own.yaml").write_text(text, encoding="utf-8")
    async with at_the_needles(tmp_path, tmp_path / "own.yaml", row=22, runs=2, size=(120, 40)) as at:
        assert "The first strand was joined in at the lower left now, and its tail hangs there." in at.part("end")
        assert "cast-on tail" not in at.part("end")


async def test_the_second_window_may_look_and_not_write(tmp_path: Path) -> None:
    begun(tmp_path, row=19)
    with shelf(tmp_path).resume(NAME):
        async with reopened(tmp_path) as at:
            assert "look only" in at.part("head")
            assert at.part("end").startswith("The piece is open in another window; here you may only look.")
            assert " ".join(at.part("keys").split()) == "m runs/rows e ends s strands c chart ? keys q quit"
            await at.press("space")
            assert "here you may only look" in at.part("end")
            assert "Row 19 of 32" in at.part("head")
            await at.press("m", "c", "c", "s", "escape", "e", "space")
            assert "here you may only look" in at.text
            await at.press("escape", "q")
            assert not at.app.is_running
    assert where(on_disk(tmp_path)) == (18, 2)


async def test_looking_only_shows_on_the_smallest_screen_too(tmp_path: Path) -> None:
    begun(tmp_path, row=19)
    with shelf(tmp_path).resume(NAME):
        async with reopened(tmp_path, size=(40, 15)) as at:
            assert "look only" in at.part("head")


def edited(tmp_path: Path, *changes: tuple[str, str]) -> Path:
    text = SWATCH.read_text(encoding="utf-8")
    for old, new in changes:
        assert old in text
        text = text.replace(old, new)
    path = tmp_path / "swatch.yaml"
    path.write_text(text, encoding="utf-8")
    return path


DEEPER = ("10t 4s 2c 4s\n", "9t 5s 2c 4s\n")
"""Rows 19 and 23 with one stitch of tide less."""


async def test_a_plan_edited_in_rows_to_come_is_followed_and_that_is_said(tmp_path: Path) -> None:
    plan = edited(tmp_path)
    begun(tmp_path, plan, row=12, runs=1)
    edited(tmp_path, DEEPER)
    async with reopened(tmp_path, plan) as at:
        assert isinstance(at.app.screen, KnittingScreen)
        assert "edited" in at.part("end")
        await at.press("g")
        await at.type("19")
        assert "t k11 tide" in at.part("runs")


async def test_a_plan_edited_in_worked_rows_names_them_and_offers_the_stored_one(tmp_path: Path) -> None:
    plan = edited(tmp_path)
    begun(tmp_path, plan, row=22)
    edited(tmp_path, DEEPER)
    async with reopened(tmp_path, plan) as at:
        assert isinstance(at.app.screen, Choose)
        assert "19" in at.text
        assert "differ" in at.text
        await at.choose("Go on with the stored plan")
        assert isinstance(at.app.screen, KnittingScreen)
        assert "Row 22 of 32" in at.part("head")
    assert len(shelf(tmp_path).cards()) == 1
    async with reopened(tmp_path, plan) as at:
        await at.choose("Start over with the edited plan")
        assert "Cast on 24 sts in shell" in at.part("now")
    assert sorted(card.name for card in shelf(tmp_path).cards()) == [NAME, f"{NAME} 2"]
    assert where(on_disk(tmp_path)) == (21, 4)


async def test_leaving_that_choice_open_changes_nothing(tmp_path: Path) -> None:
    plan = edited(tmp_path)
    begun(tmp_path, plan, row=22)
    edited(tmp_path, DEEPER)
    async with reopened(tmp_path, plan) as at:
        await at.press("escape")
        assert not at.app.is_running
    assert [card.name for card in shelf(tmp_path).cards()] == [NAME]
    with shelf(tmp_path).resume(NAME) as knitting:
        assert not knitting.is_look_only


async def test_of_several_pieces_of_one_plan_one_is_chosen(tmp_path: Path) -> None:
    begun(tmp_path, row=19, name="For the window")
    begun(tmp_path, row=5, name="For the door")
    begun(tmp_path, MAT, row=9)
    async with reopened(tmp_path) as at:
        assert isinstance(at.app.screen, Choose)
        assert "Which piece of this plan?" in at.text
        assert "For the window: on the needles, 18 of 32 rows" in at.text
        assert "Mooring mat" not in at.text
        await at.choose("For the door")
        assert "Row 5 of 32" in at.part("head")
        await at.press("space")
    assert where(on_disk(tmp_path, "For the door")) == (5, 1)
    assert where(on_disk(tmp_path, "For the window")) == (18, 2)


@pytest.mark.skipif(sys.platform == "win32", reason="limits on the size of files are POSIX")
async def test_a_step_that_cannot_be_saved_is_not_shown_as_done(tmp_path: Path) -> None:
    import resource

    async with at_the_needles(tmp_path, row=19) as at:
        before = resource.getrlimit(resource.RLIMIT_FSIZE)
        resource.setrlimit(resource.RLIMIT_FSIZE, (0, before[1]))
        try:
            await at.press("space", "space")
        finally:
            resource.setrlimit(resource.RLIMIT_FSIZE, before)
        assert "cannot be" in at.part("end")
        assert at.part("runs").startswith("▶s k6 shell◀")
        await at.press("space")
        assert "cannot be" not in at.part("end")
        assert "✓s k6 shell ▶c new k2 coral◀" in at.part("runs")
    assert where(on_disk(tmp_path)) == (19, 1)


async def test_a_file_that_another_program_holds_is_told_and_nothing_is_shown_as_done(tmp_path: Path) -> None:
    async with at_the_needles(tmp_path, row=19) as at:
        [file] = (tmp_path / "pieces").glob("*.rowside")
        with closing(sqlite3.connect(file, isolation_level=None)) as other:
            other.execute("BEGIN IMMEDIATE")
            await at.press("space")
            other.execute("ROLLBACK")
        assert "is in use by another program" in at.part("end")
        assert at.part("runs").startswith("▶s k6 shell◀")
    assert where(on_disk(tmp_path)) == (18, 2)


async def test_a_plan_with_mistakes_is_told_in_full_and_starts_nothing(tmp_path: Path) -> None:
    plan = edited(tmp_path, ("10t 4s 2c 4s\n", "10t 4s 2z 4s\n"))
    async with reopened(tmp_path, plan, (120, 40)) as at:
        assert isinstance(at.app.screen, ReadingScreen)
        assert '"z"' in at.text
        assert "This cannot be opened" in at.text
        await at.press("escape")
    assert shelf(tmp_path).cards() == ()


async def test_when_what_is_said_once_is_gone_the_chart_takes_its_room_in_the_same_row(tmp_path: Path) -> None:
    begun(tmp_path, row=19, runs=1)
    async with reopened(tmp_path) as at:
        told, chart = at.part("end"), at.part("chart")
        assert told.startswith("Row 19, right side toward you")
        await at.press("space", "space")
        assert where(on_disk(tmp_path)) == (19, 3)
        assert at.part("chart").count(" t ") > 1.2 * chart.count(" t ")
