"""The same doings, pressed on a page and pressed as keys, give the same journal but for times. That the keys give it
on a screen, too, ``tests/dialogue/test_same_journal.py`` shows."""

from __future__ import annotations

import shutil
from pathlib import Path

import pytest

from companion.settings import Settings
from tests.dialogue.test_same_journal import (
    DEMOS,
    SCENARIOS,
    at_a_keyboard,
    journal,
    take_up_late,
    to_the_finish,
)
from tests.page.at_page import as_presses, page_of, play
from tests.screens.at_the_needles import SWATCH, begun

DEMO = "ferry-jumper-front"


@pytest.mark.parametrize("name", SCENARIOS)
def test_whatever_is_asked_and_answered_a_page_saves_the_same(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, name: str
) -> None:
    by_keys, by_page = tmp_path / "by_keys", tmp_path / "by_page"
    begun(by_keys, row=21, runs=2)
    shutil.copytree(by_keys, by_page)
    monkeypatch.setenv("ROWSIDE_HOME", str(by_keys))
    board = at_a_keyboard(by_keys, SWATCH)
    presses = list(as_presses(board, [key for keys in SCENARIOS[name] for key in keys]))
    monkeypatch.setenv("ROWSIDE_HOME", str(by_page))
    with page_of(by_page) as page:
        play(page, presses)
        assert page.is_left == (not board.open)
        assert not page.asked
    assert journal(by_page) == journal(by_keys)


def test_a_page_works_a_demo_of_several_parts_to_its_finish_with_the_journal_of_the_keys(tmp_path: Path) -> None:
    by_keys, by_page = tmp_path / "by_keys", tmp_path / "by_page"
    take_up_late(by_keys, DEMOS[DEMO])
    shutil.copytree(by_keys, by_page)
    keys = [key for those in to_the_finish(at_a_keyboard(by_keys, DEMOS[DEMO])) for key in those]
    again = tmp_path / "again"
    shutil.copytree(by_page, again)
    with page_of(by_page, DEMOS[DEMO], Settings()) as page:
        play(page, as_presses(at_a_keyboard(again, DEMOS[DEMO]), keys))
        assert page.state["work"]["sentence"].startswith("Finished: bound off")
    assert journal(by_page) == journal(by_keys)
