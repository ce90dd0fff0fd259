"""A first chart: every stitch in the yarn it wants, but for a price wherever two yarns touch (a Potts model).

Rows and columns are drawn anew in turn, each the best there is while those beside it stay (Viterbi). Lines that do
not touch are drawn together.
"""

from __future__ import annotations

import numpy as np

from companion.drafts.stitches import Whole

_ROUNDS = 3


def smoothed(wants: Whole, price: int) -> Whole:
    """The yarn of every stitch (rows x stitches, each a number). ``wants``: rows x yarns x stitches; ``price``: where
    two stitches beside or above each other differ."""
    costs = np.ascontiguousarray(wants.transpose(0, 2, 1))
    labels: Whole = costs.argmin(axis=2)
    if price == 0:
        return labels
    for _ in range(_ROUNDS):
        before = labels.copy()
        labels = _lines(costs, labels, price)
        labels = _lines(costs.transpose(1, 0, 2), labels.T, price).T
        if np.array_equal(before, labels):
            break
    return labels


def _lines(costs: Whole, labels: Whole, price: int) -> Whole:
    """The lines along the first axis drawn anew, every second one and then the others."""
    labels = labels.copy()
    states = np.arange(costs.shape[2])
    for first in (0, 1):
        lines = np.arange(first, len(costs), 2)
        own = costs[lines].copy()
        for beside in (lines - 1, lines + 1):
            there = (beside >= 0) & (beside < len(costs))
            own[there] += price * (labels[beside[there]][..., np.newaxis] != states)
        labels[lines] = _shortest(own, price)
    return labels


def _shortest(costs: Whole, price: int) -> Whole:
    """For every line the labels that cost least, a change of label costing ``price``."""
    many, along, states = costs.shape
    cost = costs[:, 0].copy()
    ways = np.zeros((along, many, states), np.int64)
    own = np.arange(states)
    for at in range(1, along):
        best = cost.argmin(axis=1)
        least = cost[np.arange(many), best] + price
        is_new = least[:, np.newaxis] < cost
        ways[at] = np.where(is_new, best[:, np.newaxis], own)
        cost = np.where(is_new, least[:, np.newaxis], cost) + costs[:, at]
    labels = np.zeros((many, along), np.int64)
    labels[:, -1] = cost.argmin(axis=1)
    for at in range(along - 1, 0, -1):
        labels[:, at - 1] = ways[at][np.arange(many), labels[:, at]]
    return labels
