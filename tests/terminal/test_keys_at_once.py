"""As many keys as arrive, so many steps are done, and each of them is painted."""

from __future__ import annotations

import sys
from itertools import groupby
from pathlib import Path

import pytest

if sys.platform == "win32":
    pytest.skip("no pseudo-terminals", allow_module_level=True)

from pseudo_terminal import BACKSPACE, PAGE_DOWN, SPACE, Terminal, knitting, pictures
from swatch import Place, places, shown


def _painted(terminal: Terminal) -> list[Place]:
    """The places that were painted, in order, a place that was painted twice in a row told once."""
    told = (shown(picture) for picture in pictures(terminal.written, 80, 24))
    return [place for place, _ in groupby(place for place in told if place)]


@pytest.mark.parametrize("key", [SPACE, PAGE_DOWN])
def test_fifty_one_keys_in_one_write_are_as_many_steps_each_painted(tmp_path: Path, key: bytes) -> None:
    with knitting(tmp_path) as terminal:
        terminal.send(key * 51)
        last = places()[51]
        terminal.wait_until(lambda: shown(terminal.text) == last == _painted(terminal)[-1], "the last step")
        assert _painted(terminal) == places()[:52]
        terminal.send(b"q")  # had a fifty-second key been made up, it would come before this one
        terminal.wait_for("y stop here")
        assert shown(terminal.text) == places()[51]
        terminal.send(b"y")
        assert terminal.wait_for_end() == 0
    with knitting(tmp_path) as terminal:
        terminal.wait_until(lambda: shown(terminal.text) == places()[51], "the same stitch")


def test_keys_for_on_and_back_in_one_write_take_effect_in_their_order(tmp_path: Path) -> None:
    with knitting(tmp_path) as terminal:
        terminal.send(SPACE * 6 + BACKSPACE * 2 + SPACE)
        turns = [0, 1, 2, 3, 4, 5, 6, 5, 4, 5]
        wanted = [places()[runs] for runs in turns]
        terminal.wait_until(lambda: _painted(terminal) == wanted, str(wanted))


def test_a_rows_number_in_one_write_with_its_key_goes_to_that_row(tmp_path: Path) -> None:
    """Row 10 of the swatch is the first whose number has two digits; the row above it comes a key at a time."""
    with knitting(tmp_path) as terminal:
        terminal.send(b"g10\r")
        terminal.wait_for("Row 10 of 32")
        terminal.wait_until(lambda: "I am at the start" not in terminal.text, "the question to go")
        terminal.wait_until_still()
        for key in (b"g", b"1", b"1", b"\r"):
            terminal.send(key)
        terminal.wait_for("Row 11 of 32")


def test_an_answer_that_is_sent_as_soon_as_its_question_is_painted_is_taken(tmp_path: Path) -> None:
    with knitting(tmp_path) as terminal:
        terminal.send(b"g5\r")
        terminal.wait_for("Row 5 of 32")
        terminal.send(SPACE)
        terminal.wait_for("12 of 24")
        for _ in range(10):
            painted = len(terminal.written)
            terminal.send(b"q")
            terminal.wait_until(lambda painted=painted: b"stop here" in terminal.written[painted:], "the question")
            terminal.send(b"n")
            terminal.wait_until(lambda: "y stop here" not in terminal.text, "the question to go")
