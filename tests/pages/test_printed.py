"""The hand-out as Chromium prints it: sheets, pages, and what is left of a chart in a black-and-white copy."""

from __future__ import annotations

import random
from pathlib import Path

import numpy as np
import pytest
from on_paper import Sheet, handed, sheets, tree
from plan.plans import read
from scipy.ndimage import gaussian_filter

from companion.commands.given import read_plan
from companion.knitting.piece import Piece
from companion.pages.hand_out.chart import MOST_IN_KEY

pytest.importorskip("pypdfium2")
from printed import CHROMIUM, DPI, INCH_MM, PAPERS, is_blank, pixels, printed, words_on

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


BLUR_PX = 0.7
"""A poor copier blurs so far, and makes it black or white at one of these."""
THRESHOLDS = (0.3, 0.5, 0.7)
MARGIN_MM = 10.0


def squares(page: np.ndarray, sheet: Sheet, paper: str, piece: Piece) -> np.ndarray:
    """Every square of a chart as pixels, without the lines round it, in the order of ``sheet.squares``."""
    wide_mm, _ = PAPERS[paper]
    lines = -(-len(piece.yarns) // 4)
    left, top = (wide_mm - 190) / 2 + sheet.corner[0], MARGIN_MM + 13 + 5.2 * lines + sheet.corner[1]
    each = DPI / INCH_MM
    half_wide, half_high = (round(0.38 * mm * each) for mm in sheet.size)
    found = []
    for row, column in sheet.squares:
        x = round((left + (sheet.columns.index(column) + 0.5) * sheet.size[0]) * each)
        y = round((top + (sheet.height - row - 0.485) * sheet.size[1]) * each)
        found.append(page[y - half_high:y + half_high + 1, x - half_wide:x + half_wide + 1])
    return np.stack(found).astype(float)


def misread(page: np.ndarray, sheet: Sheet, paper: str, piece: Piece) -> dict[float, float]:
    """The part of a sheet's letters that a machine takes for another in copies made at each threshold: it has seen
    some clean squares of every letter, and looks which of them is most like the one it has, which it has not seen."""
    clean, letters = 255 - squares(page, sheet, paper, piece), np.array(list(sheet.squares.values()))
    blurred = squares(gaussian_filter(page.astype(np.float32), BLUR_PX), sheet, paper, piece)
    wrong, dice = dict.fromkeys(THRESHOLDS, 0), np.random.default_rng(1)
    chosen = dice.random(len(letters)) < 0.5
    for is_seen in (chosen, ~chosen):
        of_each = (dice.permutation(np.flatnonzero(is_seen & (letters == one))) for one in sorted(set(letters)))
        places = np.concatenate([some[:MOST_SEEN] for some in of_each])
        patterns = _normal(clean[places])
        for threshold in THRESHOLDS:
            copy = blurred[~is_seen] < 255 * threshold
            moved = (np.roll(copy, (down, aside), (1, 2)) for down in (-1, 0, 1) for aside in (-1, 0, 1))
            likeness = np.stack([_normal(one) @ patterns.T for one in moved]).max(axis=0)
            wrong[threshold] += (letters[places][likeness.argmax(axis=1)] != letters[~is_seen]).sum()
    return {threshold: float(number) / len(letters) for threshold, number in wrong.items()}


MOST_SEEN = 60
"""Clean squares of each letter."""


def _normal(squares: np.ndarray) -> np.ndarray:
    """Every square as a row of numbers whose middle is 0 and whose length 1."""
    flat = squares.reshape(len(squares), -1).astype(np.float32)
    flat = flat - flat.mean(axis=1, keepdims=True)
    return flat / np.maximum(np.linalg.norm(flat, axis=1, keepdims=True), 1e-9)


def random_palette(seed: int) -> Piece:
    """A sheet of noise in as many yarns as a key has room for, in colours of all kinds."""
    dice = random.Random(seed)
    letters = "abcdefhkmnprstuvwxyz2345"[:MOST_IN_KEY]
    yarns = "".join(f"  y{letter}: {{colour: '#{dice.randrange(1 << 24):06x}'}}\n" for letter in letters)
    symbols = "".join(f"  '{letter}': y{letter}\n" for letter in letters)
    lines = "".join("      " + "".join(dice.choice(letters) for _ in range(30)) + "\n" for _ in range(50))
    head = "plan: 1\ntitle: Beach huts\ngauge: {stitches: 20, rows: 28}\n"
    return read(f"{head}yarns:\n{yarns}symbols:\n{symbols}rows:\n  - chart: |\n{lines}").piece


@pytest.mark.parametrize(
    ("demo", "rows", "inks", "paper"),
    [
        ("harbour-light-cushion", (41, 64), "tints", "A4"), ("", (0, 49), "tints", "Letter"),
        ("", (0, 49), "ink", "A4"),
    ],
)
def test_a_machine_misreads_no_more_than_one_letter_in_fifty_in_a_black_and_white_copy(
    demo: str, rows: tuple[int, int], inks: str, paper: str, tmp_path: Path
) -> None:
    piece = read_plan(demo).piece if demo else random_palette(1)
    html = handed(piece, "chart", inks=inks, first=rows[0], last=rows[1])
    for sheet, page in zip(sheets(tree(html)), printed(html, tmp_path, paper), strict=True):
        found = misread(pixels(page), sheet, paper, piece)
        assert max(found.values()) <= 0.02, (sheet.title, found)
