"""What charts lose of a picture at equal strands: ours, a Potts model alone, and small areas merged.

The pictures are scikit-image's, and two drawn here. Nearest colours are where all begin: "60 %" is so much of their
strands, and what a way has lost there is its mean CIEDE2000 more than theirs, read off between its charts. Every way
has the same yarns and wants, and its strands are counted alike. Processor time in seconds, since there is no peer;
and the distance from the true optimum on strips narrow enough to try every row (dynamic programming).
"""

from __future__ import annotations

import sys
from collections.abc import Iterator
from fractions import Fraction
from itertools import product
from pathlib import Path
from time import process_time

import numpy as np
import skimage.data

sys.path.insert(0, str(Path(__file__).resolve().parents[2]))

from companion.drafts import drafting, picture, smooth, stitches
from companion.drafts.colours import lab, light_of
from companion.knitting.cloth.areas import Area
from companion.knitting.cloth.chains import chains
from companion.knitting.cloth.fabric import Gauge
from companion.knitting.reckoning.bargains import Bargaining
from companion.knitting.strands.counting import StrandCount
from tests.drafts import harbour

FOLDER = Path(skimage.data.__file__).parent
PHOTOGRAPHS = (
    "astronaut.png", "chelsea.png", "coffee.png", "rocket.jpg", "hubble_deep_field.jpg", "motorcycle_left.png",
    "ihc.png",
)  # fmt: skip
GAUGE = Gauge(Fraction(20), Fraction(28))
REACH = 3
COLOURS = 6
PARTS = (0.6, 0.4, 0.25)
PRICES = (5, 10, 20, 40, 60, 80, 120, 160, 240, 320, 480)
Chart = tuple[float, float]
"""Strands, mean CIEDE2000."""


def looks(source: picture.Picture, across: int) -> stitches.Looks:
    """A picture laid on so many stitches."""
    rows = stitches.rows_of(source, across, GAUGE)
    return stitches.looks_of(stitches.parts_of(source, rows, across, np.ones(3)))


def pictures() -> Iterator[tuple[str, bool, picture.Picture]]:
    """Name, whether it is a photograph, and the picture."""
    for name in PHOTOGRAPHS:
        yield name, True, picture.opened(FOLDER / name)
    for name, drawn in (("harbour", harbour.town()), ("boat", harbour.boat())):
        yield name, False, picture.Picture(drawn, None)


class Wanted:
    """One picture in its yarns."""

    def __init__(self, seen: stitches.Looks, colours: int) -> None:
        yarns = drafting.yarns_to_buy(seen, colours)[-1]
        self.names = [yarn.name for yarn in yarns]
        self.wants = stitches.wants_of(seen, lab(light_of(yarn.colour for yarn in yarns)))
        self.many = self.wants.shape[0] * self.wants.shape[2]

    def chart(self, labels: np.ndarray) -> Chart:
        """What a chart comes to."""
        grid = [[self.names[label] for label in row] for row in labels.tolist()]
        chosen = np.take_along_axis(self.wants, labels[:, np.newaxis], axis=1)
        return StrandCount(grid, REACH).strands, chosen.sum() / stitches.UNIT / self.many

    def ours(self, price: int) -> Chart:
        """Chains and rows."""
        labels = smooth.smoothed(self.wants, price * stitches.UNIT // drafting._SMOOTHING)
        grid = [[self.names[label] for label in row] for row in labels.tolist()]
        found = Bargaining(grid, self.names, self.wants.tolist(), price * stitches.UNIT, REACH)
        found.settle()
        return found.strands, found.wanting / stitches.UNIT / self.many

    def potts(self, price: int) -> Chart:
        """The first chart alone."""
        return self.chart(smooth.smoothed(self.wants, price * stitches.UNIT // 10))

    def merged(self) -> Iterator[Chart]:
        """Nearest colours, the smallest area going over to the yarn beside it that suits it best, again and again."""
        labels = self.wants.argmin(axis=1)
        for least in (2, 3, 4, 6, 8, 12, 16, 24, 32, 48, 64, 96, 128, 192, 256):
            while self._merge(labels, least):
                pass
            yield self.chart(labels)

    def _merge(self, labels: np.ndarray, least: int) -> bool:
        grid = [[self.names[label] for label in row] for row in labels.tolist()]
        parts = [part for part in _areas(grid) if part.stitches < least]
        for part in sorted(parts, key=lambda part: part.stitches):
            self._give(labels, part)
        return bool(parts)

    def _give(self, labels: np.ndarray, part: Area) -> None:
        cells = [(row, column - 1) for row, column in part.cells]
        if any(self.names[labels[cell]] != part.yarn for cell in cells):
            return
        beside = {
            int(labels[row + up, column + over])
            for row, column in cells for up, over in ((1, 0), (-1, 0), (0, 1), (0, -1))
            if 0 <= row + up < labels.shape[0] and 0 <= column + over < labels.shape[1]
        } - {self.names.index(part.yarn)}  # fmt: skip
        if beside:
            rows, columns = zip(*cells, strict=True)
            best = min(sorted(beside), key=lambda yarn: int(self.wants[rows, yarn, columns].sum()))
            for cell in cells:
                labels[cell] = best


def _areas(grid: list[list[str]]) -> list[Area]:
    """The whole areas among the chains."""
    whole: dict[tuple[int, int], Area] = {}
    for part in sorted(chains(grid), key=lambda part: part.stitches):
        whole.update(dict.fromkeys(part.cells, part))
    return list(dict.fromkeys(whole.values()))


def lost_at(charts: list[Chart], strands: float) -> float:
    """The mean CIEDE2000 at so many strands, on the straight line between the charts beside it."""
    below = max((chart for chart in charts if chart[0] <= strands), default=None)
    above = min((chart for chart in charts if chart[0] >= strands), default=None)
    if below is None or above is None:
        return float("nan")
    if above[0] == below[0]:
        return min(above[1], below[1])
    return below[1] + (above[1] - below[1]) * (strands - below[0]) / (above[0] - below[0])


def frontier() -> None:
    """The table of ways."""
    found: dict[tuple[bool, str], list[list[float]]] = {}
    for name, is_photograph, source in pictures():
        wanted = Wanted(looks(source, 80), COLOURS)
        nearest = wanted.chart(wanted.wants.argmin(axis=1))
        ways = {
            "ours": [wanted.ours(price) for price in PRICES],
            "Potts alone": [wanted.potts(price) for price in (1, 2, 5, 10, 20, 40, 80, 120, 160, 240, 320)],
            "small areas merged": list(wanted.merged()),
        }
        print(f"{name:<24} nearest colours {nearest[0]:>4} strands ({nearest[1]:.2f})")
        for way, charts in ways.items():
            lost = [lost_at([nearest, *charts], part * nearest[0]) - nearest[1] for part in PARTS]
            found.setdefault((is_photograph, way), []).append(lost)
            print(f"    {way:<20}", *(f"{each:7.3f}" for each in lost))
    for (is_photograph, way), each in found.items():
        kind = "photographs" if is_photograph else "drawings"
        reached = [[one for one in column if one == one] for column in zip(*each, strict=True)]
        mean = [f"{np.mean(column):.3f} ({len(column)} of {len(each)})" if column else "-" for column in reached]
        print(f"{kind:<12} {way:<20} lost at {PARTS}:", *mean)


def times() -> None:
    """Processor time at 120 x 160 in 8 colours."""
    taken = []
    for _name, _, source in pictures():
        source = picture.Picture(_to_shape(source.codes, 120, 160), None)
        start = process_time()
        Wanted(looks(source, 120), 8).ours(drafting.USUAL_PRICE)
        taken.append(process_time() - start)
    print(f"120 x 160 in 8 colours: mean {np.mean(taken):.2f} s, worst {max(taken):.2f} s")


def _to_shape(codes: np.ndarray, across: int, rows: int) -> np.ndarray:
    """The middle of a picture that makes so many stitches and rows."""
    high, wide = codes.shape[:2]
    wanted = Fraction(rows * 20, across * 28)
    height, width = (high, int(high / wanted)) if high < wide * wanted else (int(wide * wanted), wide)
    top, left = (high - height) // 2, (wide - width) // 2
    return codes[top:top + height, left:left + width]


def optimum(wants: np.ndarray, price: int) -> int:
    """The least E there is on a strip, every row tried above every other."""
    rows, yarns, wide = wants.shape
    every = list(product(range(yarns), repeat=wide))
    grids = [[list(map(str, row))] for row in every]
    alone = np.array([StrandCount(grid, REACH).strands for grid in grids])
    more = {
        goes_left: np.array([
            [StrandCount([*low, *up], REACH, is_leftward=goes_left).strands for low in grids] for up in grids
        ]) - alone[np.newaxis]
        for goes_left in (True, False)
    }  # fmt: skip
    own = wants[:, every, np.arange(wide)].sum(axis=-1)
    cost = own[0] + price * alone
    for row in range(1, rows):
        cost = (cost[np.newaxis] + price * more[row % 2 == 1]).min(axis=1) + own[row]
    return int(cost.min())


def strips() -> None:
    """How far from the optimum strips of photographs are."""
    over = []
    for name in PHOTOGRAPHS[:4]:
        wanted = Wanted(looks(picture.opened(FOLDER / name), 80), 3)
        for left in range(4, 76, 12):
            wants = wanted.wants[10:40, :, left:left + 5]
            for price in (10_000, 40_000):
                best = optimum(wants, price)
                names = [str(number) for number in range(wants.shape[1])]
                labels = smooth.smoothed(wants, price // drafting._SMOOTHING)
                grid = [[names[label] for label in row] for row in labels.tolist()]
                found = Bargaining(grid, names, wants.tolist(), price, REACH)
                found.settle()
                over.append((found.wanting + price * found.strands) / best - 1)
    mean, worst = 100 * np.mean(over), 100 * max(over)
    print(f"strips of 5 x 30: {mean:.2f} % above the optimum on average, {worst:.2f} % at worst")


if __name__ == "__main__":
    frontier()
    times()
    strips()
