"""How much is said at a change: as the setting has it, and each kind in full once in a sitting as a rule."""

from __future__ import annotations

from pathlib import Path

import pytest

from companion.dialogue.saying import WAYS, How
from companion.settings import Settings
from tests.dialogue.keyboard import Keyboard
from tests.dialogue.test_same_journal import at_a_keyboard
from tests.screens.at_the_needles import SWATCH, begun

ON_THE_RIGHT_SIDE = (
    "Cross the old strand before the new, at the back: lay shell to your left across coral, then take coral up from "
    "under it. "
)


def said(board: Keyboard, presses: int) -> list[str]:
    """What is told now and after each of so many presses."""
    told = [board.sitting.telling.full]
    for _ in range(presses):
        board.press("space")
        told.append(board.sitting.telling.full)
    return told


def at_row_21(home: Path, how: How) -> Keyboard:
    """At row 21 of the swatch: 4 shell, 6 coral, 2 shell and 12 tide, and the same way back."""
    begun(home, row=21)
    return at_a_keyboard(home, SWATCH, Settings(say=how))


@pytest.mark.parametrize(("how", "starts"), [
    ("full", (ON_THE_RIGHT_SIDE, "Shell hangs 1 st back: carry it on slack at the back. Cross the old strand")),
    ("short", ("Cross: shell over coral. ", "Shell hangs 1 st back. Cross: coral over shell. ")),
    ("mark", ("Knit 6 in coral.", "Shell hangs 1 st back. Knit 2 in shell.")),
])  # fmt: skip
def test_a_change_is_told_as_the_setting_has_it(tmp_path: Path, how: How, starts: tuple[str, ...]) -> None:
    told = " ".join(said(at_row_21(tmp_path, how), 3))
    assert [start for start in starts if start not in told] == []


def test_the_first_of_each_kind_is_told_in_full_and_the_others_in_short_in_every_sitting(tmp_path: Path) -> None:
    board = at_row_21(tmp_path, "first")
    whole = "then take"
    told = said(board, 7)
    crossed = [whole in text for text in told if "Cross" in text]
    assert crossed == [True, False, False, True, False, False], "once on each side"
    board.press("q", "y")
    again = at_a_keyboard(tmp_path, SWATCH, Settings(say="first"))
    assert next(whole in text for text in said(again, 4) if "Cross" in text)


def test_a_key_goes_through_all_ways_and_tells_which(tmp_path: Path) -> None:
    board = at_row_21(tmp_path, "first")
    board.press("space")
    notices, lengths = [], []
    for _ in WAYS:
        board.press("b")
        notices.append(board.sitting.notice)
        lengths.append(len(board.sitting.telling.full))
    assert notices == [
        "Said at a change: all of it.", "Said at a change: in short.",
        "Said at a change: what the large letters do not say.",
        "Said at a change: the first of each kind in full, then in short.",
    ]  # fmt: skip
    assert lengths[0] > lengths[1] > lengths[2]
    assert lengths[3] == lengths[0]


def test_after_the_last_row_the_knitters_own_key_stands_in_the_sentence(tmp_path: Path) -> None:
    begun(tmp_path, row=32)
    board = at_a_keyboard(tmp_path, SWATCH, Settings(keys={"on": ("j",)}))
    board.press("j")
    assert board.sitting.telling.to_do[-1] == "Then press j: it is bound off."
