"""Where a picture that is transparent in places has stitches: the outline nearest to it that hands can work.

A row is one stretch of stitches. At the edge where it begins any number is bound off or cast on; at the edge where it
ends any number is added, and no more are lost than one decrease takes. So each edge may come in freely in every
second row alone. Of all outlines that keep to this the one is chosen that has fewest stitches where the picture is
not, and leaves out fewest where it is: both edges by dynamic programming, row by row from the cast-on up, each on its
own side of a spine that runs up through the picture.
"""

from __future__ import annotations

import numpy as np

from companion.drafts.colours import Floats
from companion.drafts.stitches import Parts, There, Whole
from companion.knitting.cloth.outlines import MOST_DECREASED
from companion.knitting.value import Record

HALF = 1
"""So many stitches at least lie on either side of the spine: what is lost and made at both edges has room."""

BEND = 0.1
"""What it costs an edge to be shaped in a row, and the spine to move sideways, in stitches that are there: so no edge
is shaped to and fro for parts of a stitch."""

_ASIDE = 0.01
"""Of columns with as much of the picture around them the spine takes the middle one, which leaves both edges free."""

_NEXT_TO_NOTHING = 1e-9


class Outline(Record):
    """The rows and the stitches of a picture that are knitted, both ends counted, from 0; and which of those are
    ``there``: rows from the cast-on up, in each from the right edge. ``missed``: so much of the picture, 0 to 1, lies
    outside."""

    first_row: int
    last_row: int
    first: int
    last: int
    there: There
    missed: float

    def part_of(self, parts: Parts) -> Parts:
        """What lies within."""
        rows, stitches = slice(self.first_row, self.last_row + 1), slice(self.first, self.last + 1)
        return Parts(parts.light[rows, stitches], parts.cover[rows, stitches])


def outline_of(cover: Floats) -> Outline | None:
    """The outline of a picture. ``cover``: how far each stitch is there, 0 to 1, rows from the cast-on up, in each
    from the right edge. None: nowhere more than half of a stitch is there, or it is too narrow to be knitted."""
    gain = cover - 0.5
    rows = np.flatnonzero((gain > 0).any(axis=1))
    if not len(rows) or cover.shape[1] <= 2 * HALF:
        return None
    first_row, last_row = int(rows[0]), int(rows[-1])
    gain = gain[first_row:last_row + 1]
    spine = _spine(gain)
    right = _edge(gain, spine, is_start=True)
    left = gain.shape[1] - 1 - _edge(gain[:, ::-1], gain.shape[1] - 1 - spine, is_start=False)
    first, last = int(right.min()), int(left.max())
    columns = np.arange(first, last + 1)
    there = (columns >= right[:, np.newaxis]) & (columns <= left[:, np.newaxis])
    kept = cover[first_row:last_row + 1, first:last + 1][there].sum()
    return Outline(first_row, last_row, first, last, there, float(1 - kept / cover.sum()))


def _spine(gain: Floats) -> Whole:
    """A column for every row, moving by one at most, that lies in as much of the picture as there is."""
    wide = gain.shape[1]
    columns = np.arange(wide)
    beside = np.full(gain.shape, -np.inf)
    through = _best_through(gain)
    is_best = through >= through.max(axis=1, keepdims=True) - _NEXT_TO_NOTHING
    middle = (is_best * columns).sum(axis=1, keepdims=True) / is_best.sum(axis=1, keepdims=True)
    worth = through - _ASIDE * np.abs(columns - middle)
    beside[:, HALF:wide - HALF] = worth[:, HALF:wide - HALF]
    best = beside[0]
    came: list[Whole] = []
    for row in beside[1:]:
        ways = np.stack([best, _shifted(best, 1) - BEND, _shifted(best, -1) - BEND])
        way = ways.argmax(axis=0)
        came.append(columns - np.array([0, 1, -1])[way])
        best = ways.max(axis=0) + row
    return _traced(came, int(best.argmax()))


def _best_through(gain: Floats) -> Floats:
    """The most that a stretch of each row gains that holds this stitch."""
    upto, from_ = gain.copy(), gain.copy()
    for column in range(1, gain.shape[1]):
        upto[:, column] += np.maximum(upto[:, column - 1], 0)
        from_[:, -1 - column] += np.maximum(from_[:, -column], 0)
    through: Floats = upto + from_ - gain
    return through


def _shifted(values: Floats, by: int) -> Floats:
    """What lay ``by`` columns before; beyond the ends there is nothing."""
    moved = np.full_like(values, -np.inf)
    if by > 0:
        moved[by:] = values[:-by]
    else:
        moved[:by] = values[-by:]
    return moved


def _edge(gain: Floats, spine: Whole, *, is_start: bool) -> Whole:
    """The first column of every row. ``is_start``: the first row begins at this edge, as every second one does."""
    high, wide = gain.shape
    columns = np.arange(wide)
    lost = np.zeros((high, wide))
    np.cumsum(gain[:, :-1], axis=1, out=lost[:, 1:])  # of what is there, by leaving out all columns before this one
    lost[columns > spine[:, np.newaxis] - HALF] = np.inf
    best = lost[0]
    came: list[Whole] = []
    for row in range(1, high):
        if (row % 2 == 0) == is_start:
            moved = np.full(wide, best.argmin())
        else:  # at most so many lost: from a column that lies no further out than that
            moved = _least_from(best)[np.maximum(columns - MOST_DECREASED, 0)]
        stays = best <= best[moved] + BEND
        came.append(np.where(stays, columns, moved))
        best = np.where(stays, best, best[moved] + BEND) + lost[row]
    return _traced(came, int(best.argmin()))


def _least_from(values: Floats) -> Whole:
    """For every column the one with the least value among it and those after it."""
    least = np.minimum.accumulate(values[::-1])[::-1]
    at = np.where(values == least, np.arange(len(values)), len(values))
    return np.minimum(np.minimum.accumulate(at[::-1])[::-1], len(values) - 1)


def _traced(came: list[Whole], at: int) -> Whole:
    """The columns of a way that ends ``at`` this one, from its beginning."""
    found = [at]
    for row in reversed(came):
        found.append(int(row[found[-1]]))
    return np.array(found[::-1])
