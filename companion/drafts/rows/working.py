"""Rows of words worked on a needle: which stitches each row leaves there, and how many come or go at either edge.

A count that does not come out is told at once, and the next row begins with what it is told to; so one slip is one
problem.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence

from companion.drafts.rows.doings import (
    BindOff,
    CastOn,
    Count,
    Divide,
    Edge,
    Group,
    Hand,
    Item,
    Join,
    Label,
    OffAll,
    RowTold,
    Shape,
    Star,
    Stitches,
    ToEnd,
    Words,
)
from companion.drafts.rows.pattern import Pattern
from companion.knitting.cloth.fabric import Part
from companion.knitting.value import Record
from companion.plan.chart import WIDEST
from companion.plan.phrases import Amiss

FURTHEST_IN = 4
"""Where a text is not ours, what is made or lost further in than so many stitches is no edge."""


class Worked(Record):
    """Stitches side by side that a row leaves on the needle."""

    number: int
    hand: Hand
    yarn: str


class RowWorked(Record):
    """A row as it was worked. ``runs`` in working order; ``start`` and ``end``: so many stitches more at the row's
    start and end, or with a minus fewer; ``taken``: so many were on the needle before; ``inward``: so many stitches
    in it is shaped; ``as_below``: its stitches go on as those below; ``between``:
    so many are cast on between two parts that it joins."""

    label: Label
    runs: tuple[Worked, ...]
    taken: int
    start: int
    end: int
    inward: int
    is_slipped: bool
    divide: Divide | None
    off: OffAll | None
    as_below: bool
    between: int = 0

    @property
    def stitches(self) -> int:
        """So many it leaves."""
        return self.taken + self.start + self.end + self.between


class _Made(Record):
    """So many stitches more, or fewer, when so many were left by the row."""

    at: int
    more: int
    leans: Part
    kind: str


class _Needle:
    """One row on its way. ``left``: so many are still to be worked; None: nobody knows how many were cast on."""

    def __init__(self, left: int | None, default: str) -> None:
        self.left, self.default = left, default
        self.taken = self.done = self.waits = 0
        self.runs: list[Worked] = []
        self.made: list[_Made] = []

    def do(self, items: Sequence[Item]) -> None:
        for item in items:
            self._do(item)

    def _do(self, item: Item) -> None:
        match item:
            case Stitches(hand, count, yarn, at):
                if count < 1:
                    raise Amiss(at, "A number of stitches is 1 at least.", cause="none")
                self._take(count, at)
                self._leave(count, hand, yarn, at)
            case ToEnd(hand, leaving, yarn, at):
                count = self._to_last(leaving, at)
                self._take(count, at)
                self._leave(count, hand, yarn, at)
            case Shape(takes, makes, hand, leans, yarn, at):
                self._take(takes, at)
                self.made.append(_Made(self.done, makes - takes, leans, "in" if hand == "?" else ""))
                self._leave(makes, hand, yarn, at)
            case BindOff():
                self._bind_off(item)
            case CastOn(count, is_loops, yarn, at):
                if self.done or is_loops:
                    self.made.append(_Made(self.done, count, "", "end" if self.done else "start"))
                    self._leave(count, "?", yarn, at)
                else:
                    self.made.append(_Made(0, count, "", "start"))
                    self._check(count, at)
                    self.left = None if self.left is None else self.left + count
                    self.taken -= count
            case Group(inner, times, at):
                self._repeat(inner, times, at)
            case Star(inner, leaving, at):
                count = self._to_last(leaving, at)
                before = self.taken
                self.do(inner)
                once = self.taken - before
                if once < 1:
                    raise Amiss(at, "What is repeated here takes up no stitch.", cause="star")
                if count % once:
                    raise Amiss(
                        at, f"What is repeated takes up {once} stitches, and {count} are to be worked so: that does "
                        "not come out even.", "Count the stitches of the repeat, and those that are left.", "uneven",
                    )  # fmt: skip
                self._repeat(inner, count // once - 1, at)

    def _repeat(self, inner: tuple[Item, ...], times: int, at: int) -> None:
        """Done so many times; what is too wide is known before it is made."""
        if not times:
            return
        before, left = self.taken, self.done
        self.do(inner)
        wide = max(self.taken - before, self.done - left, 1)
        self._check(wide * times, at)
        for _ in range(times - 1):
            self.do(inner)

    def _check(self, count: int, at: int) -> None:
        if count > WIDEST:
            raise Amiss(at, f"This makes a row of more than {WIDEST:,} stitches.", cause="wide")

    def _to_last(self, leaving: int, at: int) -> int:
        if self.left is None:
            raise Amiss(at, "How many stitches are on the needle here is not said.",
                        'Say above the rows how many are cast on: "Cast on 24 sts".', "how many")  # fmt: skip
        if leaving >= self.left:
            are = f"Only {self.left} stitches are" if self.left else "No stitch is"
            stay = f", and {leaving} are to stay" if leaving else ""
            raise Amiss(at, f"{are} left on the needle here{stay}.", "Count the row.", "count")
        return self.left - leaving

    def _take(self, count: int, at: int) -> None:
        self._check(self.taken + count, at)
        if self.left is not None:
            if count > self.left:
                are = "1 stitch is" if self.left == 1 else f"{self.left or 'no'} stitches are"
                raise Amiss(
                    at, f"Here {are} left of the {self.taken + self.left} on the needle, and {count} are told.",
                    "Count the row, and the one below it.", "count",
                )  # fmt: skip
            self.left -= count
        self.taken += count

    def _leave(self, count: int, hand: Hand, yarn: str, at: int) -> None:
        self._check(self.done + count, at)
        yarn = yarn or self.default
        if not yarn:
            stitches = "this stitch" if count == 1 else f"these {count} stitches"
            raise Amiss(at, f"No yarn is named for {stitches}.",
                        "Name one behind each, k5 A, or before them, with A k5.", "no yarn")  # fmt: skip
        if waiting := self.waits:
            self.waits = 0
            self._leave(waiting, "?", yarn, at)
        self.done += count
        if self.runs and self.runs[-1][1:] == (hand, yarn):
            self.runs[-1] = Worked(self.runs[-1].number + count, hand, yarn)
        else:
            self.runs.append(Worked(count, hand, yarn))

    def _bind_off(self, item: BindOff) -> None:
        if self.done:
            raise Amiss(item.at, "Stitches are bound off where a row begins, not further on.",
                        "Bind them off at the beginning of a row.", "off at end")  # fmt: skip
        self._take(item.number, item.at)
        self.made.append(_Made(0, -item.number, "", "start"))
        if item.is_one_told:
            self._take(1, item.at)
            if item.yarn or self.default:
                self._leave(1, "?", item.yarn, item.at)
            else:
                self.waits = 1  # for the yarn of the stitches that come next


class _Beside(Record):
    """The stitches of two parts that a row joins, in the order in which it works them."""

    first: int
    then: int

    @classmethod
    def of(cls, label: Label, last: Mapping[Part, RowWorked], *, is_mirrored: bool) -> _Beside | None:
        """Of the last rows of the parts; None where one is not known."""
        right, left = last.get("right"), last.get("left")
        if right is None or left is None:
            return None
        is_right_first = (label.side == "RS") != is_mirrored
        return cls(*((right.stitches, left.stitches) if is_right_first else (left.stitches, right.stitches)))


def _misjoined(join: Join, beside: _Beside, row: RowWorked) -> Amiss:
    are = f"{beside.first:,} and {beside.then:,} stitches, and {row.between:,} are cast on between them"
    what = f"The parts have {are}; here {join.works:,}, {join.then:,} and {join.between:,} are told."
    return Amiss(join.at, what, "Count the rows below, and this one.", "count")


class _Edges(Record):
    start: int = 0
    end: int = 0
    inward: int = 0


def worked(pattern: Pattern, default: str, is_mirrored: bool) -> Iterator[RowWorked | Amiss]:
    """The rows in working order, as they are worked, and what is amiss in them. ``default``: the yarn of stitches
    that name none, "" = none."""
    cast_on = pattern.cast_on.stitches or None
    on_needle: int | None = cast_on
    is_lost = False  # something was amiss, so that nobody knows how many are on the needle
    was_amiss = False  # the row below was, so that nobody knows its yarns
    divide: Divide | None = None
    below: RowWorked | None = None
    last: dict[Part, RowWorked] = {}
    join: Join | None = None
    for told in pattern.rows:
        label = told.label
        beside: _Beside | None = None
        if label.begins == "part":
            on_needle = _begins(label, divide)
            is_lost = is_lost or divide is None
            below = None
        elif label.begins == "whole":
            beside, below = _Beside.of(label, last, is_mirrored=is_mirrored), None
            on_needle, is_lost = beside and beside.first + beside.then, is_lost or beside is None
        row: RowWorked | None = None
        if told.words is None:
            is_lost = True
        else:
            try:
                there = None if is_lost else on_needle
                row = _row(told, told.words, there, below, default, pattern, is_mirrored, beside)
                yield row
                if join and beside and join[:3] != (*beside, row.between):
                    yield _misjoined(join, beside, row)
                if (counted := _counted(told.words)) and counted.stitches != row.stitches:
                    what = f"{_name(label)} comes to {row.stitches} stitches, and {counted.stitches} are told here."
                    mend = "Count the row; either its stitches or this number is amiss."
                    yield Amiss(counted.at, what, mend, "count")
                is_lost = False
            except Amiss as amiss:
                if not (is_lost and amiss.cause == "how many") and not (was_amiss and amiss.cause == "as below"):
                    yield amiss
                is_lost = True
            counted = _counted(told.words)
            if row is None and counted:
                on_needle, is_lost = counted.stitches, False
        was_amiss = row is None
        if row is not None:
            on_needle, below, divide = row.stitches, row, row.divide or divide
            last[label.part] = row
        join = next((end for end in told.words.ends if isinstance(end, Join)), None) if told.words else None


def named(items: Sequence[Item]) -> Iterator[str]:
    """The yarns that stitches name, "" for those that name none."""
    for item in items:
        if isinstance(item, Group | Star):
            yield from named(item.items)
        else:
            yield item.yarn


def _name(label: Label) -> str:
    return f"{'Round' if label.is_round else 'Row'} {label.number}"


def _counted(words: Words) -> Count | None:
    return next((end for end in words.ends if isinstance(end, Count)), None)


def _begins(label: Label, divide: Divide | None) -> int | None:
    """So many stitches a part begins with."""
    if divide is None:
        return None
    is_first = label.part == divide.first
    own = divide.works if is_first else divide.waits
    return own + (divide.middle if is_first == divide.is_first and not divide.is_held else 0)


def _row(
    told: RowTold, words: Words, on_needle: int | None, below: RowWorked | None, default: str, pattern: Pattern,
    is_mirrored: bool, beside: _Beside | None,
) -> RowWorked:
    label = told.label
    ends = words.ends
    divide = next((end for end in ends if isinstance(end, Divide)), None)
    off = next((end for end in ends if isinstance(end, OffAll)), None)
    if words.edge is not None:
        return _by_edges(label, words.edge, below)._replace(divide=divide, off=off)
    needle = _Needle(on_needle, "" if any(named(words.items)) else default)
    needle.do(words.items)
    if needle.left:
        what = f"{_name(label)} works {needle.taken} of the {needle.taken + needle.left} stitches on the needle."
        raise Amiss(label.at, what, "Count the row, and the one below it.", "count")
    taken = needle.taken if on_needle is None else on_needle
    between = _between(needle, beside.first) if beside else 0
    edges = _edges(label, needle, pattern.is_own, is_mirrored)
    is_slipped = needle.runs[0].hand == "sl"
    inner = needle.runs[1:] if is_slipped and needle.runs[0].number == 1 else needle.runs
    if any(run.hand == "sl" for run in inner):
        raise Amiss(label.at, f"{_name(label)} slips other stitches than its first one, which a plan does not do.",
                    "A plan slips the first stitch of every row, or none.", "slip")  # fmt: skip
    return RowWorked(label, tuple(needle.runs), taken, *edges, is_slipped, divide, off, False, between)


def _between(needle: _Needle, first: int) -> int:
    """So many are cast on behind the part that is worked first; they are no edge's."""
    many = 0
    for made in list(needle.made):
        if made.kind == "end" and made.at == first + many and made.at + made.more < needle.done:
            needle.made.remove(made)
            many += made.more
    return many


def _edges(label: Label, needle: _Needle, is_own: bool, is_mirrored: bool) -> _Edges:
    """At which edges a row is shaped: what is done before its middle at its start, what leans says where it is
    ours."""
    start = end = inward = 0
    for made in needle.made:
        from_end = needle.done - made.at - (1 if made.kind in ("", "in") else 0)
        near = min(made.at, from_end)
        is_start = made.at < from_end if made.at != from_end else made is needle.made[0]
        if made.kind in ("start", "end"):
            is_start = made.kind == "start"
        elif near > FURTHEST_IN and not is_own:
            raise Amiss(
                label.at, f"{_name(label)} is shaped {near} stitches in from its edge, and a plan is shaped at its "
                "edges alone.", cause="far in",
            )  # fmt: skip
        elif made.leans and (is_own or made.at == from_end) and not label.is_round:
            is_start = _leans_to_start(label, made.leans, is_mirrored)
        if made.kind == "" and (made.more < 0 or near > 1):  # one is lifted a stitch in at the least
            inward = max(inward, near)
        if is_start:
            start += made.more
        else:
            end += made.more
    return _Edges(start, end, inward)


def _leans_to_start(label: Label, leans: Part, is_mirrored: bool) -> bool:
    """Whether the edge along which something leans is the one where the row starts. ``leans`` for right hands."""
    edge = leans if not is_mirrored else "left" if leans == "right" else "right"
    starts: Part = "right" if (label.side == "RS") != is_mirrored else "left"
    return edge == starts


def _by_edges(label: Label, edge: Edge, below: RowWorked | None) -> RowWorked:
    """A row of which only its edges are told; it goes on in the one yarn of the row below."""
    yarns = {run.yarn for run in below.runs} if below else set()
    if below is None or len(yarns) != 1:
        raise Amiss(
            edge.at, "Only the edges of this row are told, and the row below is in several yarns.",
            "Tell its stitches: such as \"Row 9: bind off 3, k21 A, k4 B\".", "as below",
        )  # fmt: skip
    taken = below.stitches
    stitches = taken + edge.start + edge.end
    if stitches < 1:
        raise Amiss(edge.at, f"Only {taken} stitches are on the needle here.", cause="count")
    run = Worked(stitches, "?", yarns.pop())
    return RowWorked(label, (run,), taken, edge.start, edge.end, 0, False, None, None, True)
