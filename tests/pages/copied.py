"""Black-and-white copies of chart sheets, and a machine that reads the letters on them.

The machine has seen clean squares of every letter, on another sheet in the same yarns; of a square on a copy it says
which of them is most like it. Run by itself it reads copies of every demo on both papers, and of ten random palettes,
and says how many letters are misread: ``python tests/pages/copied.py``.
"""

from __future__ import annotations

import random
from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path

import numpy as np
from on_paper import Sheet, handed, sheets, tree
from printed import DPI, INCH_MM, PAPERS, pixels, printed
from scipy.ndimage import gaussian_filter, zoom

from companion.knitting.cloth.fabric import Fabric, FabricRow, Run, Stitch, merged
from companion.knitting.piece import Piece
from companion.pages.hand_out.chart import MOST_IN_KEY
from companion.plan.read import load_text

BLUR_PX = 0.7
"""A poor copier blurs so far, and makes it black or white at one of these."""
THRESHOLDS = (0.3, 0.5, 0.7)
MARGIN_MM = 10.0

ENOUGH, MOST_SEEN = 250, 400
"""Clean squares of each letter, as they lie to the dots in every way; about so many at least, and no more."""

LETTERS = "abcdefhkmnprstuvwxyz2345"[:MOST_IN_KEY]


class Machine:
    """Reads the charts of a piece. ``seen``: the clean squares that it knows, dark where there is ink, and the
    ``letters`` on them."""

    def __init__(self, piece: Piece, inks: str, paper: str, folder: Path) -> None:
        self._piece, self._inks, self._paper, self._folder = piece, inks, paper, folder
        found, clean = list[str](), list[np.ndarray]()
        while len(found) < ENOUGH * len(piece.yarns):
            noise = _noise(piece, len(found))
            [(sheet, page), *_] = self._printed(noise, 0, min(59, len(noise.fabric.rows) - 1))
            found += sheet.squares.values()
            clean.append(255 - squares(page, sheet, paper, noise))
        letters, dice = np.array(found), np.random.default_rng(1)
        of_each = (dice.permutation(np.flatnonzero(letters == one)) for one in sorted(set(letters)))
        some = np.concatenate([places[:MOST_SEEN] for places in of_each])
        self.letters, self.seen = letters[some], np.concatenate(clean)[some]

    def _printed(self, piece: Piece, first: int, last: int) -> Iterator[tuple[Sheet, np.ndarray]]:
        html = handed(piece, "chart", inks=self._inks, first=first, last=last)
        for sheet, page in zip(sheets(tree(html)), printed(html, self._folder, self._paper), strict=True):
            yield sheet, pixels(page)

    def misread(self, first: int = 0, last: int | None = None) -> tuple[int, dict[float, int]]:
        """How many letters stand on the sheets of these rows, and how many of them it takes for others in copies made
        at each threshold."""
        many, wrong = 0, dict.fromkeys(THRESHOLDS, 0)
        last = len(self._piece.fabric.rows) - 1 if last is None else last
        for sheet, page in self._printed(self._piece, first, last):
            letters = np.array(list(sheet.squares.values()))
            copied = squares(gaussian_filter(page.astype(np.float32), BLUR_PX), sheet, self._paper, self._piece)
            many += len(letters)
            for threshold in THRESHOLDS:
                wrong[threshold] += int((self.read(copied < 255 * threshold) != letters).sum())
        return many, wrong

    def read(self, copies: np.ndarray) -> np.ndarray:
        """The letter of each square of a copy, wherever it has come to lie by a pixel."""
        high, wide = (new / old for new, old in zip(copies.shape[1:], self.seen.shape[1:], strict=True))
        patterns = _normal(zoom(self.seen, (1, high, wide), order=1))
        moved = (np.roll(copies, (down, aside), (1, 2)) for down in (-1, 0, 1) for aside in (-1, 0, 1))
        likeness = np.stack([_normal(one) @ patterns.T for one in moved]).max(axis=0)
        return self.letters[likeness.argmax(axis=1)]


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


def _noise(piece: Piece, seed: int) -> Piece:
    """As wide and high in the same yarns, every stitch in any of them."""
    dice, names = random.Random(seed + 7), [yarn.name for yarn in piece.yarns]
    drawn = ([dice.choice(names) for _ in range(piece.fabric.columns)] for _ in piece.fabric.rows)
    rows = (FabricRow(merged(Run(1, Stitch(name)) for name in row)) for row in drawn)
    return replace(piece, fabric=Fabric(tuple(rows)), said={})


def _normal(some: np.ndarray) -> np.ndarray:
    """Every square as a row of numbers whose middle is 0 and whose length 1."""
    flat = some.reshape(len(some), -1).astype(np.float32)
    flat = flat - flat.mean(axis=1, keepdims=True)
    return flat / np.maximum(np.linalg.norm(flat, axis=1, keepdims=True), 1e-9)


def random_palette(seed: int, yarns: int = MOST_IN_KEY) -> Piece:
    """A sheet of noise in so many yarns, in colours of all kinds."""
    dice, letters = random.Random(seed), LETTERS[:yarns]
    named = "".join(f"  y{letter}: {{colour: '#{dice.randrange(1 << 24):06x}'}}\n" for letter in letters)
    symbols = "".join(f"  '{letter}': y{letter}\n" for letter in letters)
    lines = "".join("      " + "".join(dice.choice(letters) for _ in range(30)) + "\n" for _ in range(50))
    head = "plan: 1\ntitle: Beach huts\ngauge: {stitches: 20, rows: 28}\n"
    return load_text(f"{head}yarns:\n{named}symbols:\n{symbols}rows:\n  - chart: |\n{lines}", "huts.yaml", {}).piece


def main() -> Iterator[str]:
    """A line for each piece and paper."""
    import tempfile

    from companion.commands.given import read_plan
    from companion.plan.demo import demo_plans

    pieces = {path.stem: read_plan(path.stem).piece for path in demo_plans()}
    pieces |= {f"palette {seed}": random_palette(seed) for seed in range(1, 11)}
    for name, piece in pieces.items():
        for paper in PAPERS:
            with tempfile.TemporaryDirectory() as folder:
                many, wrong = Machine(piece, "tints", paper, Path(folder)).misread()
            yield f"{name} on {paper}: {many} letters, misread {wrong}"


if __name__ == "__main__":
    for line in main():
        print(line, flush=True)
