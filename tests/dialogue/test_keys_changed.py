"""Keys changed on the settings screen: pressed, told at once where they clash, kept in the file and in force."""

from __future__ import annotations

from pathlib import Path

import pytest

from companion.dialogue.basket import BasketList
from companion.dialogue.deeds import DEEDS, USUAL
from companion.dialogue.keys import keys_at_the_needles
from companion.dialogue.keys_list import KeysList
from companion.dialogue.knitter import Knitter
from companion.dialogue.opening import open_plan
from companion.dialogue.questions import PressKey, show
from companion.dialogue.settings_list import SettingsList
from companion.progress import folders
from companion.settings import read
from tests.dialogue.keyboard import Keyboard
from tests.screens.at_the_needles import SWATCH, begun, shelf, where

MINE = """\
# settings of mine
terms: uk   # as my mother says
keys:
  # the pedal
  on: [space, pagedown]   # and the space bar
  back: pageup
offer_at: 5
"""


@pytest.fixture(autouse=True)
def _home(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> None:
    monkeypatch.setenv("ROWSIDE_HOME", str(tmp_path))


def keys_list(tmp_path: Path) -> Keyboard:
    """The list of keys, come to through the settings, at the needles."""
    begun(tmp_path)
    knitter = Knitter(read(folders.settings_file())[0])
    board = Keyboard(knitter, open_plan(knitter, shelf(tmp_path), SWATCH))
    board.press("comma", "end", "enter")
    assert isinstance(board.top.request, KeysList)
    return board


def to(board: Keyboard, title: str) -> None:
    """Move to the first deed of this title."""
    rows = board.top.request.table.rows
    board.top.at = next(at for at, row in enumerate(rows) if not isinstance(row, str) and row[0].text == title)


def kept() -> str:
    return folders.settings_file().read_text(encoding="utf-8")


def test_every_deed_stands_there_once_with_its_keys(tmp_path: Path) -> None:
    rows = [row for row in keys_list(tmp_path).top.request.table.rows if not isinstance(row, str)]
    assert len(rows) == len(DEEDS)
    assert {(row[0].text, row[2].text) for row in rows} == {(deed.title, deed.about) for deed in DEEDS}


def test_a_key_that_is_pressed_is_the_deeds_at_once_and_in_the_file(tmp_path: Path) -> None:
    board = keys_list(tmp_path)
    to(board, "On")
    board.press("enter")
    asked = board.top.request
    assert isinstance(asked, PressKey)
    assert asked.text == (
        'Press the key for "On".', "It has now: space, enter, page down. The new one takes their place.",
    )  # fmt: skip
    board.press("j")
    assert board.top.request.heading == "Keys: choose what is to have another one."
    assert read(folders.settings_file())[0].keys == {"on": ("j",)}
    board.press("escape")
    settings_list = board.top.request
    assert isinstance(settings_list, SettingsList)
    assert settings_list.table.rows[-1][0].text == "Keys: 1 thing with keys of your own"
    board.press("escape", "space", "j")
    assert where(board.sitting.session) == (1, 1), "space does nothing any more"


def test_comments_and_all_else_in_the_file_stay(tmp_path: Path) -> None:
    folders.settings_file().write_text(MINE, encoding="utf-8")
    board = keys_list(tmp_path)
    to(board, "On")
    board.press("enter", "f5")
    assert kept() == MINE.replace("[space, pagedown]", "[f5]")
    to(board, "Back")
    board.press("plus", "f6")
    assert kept() == MINE.replace("[space, pagedown]", "[f5]").replace("back: pageup", "back: [pageup, f6]")
    to(board, "Unpick")
    board.press("enter", "f7")
    text = kept()
    assert read(folders.settings_file())[0].keys == {"on": ("f5",), "back": ("pageup", "f6"), "unpick": ("f7",)}
    assert text.replace("  unpick: [f7]\n", "") == MINE.replace("[space, pagedown]", "[f5]").replace(
        "back: pageup", "back: [pageup, f6]"
    )
    to(board, "On")
    board.press("backspace")
    assert read(folders.settings_file())[0].keys["on"] == USUAL["on"].keys


def test_a_list_over_several_lines_is_replaced_and_what_follows_stays(tmp_path: Path) -> None:
    text = "keys:\n  on:\n    - space\n    - x   # or this\n  # the other pedal\n  back: pageup\nterms: uk\n"
    folders.settings_file().write_text(text, encoding="utf-8")
    board = keys_list(tmp_path)
    to(board, "On")
    board.press("enter", "f5")
    settings, wrong = read(folders.settings_file())
    assert (settings.keys, settings.terms, wrong) == ({"on": ("f5",), "back": ("pageup",)}, "uk", ())
    assert "# the other pedal\n" in kept()


@pytest.mark.parametrize(
    ("title", "key", "told"),
    [
        ("Unpick", "w", 'The key "w" for "unpick" is taken: it is "Whole row".'),
        ("Unpick", "ctrl+p", 'The key "ctrl+p" for "unpick" is taken: it is "Find an action".'),
        ("Unpick", "A", '"A" is not the name of a key. Did you mean "a"?'),
        ("Find an action", "e", 'The key "e" for "palette" is taken: it is "Ends".'),
    ],
)
def test_a_key_that_cannot_be_had_is_told_at_once_and_nothing_is_changed(
    tmp_path: Path, title: str, key: str, told: str
) -> None:
    board = keys_list(tmp_path)
    to(board, title)
    board.press("enter", key)
    assert board.top.request.heading == told
    assert not folders.settings_file().exists()
    assert board.knitter.settings.keys == {}


def test_a_key_that_another_deed_let_go_is_free(tmp_path: Path) -> None:
    board = keys_list(tmp_path)
    to(board, "Whole row")
    board.press("enter", "f5")
    to(board, "Unpick")
    board.press("enter", "w")
    assert read(folders.settings_file())[0].keys == {"row": ("f5",), "unpick": ("w",)}
    to(board, "Whole row")
    board.press("backspace")
    assert board.top.request.heading == 'The key "w" for "row" is taken: it is "Unpick".'
    assert read(folders.settings_file())[0].keys == {"row": ("f5",), "unpick": ("w",)}


def test_what_is_amiss_already_keeps_no_other_key_from_being_changed(tmp_path: Path) -> None:
    folders.settings_file().write_text("keys: {onn: [x], rip: [w]}\n", encoding="utf-8")
    board = keys_list(tmp_path)
    to(board, "Ends")
    board.press("enter", "v")
    assert read(folders.settings_file())[0].keys["ends"] == ("v",)
    assert kept() == "keys: {onn: [x], rip: [w], ends: [v]}\n"


def test_left_with_escape_nothing_is_changed(tmp_path: Path) -> None:
    board = keys_list(tmp_path)
    to(board, "On")
    board.press("enter", "escape")
    assert isinstance(board.top.request, KeysList)
    board.press("plus", "escape")
    assert not folders.settings_file().exists()


def test_one_more_key_stands_behind_those_it_has_up_to_eight(tmp_path: Path) -> None:
    board = keys_list(tmp_path)
    to(board, "Note")
    board.press("a", "n")
    assert not folders.settings_file().exists(), "it has that one already"
    for number in range(5, 12):
        board.press("a", f"f{number}")
    assert read(folders.settings_file())[0].keys["note"] == ("n", *(f"f{number}" for number in range(5, 12)))
    board.press("a", "f12")
    assert board.top.request.heading == "No more than 8 keys may do one thing."
    board.press("a", "f11")
    assert len(read(folders.settings_file())[0].keys["note"]) == 8


def test_a_file_that_cannot_be_changed_is_said_and_nothing_is_taken_up(tmp_path: Path) -> None:
    board = keys_list(tmp_path)
    folders.settings_file().mkdir()
    to(board, "On")
    board.press("enter", "j")
    assert "settings.yaml" in board.top.request.heading
    assert board.knitter.settings.keys == {}


def test_keys_are_changed_from_the_basket_too_and_hold_there(tmp_path: Path) -> None:
    knitter = Knitter()
    board = Keyboard(knitter, show(BasketList(knitter, shelf(tmp_path), tmp_path, (SWATCH,))))
    board.press("comma", "end", "enter")
    to(board, "Light or dark")
    board.press("enter", "f8", "escape", "escape", "l")
    assert knitter.light == "dark"
    board.press("f8")
    assert knitter.light == "light"


def test_what_is_unlisted_is_no_key_of_the_line_at_the_needles() -> None:
    told = {deed for each in keys_at_the_needles(None) for _, deed in each.keys}
    unlisted = {deed.name for deed in DEEDS if deed.unlisted}
    assert "on" in told
    assert "light" in unlisted
    assert not told & unlisted
