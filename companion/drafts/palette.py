"""Which colours a picture is knitted in: yarns to buy, or the best of those at hand. The same picture gives the same.
"""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from companion.drafts.colours import Floats, codes, difference, light_of_oklab, oklab, xyz
from companion.drafts.stitches import ACROSS, UP, Looks, Parts

MOST_COLOURS = 12

_BITS = 5
_STEPS = 30
_TRIED = 12
_EDGE = 0.04
"""Parts that differ so much from one beside them, in OKLab, lie where two colours meet and count a half."""


def to_buy(parts: Parts, most: int) -> list[Floats]:
    """Linear light of 1, 2 ... ``most`` colours that make a picture, fewer where it has fewer: k-means in OKLab, each
    beginning with the one before and the colour that mends it most."""
    colours, weight = _histogram(parts)
    centres = [np.average(colours, axis=0, weights=weight)]
    found = []
    while True:
        middle = _settled(colours, weight, np.array(centres))
        found.append(light_of_oklab(middle))
        apart = _apart(colours, middle).min(axis=1)
        if len(found) == min(most, len(colours)) or apart.max() < 1e-6:
            return found
        tried = np.argsort(-weight * apart, kind="stable")[:_TRIED]
        left = [(weight * np.minimum(apart, _apart(colours, colours[[one]])[:, 0])).sum() for one in tried]
        centres = [*middle, colours[tried[int(np.argmin(left))]]]


def _histogram(parts: Parts) -> tuple[Floats, Floats]:
    """OKLab colours of a picture, and how much of it each makes; those inside areas count more than where two
    colours blend."""
    light = parts.light.reshape(-1, 3)
    look = oklab(xyz(light))
    weight = _inside(look.reshape(parts.rows, parts.stitches, UP, ACROSS, 3)).ravel()
    code = codes(light) >> (8 - _BITS)
    key = (code[:, 0] << 2 * _BITS) + (code[:, 1] << _BITS) + code[:, 2]
    total = np.bincount(key, weight)
    there = np.flatnonzero(total)
    mean = np.stack([np.bincount(key, weight * look[:, channel])[there] for channel in range(3)], axis=-1)
    return mean / total[there][:, np.newaxis], total[there]


def _inside(look: Floats) -> Floats:
    """How far every part lies inside an area, 0 to 1."""
    rows, stitches = look.shape[:2]
    flat = look.transpose(0, 2, 1, 3, 4).reshape(rows * UP, stitches * ACROSS, 3)
    edge = np.zeros(flat.shape[:2])
    for axis in (0, 1):
        step = np.sqrt((np.diff(flat, axis=axis) ** 2).sum(axis=-1))
        low, high = [slice(None)] * 2, [slice(None)] * 2
        low[axis], high[axis] = slice(None, -1), slice(1, None)
        edge[tuple(low)] = np.maximum(edge[tuple(low)], step)
        edge[tuple(high)] = np.maximum(edge[tuple(high)], step)
    inside = 1 / (1 + (edge / _EDGE) ** 2)
    return inside.reshape(rows, UP, stitches, ACROSS).transpose(0, 2, 1, 3)


def _apart(colours: Floats, centres: Floats) -> Floats:
    """Squared distances, colours x centres."""
    found: Floats = ((colours[:, np.newaxis] - centres[np.newaxis]) ** 2).sum(axis=-1)
    return found


def _settled(colours: Floats, weight: Floats, centres: Floats) -> Floats:
    """The centres moved to the means of what is nearest to them, until they stay."""
    for _ in range(_STEPS):
        nearest = _apart(colours, centres).argmin(axis=1)
        held = np.bincount(nearest, weight, len(centres))
        total = np.stack([np.bincount(nearest, weight * colours[:, i], len(centres)) for i in range(3)], axis=-1)
        moved = np.where(held[:, np.newaxis] > 0, total / np.maximum(held, 1e-12)[:, np.newaxis], centres)
        if np.abs(moved - centres).max() < 1e-5:
            return moved
        centres = moved
    return centres


def at_hand(looks: Looks, yarns: Floats, most: int) -> list[int]:
    """Which of the yarns (CIELAB, one a row) make a picture best, ``most`` at most, in their order: the one that
    mends most is added, again and again, and then yarns are exchanged as long as that mends it (k-median)."""
    apart = difference(looks.lab[:, np.newaxis], yarns[np.newaxis])
    chosen: list[int] = []

    def lost(some: Sequence[int]) -> float:
        return float((apart[:, some].min(axis=1) * looks.many).sum())

    while len(chosen) < min(most, len(yarns)):
        chosen.append(min((one for one in range(len(yarns)) if one not in chosen), key=lambda one: lost([*chosen, one])))
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
