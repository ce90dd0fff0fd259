"""Every demo by lines: the journal that the keys give but for times, in plain words."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from tests.dialogue.test_same_journal import (
    DEMOS,
    at_a_keyboard,
    in_first_size,
    journal,
    to_the_finish,
)
from tests.knitting.words.test_every_step import ABBREVIATIONS
from tests.lines.at_lines import typed


@pytest.mark.parametrize("demo", sorted(set(DEMOS) - {"swatch"}))
def test_lines_work_every_demo_to_its_finish_with_the_journal_of_the_keys(tmp_path: Path, demo: str) -> None:
    """Row by row from the first stitch on; the swatch is worked run by run in ``test_line_mode_in_a_terminal.py``."""
    by_keys, by_lines = tmp_path / "by_keys", tmp_path / "by_lines"
    board = at_a_keyboard(by_keys, DEMOS[demo])
    board.press("m")
    keys = [["m"], *to_the_finish(board)]
    lines = [{"space": " ", "enter": ""}.get(key, key) for those in keys for key in those]
    asked = ["1"] if in_first_size(DEMOS[demo]).size else []  # of a plan in sizes
    talked = typed(by_lines, *asked, *lines, plan=DEMOS[demo])
    assert journal(by_lines) == journal(by_keys)
    assert talked.said[-2][-1] == "Finished: bound off, every end woven in, washed and trimmed."
    assert talked.text.isascii()
    assert talked.text.replace("\n", "").isprintable()
    assert re.search(ABBREVIATIONS, talked.text) is None, "nothing is left to be spelled letter by letter"
