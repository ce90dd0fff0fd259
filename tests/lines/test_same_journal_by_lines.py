"""The same doings, typed as lines and pressed as keys, give the same journal but for times. That the keys give it on
a screen, too, ``tests/dialogue/test_same_journal.py`` shows."""

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
from tests.lines.at_lines import AtLines, as_lines, typed
from tests.screens.at_the_needles import SWATCH, begun

OWN = {
    "tick": ("t",), "filter": ("v",), "leave": ("b",), "yes": ("j",), "no": ("k",), "put_away": ("p",),
    "answer": ("f5",), "leave_it": ("f6",), "mark": ("y",), "palette": ("f9",),
}  # fmt: skip
OWN_KEYS = (
    "e", "space", "t", "f", "v", "t", "escape", "b", "i", "z", "f5", "escape", "space", "p", "r", "1", "8", "f5", "y",
    "escape", "k", "n", "escape", "f6", "x", "end", "f5", "space", "y", "left", "y", "enter", "f5", "f6", "space",
)  # fmt: skip


def both(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, keys: list[str], row: int, settings: Settings | None = None
) -> AtLines:
    """Keys at run 3 of a row of the swatch, and the lines for them on another shelf with the same piece: the same
    journal, and left or not alike. The settings are those of the shelf."""
    by_keys, by_lines = tmp_path / "by_keys", tmp_path / "by_lines"
    begun(by_keys, row=row, runs=2)
    shutil.copytree(by_keys, by_lines)
    monkeypatch.setenv("ROWSIDE_HOME", str(by_keys))
    board = at_a_keyboard(by_keys, SWATCH, settings)
    lines = list(as_lines(board, keys))
    monkeypatch.setenv("ROWSIDE_HOME", str(by_lines))
    talked = typed(by_lines, *lines, settings=settings)
    assert journal(by_lines) == journal(by_keys), talked.text
    assert talked.is_left == (not board.open)
    assert talked.unread == []
    if board.open:
        assert board.top.request is board.sitting
        assert talked.said[-2], "every line is answered"
    return talked


@pytest.mark.parametrize("name", SCENARIOS)
def test_whatever_is_asked_and_answered_lines_save_the_same(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, name: str
) -> None:
    both(tmp_path, monkeypatch, [key for keys in SCENARIOS[name] for key in keys], row=21)


def test_ones_own_keys_are_the_letters_that_are_typed(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    both(tmp_path, monkeypatch, list(OWN_KEYS), row=24, settings=Settings(keys=OWN))


@pytest.mark.parametrize("demo", sorted(set(DEMOS) - {"swatch"}))
def test_lines_work_every_demo_to_its_finish_with_the_journal_of_the_keys(tmp_path: Path, demo: str) -> None:
    """From before its last rows on; the swatch is worked whole in ``test_line_mode_in_a_terminal.py``."""
    by_keys, by_lines = tmp_path / "by_keys", tmp_path / "by_lines"
    take_up_late(by_keys, DEMOS[demo])
    shutil.copytree(by_keys, by_lines)
    keys = to_the_finish(at_a_keyboard(by_keys, DEMOS[demo]))
    lines = [{"space": " ", "enter": ""}.get(key, key) for those in keys for key in those]
    talked = typed(by_lines, *lines, plan=DEMOS[demo])
    assert journal(by_lines) == journal(by_keys)
    assert talked.said[-2][-1] == "Finished: bound off, every end woven in, washed and trimmed."
    assert talked.text.isascii()
    assert talked.text.replace("\n", "").isprintable()
