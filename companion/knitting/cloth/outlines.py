"""Where a row's outline lies against the row below: which stitches it takes up, which are bound off first, and on
which of them a strand may still hang and go on.

A strand that hangs over bound-off stitches, or over stitches that wait for the other part of a divided piece, is not
carried past them: it is cut, or waits with them. Where it hangs is counted by the columns in which it was left, as
every carry is. Where rows over which it rested were shaped further in than at their edge it lies one or two stitches
beside that on the needle, and so it is kept though it hangs that far in over what is bound off, or over the other
part's stitches; where it lies is told. Counted on the needle, a strand across which stitches are worked together
would still lie on either side of the one that they become.
"""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Callable

from companion.knitting.cloth.rows import Row, Rows
from companion.knitting.value import Record

MOST_DECREASED = 2
"""So many stitches are lost in one decrease; more are bound off."""


class Span(Record):
    """Columns from the first to the last one with a stitch."""

    first: int
    last: int


def span(row: Row) -> Span:
    """The columns of a row."""
    ends = row.segments[0].first, row.segments[-1].last
    return Span(min(ends), max(ends))


class Opening(Record):
    """Where the piece divides: the first rows of its parts, in working order, and so many stitches in the ``middle``
    between them, which row ``binds_off`` does away with (None: they are held, or there are none)."""

    parts: tuple[int, ...]
    middle: int
    binds_off: int | None


def openings(rows: Rows) -> tuple[Opening, ...]:
    """The openings of a piece, from the cast-on edge up."""
    starts = [block.start for block in rows.fabric.blocks if block.part]
    return tuple(_opening(rows, parts) for parts in zip(starts[::2], starts[1::2], strict=True))


def opening_at(rows: Rows, index: int) -> Opening | None:
    """The opening beside which a row of a part lies; None where it lies beside none."""
    number = rows.fabric.block_of(index).opening
    starts = tuple(block.start for block in rows.fabric.blocks if block.opening == number >= 0)
    return _opening(rows, starts) if starts else None


def _opening(rows: Rows, parts: tuple[int, ...]) -> Opening:
    spans = sorted(span(rows[part]) for part in parts)
    middle = spans[1].first - spans[0].last - 1
    binds_off = next(part for part in parts if _begins_at_neck(rows[part]))
    return Opening(parts, middle, binds_off if middle and not is_held(rows, parts[0]) else None)


def is_held(rows: Rows, index: int) -> bool:
    """Whether the stitches in the middle of the opening beside a row wait on a holder."""
    return rows.fabric.block_of(index).opening in rows.fabric.held


def taken(rows: Rows, index: int) -> Span:
    """The columns of the row below on which a row is worked. The first row of a part takes up those on its own side,
    and if it begins beside the opening, the ones in the middle too, to bind them off. A row that joins two parts
    takes up both."""
    below = span(rows.beneath(index))
    if not rows.begins_part(index):
        return below
    own, part = span(rows[index]), rows[index].part
    [other] = [span(rows[each]) for each in rows.following(rows.before(index)[0]) if each != index]
    takes_middle = _begins_at_neck(rows[index]) and not is_held(rows, index)
    if part == "right":
        return Span(below.first, other.first - 1 if takes_middle else own.last)
    return Span(other.last + 1 if takes_middle else own.first, below.last)


def begins_at_opening(rows: Rows, index: int) -> bool:
    """Whether the first row of a part begins beside the opening, where no strand has worked an edge yet."""
    return rows.begins_part(index) and _begins_at_neck(rows[index])


def _begins_at_neck(row: Row) -> bool:
    """Whether a part's row begins beside the opening."""
    return (row.part == "right") == (row.toward == "right")


def bound_off(rows: Rows, index: int) -> int:
    """Stitches bound off before the first one of a row; 0 where none are."""
    row = rows[index]
    if not index or row.is_round or rows.beneath(index).is_round:
        return 0
    own, under = span(row), taken(rows, index)
    lost = own.first - under.first if row.toward == "left" else under.last - own.last
    return lost if lost > MOST_DECREASED else 0


class _Bar(Record):
    """Where strands hang on the row below, from gap ``low`` to ``high``: what was left outside hangs at the nearest
    of them. From ``first`` to ``last`` they may go on, and at ``edge`` (None: there is none) the one that binds off.
    """

    low: int
    high: int
    first: int
    last: int
    edge: int | None

    def passes(self, gap: int, *, is_first: bool) -> bool:
        """Whether a strand left at this gap goes on, ``is_first``: in the row's first segment."""
        gap = min(max(gap, self.low), self.high)
        return gap == self.edge if is_first and self.edge is not None else self.first <= gap <= self.last


def _bar(rows: Rows, index: int) -> _Bar | None:
    """What keeps strands from going on in a row; None where all can."""
    off = bound_off(rows, index)
    if not off and not rows.begins_part(index):
        return None
    whole, (first, last) = span(rows.beneath(index)), taken(rows, index)
    first -= 1
    if off and rows[index].toward == "left":
        return _Bar(whole.first - 1, whole.last, first + off, last, first)
    return _Bar(whole.first - 1, whole.last, first, last - off, last if off else None)


class Bars:
    """What keeps strands from going on, row by row; each is worked out once. ``first`` and ``until``: only what lies
    between these rows is asked."""

    def __init__(self, rows: Rows, first: int = 0, until: int | None = None) -> None:
        self._rows = rows
        indices = range(max(1, first), len(rows) if until is None else until)
        found = [(index, _bar(rows, index)) for index in indices] if rows.fabric.is_shaped else []
        self._bars = [(index, bar) for index, bar in found if bar]
        self._indices = [index for index, _ in self._bars]

    def may_go_on(self, low: int, index: int) -> Callable[[int, int], bool] | None:
        """Whether a strand that hangs at a gap of row ``low`` can go on in segment so and so of row ``index``: the
        two arguments of what is returned. None where every one can."""
        between = self._bars[bisect_right(self._indices, low):bisect_right(self._indices, index)]
        fabric = self._rows.fabric
        bars = [(bar, at == index) for at, bar in between if fabric.is_on_way(low, at, index)]

        def may(gap: int, segment: int) -> bool:
            return all(bar.passes(gap, is_first=is_here and segment == 0) for bar, is_here in bars)

        return may if bars else None
