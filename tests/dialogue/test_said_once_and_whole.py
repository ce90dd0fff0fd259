"""What lists, questions and a row's start say, without a screen: each thing once, by its name, from which side."""

from __future__ import annotations

from pathlib import Path

import pytest

from companion.dialogue.coming_back import greeting
from companion.dialogue.ends import EndsList
from companion.dialogue.keys import keys_of
from companion.dialogue.knitter import Knitter
from companion.dialogue.listing import Listing
from companion.dialogue.opening import look, open_plan
from companion.dialogue.questions import Reading, Words, YesNo
from companion.dialogue.sewing import SewingList
from companion.dialogue.techniques import TechniquesList
from companion.knitting import words
from companion.knitting.words import US
from companion.settings import Settings
from tests.dialogue.keyboard import Keyboard
from tests.dialogue.test_basket_kept import NAME, basket, to
from tests.dialogue.test_same_journal import at_a_keyboard
from tests.plan.plans import HEAD
from tests.screens.at_the_needles import SWATCH, begun, shelf


def foot(listing: Listing) -> dict[str, tuple[str, ...]]:
    """The keys of a list, by what they do."""
    return {told.word: tuple(key for key, _ in told.keys) for told in keys_of(listing.where, verbs=listing.verbs)}


def test_every_key_that_ticks_a_line_off_is_named_and_none_where_one_may_only_look(tmp_path: Path) -> None:
    begun(tmp_path, row=24)
    board = at_a_keyboard(tmp_path, SWATCH)
    assert foot(EndsList(board.sitting))["woven in, or not"] == ("enter", "space")
    assert foot(SewingList(board.sitting))["sewn on, or not"] == ("enter", "space")
    assert foot(TechniquesList(board.sitting))["work on with this"] == ("enter",)
    board.press("q", "y")
    looking = Keyboard(knitter := Knitter(), look(knitter, shelf(tmp_path), SWATCH, NAME)).sitting
    for made in (EndsList, SewingList, TechniquesList):
        listing = made(looking)
        assert [word for word in foot(listing) if "or not" in word or "work on" in word] == []
        assert "back" in foot(listing)


def test_a_uk_knitter_reads_of_ends_that_are_sewn_in(tmp_path: Path) -> None:
    begun(tmp_path, row=24)
    board = at_a_keyboard(tmp_path, SWATCH, Settings(terms="uk"))
    board.press("e", "space")
    listing = board.top.request
    assert isinstance(listing, EndsList)
    assert "sewn in, or not" in foot(listing)
    assert listing.table.rows[0][0].text == "✓ sewn in"
    assert listing.in_full().startswith("✓ sewn in row 1 RS")
    board.press("f", "f")
    assert listing.title == "Ends, sewn in: 1. 1 is ready to sew in."


def test_lists_say_from_which_side_a_place_is_counted_and_keep_what_tells_strands_apart(tmp_path: Path) -> None:
    begun(tmp_path, row=24)
    board = at_a_keyboard(tmp_path, SWATCH)
    board.press("s")
    *_, held = board.top.request.table.columns
    assert (held.title, held.short) == ("Joined as, the row as held", "As held")
    assert [row[-1].short for row in board.top.request.table.rows][:4] == [
        "the shell", "first from left", "second from right", "third from right",
    ]  # fmt: skip
    board.press("escape", "e")
    *_, back = board.top.request.table.columns
    assert (back.title, back.short) == ("Of the strand, from the back", "From the back")


@pytest.mark.parametrize(("place", "short"), [
    ("the sand beside brick, first from the right, after 4 sts", "first from right, after 4 sts"),
    ("the sand, old between brick and brick, 11th from the left", "11th from left"),
    ("the kelp at the right edge", "at the right edge"), ("the sand", "the sand"),
])  # fmt: skip
def test_the_telling_part_of_a_place(place: str, short: str) -> None:
    assert words.place_in_short(place) == short


def test_before_rows_are_ripped_back_it_is_told_which_strands_fall_free(tmp_path: Path) -> None:
    """Of the swatch tide is joined in row 5, coral and a second shell in row 19."""
    begun(tmp_path, row=20)
    board = at_a_keyboard(tmp_path, SWATCH)
    joined = {"18": {"1 of shell"}, "4": {"1 of tide", "1 of shell"}, "0": {"1 of tide", "2 of shell"}}
    for row, free in joined.items():
        board.press("r", *row, "enter")
        asked = board.top.request
        assert isinstance(asked, YesNo)
        [told] = [line for line in asked.text if "free" in line]
        listed = told.removeprefix("Strands joined there fall free: ").removesuffix(".")
        assert set(listed.split(", ")) == free | {"1 of coral"}
        board.press("n")
    board.press("r", "1", "9", "enter")
    assert not isinstance(board.top.request, YesNo) or not any("free" in line for line in board.top.request.text)


def test_a_run_of_the_row_in_work_that_is_joined_falls_free_and_one_to_come_does_not(tmp_path: Path) -> None:
    """Row 19 begins with the shell of before, then new coral, then new shell, and ends with tide."""
    begun(tmp_path, row=19, runs=2)
    board = at_a_keyboard(tmp_path, SWATCH)
    board.press("r", "1", "8", "enter")
    asked = board.top.request
    assert isinstance(asked, YesNo)
    assert "Strands joined there fall free: 1 of coral." in asked.text


def test_going_forward_it_is_told_that_cuts_count_as_done(tmp_path: Path) -> None:
    begun(tmp_path, row=3)
    board = at_a_keyboard(tmp_path, SWATCH)
    board.press("g")
    asked = board.top.request
    assert isinstance(asked, Words)
    assert asked.text == "I am at the start of row ... (everything before it worked, joined and cut as planned)"


def test_where_a_row_is_found_the_keys_that_go_there_are_told(tmp_path: Path) -> None:
    begun(tmp_path, row=20)
    board = at_a_keyboard(tmp_path, SWATCH)
    board.press("i", "t", "comma", "s", "enter")
    found = board.top.request
    assert isinstance(found, Reading)
    assert found.lines[-1] == "g and its number goes forward to a row, r rips back to one."
    board.press("escape", "i", "c", "enter")
    found = board.top.request
    assert isinstance(found, Reading)
    assert len(found.lines) == 1, "where none is found nobody goes"


def test_at_a_rows_start_it_is_told_which_strand_is_taken_in_hand(tmp_path: Path) -> None:
    begun(tmp_path, row=20)
    board = at_a_keyboard(tmp_path, SWATCH)
    assert greeting(board.sitting.session, US).startswith(
        "Row 20, wrong side toward you: 24 stitches on the left needle; take the tide in hand."
    )
    assert board.sitting.telling.full.startswith("Take the tide in hand. Knit 2")
    board.press("space")
    assert board.sitting.telling.in_hand == ""
    begun(tmp_path / "first", row=1)
    first = at_a_keyboard(tmp_path / "first", SWATCH)
    assert first.sitting.telling.in_hand == "", "it is cast on then"


def test_where_a_row_begins_with_a_new_strand_that_is_told_and_none_is_taken_in_hand(tmp_path: Path) -> None:
    plan = tmp_path / "quay.yaml"
    plain = "  - plain: {rows: 2, stitches: 8, yarn: YARN}\n"
    plan.write_text(f"{HEAD}rows:\n{plain.replace('YARN', 'sand')}{plain.replace('YARN', 'brick')}", encoding="utf-8")
    begun(tmp_path, plan, row=3)
    board = at_a_keyboard(tmp_path, plan)
    assert "8 stitches on the left needle; join new brick." in greeting(board.sitting.session, US)
    assert board.sitting.telling.in_hand == ""
    assert "in hand" not in board.sitting.telling.full


def test_the_far_view_is_of_a_run_so_that_it_and_row_mode_end_each_other(tmp_path: Path) -> None:
    begun(tmp_path, row=3)
    board = at_a_keyboard(tmp_path, SWATCH)
    board.press("m", "f")
    assert (board.sitting.view.is_alone, board.sitting.view.is_row_mode) == (True, False)
    board.press("m")
    assert (board.sitting.view.is_alone, board.sitting.view.is_row_mode) == (False, True)


def test_the_basket_tells_how_far_the_row_is_and_nothing_of_when_before_it_is_begun(tmp_path: Path) -> None:
    """Row 22 of the swatch is 12 tide, 3 shell, 4 coral and 5 shell, worked from the tide on."""
    begun(tmp_path, row=22, runs=2)
    begun(tmp_path, name="For Ada")
    board = basket(tmp_path)
    listing = board.top.request
    listing.work_out(lambda: False)
    to(board, NAME)
    assert listing.table.rows[board.top.at][2][:2] == ("21 of 32; row 22, 15 of 24 sts", "21 of 32")
    listing.at = board.top.at
    assert "21 of 32 rows, row 22, 15 of 24 sts" in listing.in_full()
    begun(tmp_path / "turn", row=4)
    turn = basket(tmp_path / "turn").top.request
    turn.work_out(lambda: False)
    assert turn.table.rows[1][2][:2] == ("3 of 32", "3 of 32")
    to(board, "For Ada")
    listing.at = board.top.at
    assert listing.in_full() == "For Ada: not begun, 0 of 32 rows"
    assert listing.table.rows[board.top.at][4].text == ""


def test_a_piece_that_is_opened_anew_in_mid_row_says_what_was_in_hand(tmp_path: Path) -> None:
    begun(tmp_path, row=22, runs=2)
    knitter = Knitter()
    board = Keyboard(knitter, open_plan(knitter, shelf(tmp_path), SWATCH))
    assert "the shell strand is in your hand" in board.sitting.notice
