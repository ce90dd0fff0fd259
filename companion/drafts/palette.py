"""Which colours a picture is knitted in: yarns to buy, or the best of those at hand. The same picture gives the same.
"""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from companion.drafts.colours import Floats, difference, lab, light_of_oklab, oklab, xyz
from companion.drafts.stitches import ACROSS, UP, Looks

MOST_COLOURS = 12

_WEIGHTS = np.array([1.0, 2.0, 2.0])
"""Differences of hue and chroma in OKLab count double, so that they count about as in CIEDE2000 (tried on nine
pictures: the mean CIEDE2000 of the nearest colours is 3 % smaller)."""

_CELL = 1 / 40
"""Colours that lie in one cell so wide count as their mean."""

_STEPS = 12
_SOFT = 0.02
_TRIED = 12
_EDGE = 0.04
"""Parts that differ so much from one beside them, in OKLab, lie where two colours meet and count a half."""


def to_buy(looks: Looks, most: int) -> list[Floats]:
    """Linear light of 1, 2 ... ``most`` colours that make a picture, fewer where it has fewer: k-medians in OKLab,
    each set beginning with the one before and the colour that mends it most."""
    colours = oklab(xyz(looks.light)) * _WEIGHTS
    colours, weight = _gathered(colours, weighed(colours, looks))
    centres = [np.average(colours, axis=0, weights=weight)]
    found = []
    while True:
        middle = _settled(colours, weight, np.array(centres))
        found.append(light_of_oklab(middle / _WEIGHTS))
        apart = _apart(colours, middle).min(axis=1)
        if len(found) == min(most, len(colours)) or apart.max() < 1e-6:
            return found
        tried = np.argsort(-weight * apart, kind="stable")[:_TRIED]
        left = [(weight * np.minimum(apart, _apart(colours, colours[[one]])[:, 0])).sum() for one in tried]
        centres = [*middle, colours[tried[int(np.argmin(left))]]]


def _gathered(colours: Floats, weight: Floats) -> tuple[Floats, Floats]:
    """The means of colours that are nearly alike, and their weights: so many fewer are worked through. Those that
    weigh nothing are left out."""
    colours, weight = colours[weight > 0], weight[weight > 0]
    cell = np.floor(colours / _CELL).astype(np.int64) @ np.array([1 << 20, 1 << 10, 1])
    _, number = np.unique(cell, return_inverse=True)
    total = np.bincount(number, weight)
    mean = np.stack([np.bincount(number, weight * colours[:, i]) for i in range(3)], axis=-1) / total[:, np.newaxis]
    return mean, total.astype(np.float64)


def weighed(look: Floats, looks: Looks) -> Floats:
    """How much of the picture every colour makes; what lies inside an area counts more than where two blend."""
    rows, stitches = looks.of_part.shape[:2]
    number = looks.of_part.reshape(rows, stitches, UP, ACROSS)[::-1, ::-1].transpose(0, 2, 1, 3)
    flat = look[number.reshape(rows * UP, stitches * ACROSS)]
    edge = np.zeros(flat.shape[:2])
    for axis in (0, 1):
        step = np.sqrt((np.diff(flat, axis=axis) ** 2).sum(axis=-1))
        low, high = [slice(None)] * 2, [slice(None)] * 2
        low[axis], high[axis] = slice(None, -1), slice(1, None)
        edge[tuple(low)] = np.maximum(edge[tuple(low)], step)
        edge[tuple(high)] = np.maximum(edge[tuple(high)], step)
    inside = 1 / (1 + (edge / _EDGE) ** 2)
    inside *= np.repeat(np.repeat(looks.there[::-1, ::-1], UP, axis=0), ACROSS, axis=1)
    return np.bincount(number.ravel(), inside.ravel(), len(look)).astype(np.float64)


def _apart(colours: Floats, centres: Floats) -> Floats:
    """Squared distances, colours x centres."""
    found: Floats = ((colours[:, np.newaxis] - centres[np.newaxis]) ** 2).sum(axis=-1)
    return found


def _settled(colours: Floats, weight: Floats, centres: Floats) -> Floats:
    """The centres moved to the middle of what is nearest to them, until they stay. What is far away draws no more
    than what is near (Weiszfeld's steps)."""
    for _ in range(_STEPS):
        apart = _apart(colours, centres)
        nearest = apart.argmin(axis=1)
        pull = weight / (np.sqrt(apart.min(axis=1)) + _SOFT)
        held = np.bincount(nearest, pull, len(centres))
        total = np.stack([np.bincount(nearest, pull * colours[:, i], len(centres)) for i in range(3)], axis=-1)
        moved = np.where(held[:, np.newaxis] > 0, total / np.maximum(held, 1e-12)[:, np.newaxis], centres)
        if np.abs(moved - centres).max() < 5e-4:
            return moved
        centres = moved
    return centres


def at_hand(looks: Looks, yarns: Floats, most: int) -> list[int]:
    """Which of the yarns (CIELAB, one a row) make a picture best, ``most`` at most, in their order: the one that
    mends most is added, again and again, and then yarns are exchanged as long as that mends it (k-median)."""
    apart = difference(lab(looks.light)[:, np.newaxis], yarns[np.newaxis])
    chosen: list[int] = []

    def lost(some: Sequence[int]) -> float:
        return float((apart[:, some].min(axis=1) * looks.many).sum())

    while len(chosen) < min(most, len(yarns)):
        others = [one for one in range(len(yarns)) if one not in chosen]
        chosen.append(min(others, key=lambda one: lost([*chosen, one])))
    is_better = len(chosen) < len(yarns)
    while is_better:
        exchanges = [
            [*chosen[:at], one, *chosen[at + 1:]]
            for at in range(len(chosen)) for one in range(len(yarns)) if one not in chosen
        ]
        best = min(exchanges, key=lost)
        is_better = lost(best) < lost(chosen) - 1e-9
        chosen = best if is_better else chosen
    return sorted(chosen)
