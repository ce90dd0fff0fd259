"""The outline of a piece as its hands shape it: what each row makes and loses at the edge where it begins and at the
one where it ends; and rows that do it alike taken together, as the trade tells them.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from companion.knitting.cloth.rows import Rows, Side
from companion.knitting.cloth.shaping import shapings
from companion.knitting.value import Record


class Change(Record):
    """So many stitches more, or with a minus fewer, at the edge where a row begins and at the one where it ends."""

    start: int
    end: int


EVEN = Change(0, 0)


def change_of(rows: Rows, index: int) -> Change:
    """What a row makes and loses at its edges."""
    begins = "right" if rows[index].toward == "left" else "left"
    found = [one for one in shapings(rows, index) if one.edge != "between"]
    start = sum(one.stitches for one in found if one.edge == begins)
    return Change(start, sum(one.stitches for one in found) - start)


def change_beside(rows: Rows, index: int) -> Change:
    """What a row of a part makes and loses at the edge beside its opening, as the start, and at its outer one."""
    inner = "left" if rows[index].part == "right" else "right"
    found = [one for one in shapings(rows, index) if one.edge != "between"]
    beside = sum(one.stitches for one in found if one.edge == inner)
    return Change(beside, sum(one.stitches for one in found) - beside)


class Stint(Record):
    """Rows told together: ``change`` is done ``times`` times, in the next row and then in every ``every``-th one, or
    (not ``is_next``) first in the ``every``-th. ``side``: those are just the rows with this side toward the knitter;
    "" = they are not told so. ``rows``: so many rows in all. Rows worked even are an ``EVEN`` change."""

    change: Change
    rows: int
    times: int = 1
    every: int = 1
    is_next: bool = True
    side: Side | None = None


def stints(changes: Sequence[Change], sides: Sequence[Side]) -> Iterator[Stint]:
    """Rows in working order, each with its change and the side toward the knitter, taken together from the first on:
    as many as do the same at even distances."""
    done, shaped = 0, [row for row, change in enumerate(changes) if change != EVEN]
    while shaped:
        alike = _alike(shaped, changes)
        first, times, every = shaped[0], len(alike), alike[1] - alike[0] if len(alike) > 1 else 1
        del shaped[:times]
        before = first - done
        even = before if before > 1 else 0
        side = sides[first] if every == 2 and _is_every(sides, done + even, alike) else None
        is_next = side is None and (every == 1 or before < every - 1)
        if not side:
            even = before if is_next else before - (every - 1)
        if even:
            yield Stint(EVEN, even)
        yield Stint(changes[first], alike[-1] + 1 - done - even, times, every, is_next, side)
        done = alike[-1] + 1
    if done < len(changes):
        yield Stint(EVEN, len(changes) - done)


def _alike(shaped: Sequence[int], changes: Sequence[Change]) -> Sequence[int]:
    """The rows from the first one on that do what it does, as far apart as the first two."""
    times, first = 1, shaped[0]
    every = shaped[1] - first if len(shaped) > 1 else 0
    while times < len(shaped) and (shaped[times], changes[shaped[times]]) == (first + times * every, changes[first]):
        times += 1
    return shaped[:times]


def _is_every(sides: Sequence[Side], done: int, alike: Sequence[int]) -> bool:
    """Whether these rows are all of their side from the row ``done`` to the last of them."""
    side = sides[alike[0]]
    return list(alike) == [row for row in range(done, alike[-1] + 1) if sides[row] == side]
