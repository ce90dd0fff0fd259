"""The hand-out as Chromium prints it: sheets, pages, and what is left of a chart in a black-and-white copy."""

from __future__ import annotations

from pathlib import Path

import pytest
from on_paper import handed, sheets, tree

from companion.commands.given import read_plan

pytest.importorskip("pypdfium2")
from copied import Machine, random_palette
from printed import CHROMIUM, PAPERS, is_blank, printed, words_on

pytestmark = pytest.mark.skipif(not CHROMIUM, reason="no Chromium here to print with")


@pytest.mark.parametrize("paper", PAPERS)
def test_every_sheet_is_one_page_and_no_page_is_blank(paper: str, tmp_path: Path) -> None:
    html = handed(read_plan("ferry-jumper-front").piece)
    drawn = sheets(tree(html))
    pages = list(printed(html, tmp_path, paper))
    texts = list(map(words_on, pages))
    for number in range(1, len(drawn) + 1):
        assert [f"Chart, sheet {number} of {len(drawn)}" in text for text in texts].count(True) == 1
    assert sum("Map of the back" in text for text in texts) == 1
    assert not any(map(is_blank, pages))
    for heading in ("How to cross", "What to wind", "Row by row", "The back: every end", "Finishing"):
        assert sum(text.startswith(heading) for text in texts) == 1


SLACK = 1 / 500
"""None is misread with the fonts and the browser at hand; others draw the edges of a letter otherwise."""


def test_a_machine_reads_every_letter_of_a_demo_in_a_black_and_white_copy(tmp_path: Path) -> None:
    """And of all others, on both papers: python tests/pages/copied.py"""
    many, wrong = Machine(read_plan("harbour-light-cushion").piece, "tints", "A4", tmp_path).misread(41, 64)
    assert many > 1_000
    assert max(wrong.values()) <= many * SLACK, wrong


def test_it_reads_letters_of_all_shapes_on_grounds_of_all_colours(tmp_path: Path) -> None:
    many, wrong = Machine(random_palette(2, 12), "tints", "Letter", tmp_path).misread()
    assert many == 1_500
    assert max(wrong.values()) <= many * SLACK, wrong


def test_on_full_colours_it_misreads_many(tmp_path: Path) -> None:
    many, wrong = Machine(random_palette(2, 6), "colour", "A4", tmp_path).misread()
    assert wrong[0.7] > many / 10
