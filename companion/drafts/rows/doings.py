"""What the words of a row ask of the hands, as values; ``at`` is an offset of the text."""

from __future__ import annotations

from typing import Literal

from companion.knitting.cloth.fabric import Part
from companion.knitting.value import Record

Hand = Literal["k", "p", "sl", "", "?"]
"""Knit, purl, slip; "" = none is named, as a chart is worked in stockinette; "?" = not told, such as a loop."""


class Stitches(Record):
    """So many stitches. ``yarn`` "" = none is named."""

    hand: Hand
    number: int
    yarn: str
    at: int


class ToEnd(Record):
    """All stitches but the last so many."""

    hand: Hand
    leaving: int
    yarn: str
    at: int


class Shape(Record):
    """Stitches made or lost one by one: ``takes`` are worked into ``makes``. ``leans``: the edge where the trade
    works it, as seen from the right side; "" = either."""

    takes: int
    makes: int
    hand: Hand
    leans: Part
    yarn: str
    at: int


class BindOff(Record):
    """So many bound off. ``is_one_told``: the stitch that is left of it on the needle is named."""

    number: int
    is_one_told: bool
    yarn: str
    at: int


class CastOn(Record):
    """So many cast on: before the row's first stitch to be worked in it, or after its last one. ``is_loops``: as
    loops, which are not worked in the row wherever they stand."""

    number: int
    is_loops: bool
    yarn: str
    at: int


class Group(Record):
    """Done so many times."""

    items: tuple[Item, ...]
    times: int
    at: int


class Star(Record):
    """Done again and again, to the last so many stitches."""

    items: tuple[Item, ...]
    leaving: int
    at: int


Item = Stitches | ToEnd | Shape | BindOff | CastOn | Group | Star


class Edge(Record):
    """So many stitches made, or with a minus lost, at the start and the end of a row that goes on as those below."""

    start: int
    end: int
    at: int


class Count(Record):
    """So many stitches are on the needle then."""

    stitches: int
    at: int


class Divide(Record):
    """The piece divides: ``first`` part on so many stitches, the ``middle``, and so many of the other. ``is_held``:
    the middle stays on a holder; ``is_first``: it is bound off by the first part. ``worn`` as in a plan."""

    first: Part
    works: int
    middle: int
    waits: int
    is_held: bool
    is_first: bool
    worn: Literal["", "front", "back"]
    at: int


class Join(Record):
    """The parts are joined: the next row works so many stitches of the one, and ``then`` so many of the other, with
    so many cast on ``between`` them."""

    works: int
    then: int
    between: int
    at: int


class OffAll(Record):
    """All are bound off, in one yarn ("" = it is not named) or each run in its own."""

    yarn: str
    is_each: bool
    at: int


End = Count | Divide | Join | OffAll


class Words(Record):
    """All that is said of one row."""

    items: tuple[Item, ...]
    ends: tuple[End, ...] = ()
    edge: Edge | None = None


class Label(Record):
    """What a row is called. ``side``: "" = it is not said. ``begins``: it is the first row of a "part", or of the
    "whole" above two parts."""

    part: Part
    number: int
    is_round: bool
    side: Literal["", "RS", "WS"]
    at: int
    begins: Literal["", "part", "whole"] = ""


class RowTold(Record):
    """One row of the text. ``words`` None: they are amiss, and that is told."""

    label: Label
    words: Words | None
