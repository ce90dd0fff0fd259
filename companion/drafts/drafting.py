"""Charts of a picture, each at a price: how different from the picture a knitter lets it look to spare a strand."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from companion.drafts.colours import hexes, lab, light_of
from companion.drafts.held import Held, check_inside, unknown_yarn
from companion.drafts.names import colour_names, symbols_of
from companion.drafts.palette import at_hand, to_buy
from companion.drafts.smooth import smoothed
from companion.drafts.stash import AtHand
from companion.drafts.stitches import UNIT, Looks, There, Whole, wants_of
from companion.knitting.cloth.fabric import Fabric, FabricRow, Run, Stitch, Yarn, merged
from companion.knitting.cloth.rows import Rows
from companion.knitting.howfar import HowFar, untold
from companion.knitting.reckoning.bargains import HELD, Bargaining
from companion.knitting.strands.limits import Carry
from companion.knitting.strands.plan import plan_strands
from companion.knitting.value import Record

USUAL_PRICE = 40
"""Of a strand, in stitches x CIEDE2000: photographs keep their looks, and drawings lose their specks."""

PRICES = (0, 10, 20, 40, 80, 160)
"""Those laid before a knitter; 0 is every stitch in the colour most like it. Above the last a chart looks blocky."""

DEAREST = 1280
"""No higher price is tried to reach a wanted number of strands."""

MOST_STITCHES = 40_000
"""A larger chart takes longer than anybody waits."""

_SMOOTHING = 15
"""The first chart is smoothed at this part of the price (tried on photographs and drawings)."""

_TRIES = 6

NO_STITCH = ""
"""In the place of a yarn."""


class Drafted(Record):
    """One chart. ``grid``: the names of the yarns, rows from the cast-on up, in each from column 1 on, "" where there
    is no stitch; ``yarns``: those that it uses, the one with most stitches first; ``difference``: the mean CIEDE2000
    of the stitches from the picture."""

    price: int
    yarns: tuple[Yarn, ...]
    grid: tuple[tuple[str, ...], ...]
    strands: int
    difference: float


class Drafting:
    """The charts of one picture in one set of yarns, each drafted once."""

    def __init__(self, looks: Looks, yarns: Sequence[Yarn], held: Sequence[Held], reach: int) -> None:
        self.yarns, self._reach = tuple(yarns), reach
        colours = lab(light_of(yarn.colour for yarn in yarns))
        self._names = [yarn.name for yarn in yarns]
        self._wants = _holding(wants_of(looks, colours), held, self._names)
        self._stitches = int(looks.there.sum())
        if not looks.there.all():
            self._names.append(NO_STITCH)
            self._wants = _outlined(self._wants, looks.there)
        self._drafted: dict[int, Drafted] = {}

    def at(self, price: int) -> Drafted:
        """The chart at a price; of price 0 every stitch has the yarn it wants most."""
        if price not in self._drafted:
            self._drafted[price] = self._draft(price)
        return self._drafted[price]

    def with_strands(self, wanted: int, told: HowFar = untold) -> Drafted:
        """The chart most like the picture of those that take so many strands at most; where no price makes so few,
        the one with the fewest strands that was found."""
        low, high = 0, USUAL_PRICE
        while self.at(high).strands > wanted and high < DEAREST:
            low, high = high, 2 * high
        for number in range(_TRIES):
            told(number / _TRIES)
            middle = (low + high) // 2
            if middle in (low, high):
                break
            low, high = (low, middle) if self.at(middle).strands <= wanted else (middle, high)
        found = self._drafted.values()
        enough = [one for one in found if one.strands <= wanted]
        if enough:
            return min(enough, key=lambda one: (one.difference, one.price))
        return min(found, key=lambda one: (one.strands, one.difference, one.price))

    def _draft(self, price: int) -> Drafted:
        names = self._names
        labels = smoothed(self._wants, price * UNIT // _SMOOTHING)
        grid = [[names[number] for number in row] for row in labels.tolist()]
        bargaining = Bargaining(grid, names, self._wants.tolist(), price * UNIT, self._reach)
        if price:
            bargaining.settle()
        many = {name: sum(row.count(name) for row in bargaining.grid) for name in names}
        used = sorted((yarn for yarn in self.yarns if many[yarn.name]), key=lambda yarn: -many[yarn.name])
        rows = tuple(map(tuple, bargaining.grid))
        strands = bargaining.strands if NO_STITCH not in names else _strands(rows, self._reach)
        return Drafted(price, tuple(used), rows, strands, bargaining.wanting / UNIT / self._stitches)


def _holding(wants: Whole, holds: Sequence[Held], names: list[str]) -> Whole:
    """The wants, those of stitches that are held beyond any price but for their yarn."""
    check_inside(tuple(holds), wants.shape[0], wants.shape[2])
    for hold in holds:
        if hold.yarn and hold.yarn not in names:
            raise unknown_yarn(hold.yarn, names)
        part = wants[hold.first_row - 1:hold.last_row, :, hold.first - 1:hold.last]
        kept = np.full((part.shape[0], part.shape[2]), names.index(hold.yarn)) if hold.yarn else part.argmin(axis=1)
        others = np.arange(len(names))[np.newaxis, :, np.newaxis] != kept[:, np.newaxis]
        part[:] = part % HELD + HELD * others
    return wants


def _outlined(wants: Whole, there: There) -> Whole:
    """The wants with one more, for no stitch, which is held where none is there, and nowhere else to be had."""
    outside = np.where(there, HELD, 0)[:, np.newaxis]
    inside = np.where(there[:, np.newaxis], wants, HELD)
    return np.concatenate([inside, outside], axis=1)


def _strands(grid: Sequence[Sequence[str]], reach: int) -> int:
    """The fewest strands of a shaped chart, by the solver: how they are counted in flat work does not hold for it."""
    rows = (FabricRow(merged(Run(1, Stitch(name) if name else None) for name in row)) for row in grid)
    return len(plan_strands(Rows(Fabric(tuple(rows))), Carry(reach)).strands.first)


def yarns_to_buy(looks: Looks, most: int) -> list[tuple[Yarn, ...]]:
    """Yarns of 1, 2 ... ``most`` colours that make the picture best, named after web colours."""
    found = []
    for light in to_buy(looks, most):
        colours = list(dict.fromkeys(hexes(light)))
        names = colour_names(colours)
        found.append(tuple(map(Yarn, names, colours, symbols_of(names))))
    return found


def yarns_at_hand(looks: Looks, stash: Sequence[AtHand], most: int) -> tuple[Yarn, ...]:
    """Those of the stash that make the picture best."""
    chosen = [stash[number] for number in at_hand(looks, lab(light_of(one.colour for one in stash)), most)]
    symbols = symbols_of([one.name for one in chosen])
    return tuple(Yarn(one.name, one.colour, symbol) for one, symbol in zip(chosen, symbols, strict=True))


def fewest_colours(charts: Sequence[Drafted], within: float) -> Drafted:
    """Of charts with ever more colours the first that looks no more than ``within`` worse than the last one."""
    return next(chart for chart in charts if chart.difference <= charts[-1].difference + within)


