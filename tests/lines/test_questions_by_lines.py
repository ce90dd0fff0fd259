"""Questions by lines: numbered, yes or no, words; each says what Enter does; words after a deed answer in turn."""

from __future__ import annotations

from pathlib import Path

import pytest

from companion.progress.events import Mistook, Noted, RippedBack
from companion.settings import Settings, read
from tests.lines.at_lines import AtLines, typed
from tests.lines.test_said_by_lines import steps
from tests.screens.at_the_needles import JUMPER, begun, on_disk, where


@pytest.fixture
def home(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """The swatch at run 3 of row 21, a row of 4 runs."""
    begun(tmp_path, row=21, runs=2)
    monkeypatch.setenv("ROWSIDE_HOME", str(tmp_path))
    return tmp_path


def last(talked: AtLines) -> list[str]:
    """What the last line that was typed came to."""
    return talked.said[-2]


@pytest.mark.parametrize("lines", [("r 18 y",), ("r 18", "y"), ("r", "18", "yes"), ("rip back 18 Y",), ("r", "18 y")])
def test_words_after_a_deed_answer_what_it_asks_in_turn(home: Path, lines: tuple[str, ...]) -> None:
    typed(home, *lines)
    assert where(on_disk(home)) == (18, 2)


@pytest.mark.parametrize("answer", ["", "n", "no", "escape", "leave", "\x1b"])
def test_only_yes_says_yes_and_enter_alone_does_not(home: Path, answer: str) -> None:
    talked = typed(home, "r 18", answer)
    assert talked.said[1][-1] == "y: rip back. n, or Enter: leave it."
    assert where(on_disk(home)) == (21, 2)
    assert not any(isinstance(event, RippedBack) for entry in steps(home) for event in entry)


def test_what_is_neither_yes_nor_no_is_asked_again(home: Path) -> None:
    said = typed(home, "r 18", "perhaps", "a", "y").said
    assert said[2] == ["y: rip back. n, or Enter: leave it."]
    assert said[3] == said[1]
    assert where(on_disk(home)) == (18, 2)


def test_a_row_of_a_part_takes_two_words_and_the_next_answers_the_next(tmp_path: Path) -> None:
    begun(tmp_path, JUMPER, row=96)
    part = on_disk(tmp_path, "Ferry jumper, front").rows[95].part
    assert part
    typed(tmp_path, f"r {part} 3 y", plan=JUMPER)
    session = on_disk(tmp_path, "Ferry jumper, front")
    row = session.rows[session.row]
    assert (row.part, row.number) == (part, 3)


def test_a_number_is_asked_for_until_there_is_one_and_nothing_else_is_lost(home: Path) -> None:
    said = typed(home, "g x y", "99999999999", "g", "twenty", "25").said
    assert said[1][0] == 'Type a number, not "x". "leave" leaves it.'
    assert said[1][1].startswith("I am at the start of row ...")
    assert said[2][0].startswith("Type a row's number")
    assert said[4] == ['Type a number, not "twenty". "leave" leaves it.']
    assert where(on_disk(home)) == (24, len(on_disk(home).rows[23].segments))


def test_lines_of_a_choice_have_numbers_and_words_may_choose_at_once(home: Path) -> None:
    said = typed(home, "x", "?", "9", "nonsense", "down", "end", "leave").said
    numbered = [line for line in said[1] if line[0].isdigit()]
    assert [line.partition(". ")[0] for line in numbered] == [str(n) for n in range(1, len(numbered) + 1)]
    assert said[1][-1] == 'Type a number. "leave" leaves it. Enter is 1.'
    assert said[2] == said[1]
    assert said[3] == [f'Type a number from 1 to {len(numbered)}, not "9". "leave" leaves it.']
    assert said[5] == [f"{numbered[1]} Enter is 2."]
    assert said[6] == [f"{numbered[-1]} Enter is {len(numbered)}."]
    assert where(on_disk(home)) == (21, 2)


def mistook(home: Path) -> Mistook:
    """The mistake that was marked, its row from 0."""
    (event,) = (event for entry in steps(home) for event in entry if isinstance(event, Mistook))
    return event


@pytest.mark.parametrize("stitches", ["3,4,7-9", "3, 4, 7 - 9", "9,3-4,7,8"])
def test_wrong_stitches_are_marked_by_row_and_number_from_the_right(home: Path, stitches: str) -> None:
    typed(home, "x", "end", "", f"20 {stitches}", "1", "3")
    assert mistook(home).row == 19
    assert mistook(home).columns == (3, 4, 7, 8, 9)


def test_all_of_it_can_stand_on_one_line(home: Path) -> None:
    number = sum(line[0].isdigit() for line in typed(home, "x").said[1])
    typed(home, f"x {number} 20 3,4 1 1")
    assert mistook(home).columns == (3, 4)


def test_stitches_are_looked_for_one_by_one_too(home: Path) -> None:
    said = typed(home, "x", "end", "", "down", "left", " ", "left", " ", "", "1", "1").said
    assert said[4][0].startswith("row 20, stitch ")
    assert said[6][0].endswith(", marked as wrong.")
    assert len(mistook(home).columns) == 2


@pytest.mark.parametrize("wrong", ["20 0", "20 25", "20 3-999999999", "99 1", "21 24", "22 1", "left 3 1", "20 5-3"])
def test_stitches_that_are_not_worked_cannot_be_wrong(home: Path, wrong: str) -> None:
    talked = typed(home, "x", "end", "", wrong)
    assert len(last(talked)) == 1
    assert last(talked)[0].endswith(".")
    assert not any(isinstance(event, Mistook) for entry in steps(home) for event in entry)


def test_a_note_keeps_every_word_of_its_line_and_can_be_taken_away(home: Path) -> None:
    typed(home, "n   loose, 3 y; n  ", "n", "")
    assert on_disk(home).notes == {20: "loose, 3 y; n"}
    typed(home, "n", "leave")
    assert on_disk(home).notes == {20: "loose, 3 y; n"}
    typed(home, "n", "-")
    assert on_disk(home).notes == {}
    typed(home, "n -")
    assert on_disk(home).notes == {20: "-"}, "nothing stood there to be taken away"


def test_an_answer_that_is_too_long_is_refused_whole(home: Path) -> None:
    talked = typed(home, f"n {'x' * 501}", "x" * 500)
    assert talked.said[1][0] == "That is longer than 500 characters."
    notes = [event for entry in steps(home) for event in entry if isinstance(event, Noted)]
    assert [note.text for note in notes] == ["x" * 500]


def test_where_am_i_names_the_yarns_and_reads_the_answer_out(home: Path) -> None:
    said = typed(home, "i", "t 24", "i zz").said
    assert said[1][-1] == "Likely: s shell, t tide, c coral."
    assert said[2][0] == "Where am I?"
    assert said[3][0] == "Where am I?"


def test_the_end_of_input_in_a_question_does_nothing_of_it(home: Path) -> None:
    before = steps(home)
    for lines in (["r 18"], ["x", "1"], ["n"], ["e"], [",", "1"], ["x", "end", ""]):
        assert not typed(home, *lines).is_left
        assert steps(home) == before
    typed(home, "w")
    assert len(steps(home)) == len(before) + 1, "the lock is free"


def test_settings_are_changed_by_number_and_hold_at_once(home: Path) -> None:
    talked = typed(home, ",", "1", "", "10", "", "12", "leave")
    settings, wrong = read(home / "settings.yaml")
    assert (settings.terms, settings.offer_at, wrong) == ("uk", 12, ())
    assert "1. Terms: UK (cast off, tension)" in talked.said[3]


def test_a_key_is_typed_by_its_sign_or_name_and_is_the_letter_from_then_on(home: Path) -> None:
    talked = typed(home, ",", "end", "", "2", "", "j", "leave", "leave", "j")
    assert read(home / "settings.yaml")[0].keys == {"back": ("j",)}
    assert where(on_disk(home)) == (21, 1)
    assert "Type the key or its name, such as k, space, f5 or ctrl+k." in talked.text
    own = read(home / "settings.yaml")[0]
    text = typed(home, ",", "end", "", "a 2", "page down", "+ 2", "!", "+ 2", "odd", "leave", settings=own).text
    assert 'The key "pagedown" for "back" is taken: it is "On".' in text
    assert '"odd" is not the name of a key.' in text
    assert read(home / "settings.yaml")[0].keys == {"back": ("j", "exclamation_mark")}


def test_ends_are_woven_by_number_and_each_can_be_heard_first(home: Path) -> None:
    said = typed(home, "e", "1", "", "tick 1", "choose 99", "f", "q").said
    assert said[1][1].startswith("1. ready row 1, right side, start of the shell")
    assert len(said[2]) > 2, "how it is woven in"
    assert said[3][-1].startswith("1. woven in row 1, right side")
    assert said[4][-1].startswith("1. ready row 1, right side")
    assert said[5][0].startswith("Type a number from 1 to ")
    assert said[6][0].startswith("Ends ready to weave in: ")


def test_another_technique_is_worked_on_with(home: Path) -> None:
    said = typed(home, "t", "end", "").said
    assert said[1][0].startswith("Comparing ")
    assert said[1][1].startswith("From here on.")
    assert not [letter for letter in "\n".join(said[1]) if not letter.isascii()]
    assert len(steps(home)) == len(steps(home))


def test_words_that_answer_nothing_are_said(home: Path) -> None:
    assert 'Not used: "now".' in typed(home, "g 25 now").text
    assert 'Not used: "please".' in typed(home, "n leave please", "r 18 n please").text


def test_with_keys_of_her_own_the_question_names_them(home: Path) -> None:
    keys = {"yes": ("j",), "no": ("g",)}
    said = typed(home, "r 18", "y", "j", settings=Settings(keys=keys)).said
    assert said[1][-1] == "j: rip back. g, or Enter: leave it."
    assert where(on_disk(home)) == (18, 2)
