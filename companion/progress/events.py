"""What happened, in the past tense; the only things that progress is made of. As data, to and from JSON.

One action of the knitter is one entry: a tuple of events, saved together or not at all.
"""

from __future__ import annotations

import json
from collections.abc import Callable, Sequence
from functools import cache
from typing import Any, get_args

from companion.knitting.cloth.rows import Place
from companion.knitting.hands.ends import End, EndKind
from companion.knitting.strands.limits import Carry
from companion.knitting.strands.strands import Pair, StrandOf, Strands
from companion.progress.values import NONE, Value


class Planned(Value):
    """From here on the piece follows version ``version`` of its plan (0 = the first) with these strands, of which
    those joined at the two places of a pair in ``shared`` are the halves of one length. ``strand_of`` are those of
    the rows from row ``start`` on; those of the rows below and above them stay as they were."""

    version: int
    limits: Carry
    strand_of: StrandOf
    shared: tuple[Pair, ...] = ()
    start: int = 0

    @classmethod
    def of(cls, version: int, limits: Carry, strands: Strands, before: StrandOf = ()) -> Planned:
        """A plan's version with the strands chosen for it, where they are others than ``before``."""
        new = strands.strand_of
        others = [row for row, told in enumerate(new) if row >= len(before) or before[row] != told] or [len(new)]
        return cls(version, limits, new[others[0]:others[-1] + 1], strands.shared, others[0])

    def whole(self, before: StrandOf, rows: int) -> StrandOf:
        """The strands of so many rows, where those ``before`` were others.

        Raises:
            ValueError: it does not say what those of every row are.
        """
        found = (before[:self.start] + self.strand_of + before[self.start + len(self.strand_of):])[:rows]
        if self.start < 0 or self.start > len(before) or len(found) != rows:
            raise ValueError("its strands are not those of the plan")
        return found


class Mirrored(Value):
    """The piece was begun by a left-handed knitter who works it mirrored. Stands in a journal's first entry or
    nowhere: a piece keeps the hands it was begun with."""


class Limited(Value):
    """The knitter chose other limits for the rows to come, which are planned anew."""

    limits: Carry


class Worked(Value):
    """A run was worked, with this strand of this yarn. Row and segment count from 0, in working order."""

    row: int
    segment: int
    yarn: str
    stitches: int
    strand: int


class RowEndBegun(Value):
    """At this row's end something is to be done before it is turned, but for the acts in ``done``. A row's end of
    which nothing is told is done with its last run."""

    row: int
    done: tuple[str, ...] = ()


class RowEndDone(Value):
    """An act of this row's end is done, by its name: "divide". What is cut, ``Cut`` tells alone."""

    row: int
    act: str


class Cut(Value):
    """Strands are cut at the end of this row."""

    row: int
    strands: tuple[int, ...]


class Broke(Value):
    """The strand's length ended after so many stitches of a run (0: before the first) and the next was spliced to it
    or joined. The strand goes on under its number, and hangs where it would have hung."""

    row: int
    segment: int
    after: int
    is_spliced: bool


class RanOut(Value):
    """A strand ended where it hangs, between two of its runs: it ran out, or was cut too early. It is cut."""

    strand: int


class JoinedNew(Value):
    """A run was, or is to be, worked with a strand newly joined there, and not with the one planned."""

    row: int
    segment: int
    strand: int


class WentOn(Value):
    """A run was, or is to be, worked with this strand, which hung there already, and not with the one planned. It was
    not cut, whatever was told."""

    row: int
    segment: int
    strand: int


class Unpicked(Value):
    """The run last worked was undone on the needles."""

    row: int
    segment: int


class RippedBack(Value):
    """Every row above ``row`` was undone on the needles; it is whole again. -1 = down to the cast-on."""

    row: int


class Noted(Value):
    """The knitter's own words about a row; "" takes them away."""

    row: int
    text: str


class Wove(Value):
    """An end was woven in."""

    end: End


class Unwove(Value):
    """An end is not woven in any more: unmarked by the knitter, or ripped out with its rows."""

    end: End


class Trapping(Value):
    """From now on tails are laid in while knitting, or not. A setting: nothing that is taken back."""

    is_on: bool


class Mistook(Value):
    """Cells of a row are wrong, worked in ``yarn`` ("" = the right one, but the wrong stitch), and ``way`` is what is
    done about it: "sew", "ladder", "leave" or "rip"."""

    row: int
    columns: tuple[int, ...]
    yarn: str
    way: str


class MissedCross(Value):
    """Before this run the strands were not crossed: there is a hole."""

    row: int
    segment: int


class BoundOff(Value):
    """All stitches are bound off."""


class Sewed(Value):
    """The area that begins at this cell (row from 0, column from 1) is sewn on."""

    row: int
    column: int


class Unsewed(Value):
    """It is not, after all."""

    row: int
    column: int


class Finished(Value):
    """A step of finishing is done: "wash", "trim" or "seams"."""

    step: str


class WentBack(Value):
    """The last action was taken back, whatever it was."""


Event = (
    Planned | Mirrored | Limited | Worked | RowEndBegun | RowEndDone | Cut | Broke | RanOut | JoinedNew | WentOn
    | Unpicked | RippedBack | Noted | Wove | Unwove | Trapping | Mistook | MissedCross | BoundOff | Sewed | Unsewed
    | Finished | WentBack
)
Entry = tuple[Event, ...]

_KINDS: dict[str, type[Event]] = {
    kind.__name__: kind
    for kind in get_args(Event)
}


def to_json(entry: Entry) -> str:
    """The entry as one line of JSON: a list of [kind, field, field ...]."""
    told = [[type(event).__name__, *map(_plain, _told(event))] for event in entry]
    return json.dumps(told, separators=(",", ":"), ensure_ascii=False)


def _told(event: Event) -> list[Any]:
    """An event's fields, without the last ones that say nothing: an event may be given new fields."""
    told = [(f, getattr(event, f.name)) for f in event.FIELDS]
    while told and told[-1][1] == told[-1][0].default:
        del told[-1]
    return [value for _, value in told]


def _plain(value: Any) -> Any:
    if isinstance(value, End):
        return [value.place, value.kind, *([value.after] if value.after else [])]
    return value


def from_json(text: str) -> Entry:
    """The entry that ``to_json`` wrote.

    Raises:
        ValueError: the text is not such an entry.
    """
    [entry] = all_from_json([text])
    return entry


def all_from_json(texts: Sequence[str]) -> tuple[Entry, ...]:
    """The same of many, parsed in one go.

    Raises:
        ValueError: one of the texts is not such an entry.
    """
    try:
        told = json.loads(f"[{','.join(texts)}]")
        if len(told) != len(texts):
            raise ValueError("a text holds more than one entry")
        return tuple([tuple([_event(event) for event in _some(entry)]) for entry in told])
    except (KeyError, TypeError, ValueError, RecursionError) as error:
        raise ValueError(f"not an entry of the journal: {error}") from None


def _event(told: Any) -> Event:
    kind, *given = _some(told)
    event, needed, readers, types = _shape(_text(kind))
    if [*map(type, given)] == types:
        return event.filled(given)
    if not needed < len(told) <= len(readers) + 1:
        raise ValueError(f"{kind} has {needed} to {len(readers)} fields, not {len(told) - 1}")
    return event(*[read(value) for read, value in zip(readers, given, strict=False)])


@cache
def _shape(kind: str) -> tuple[type[Event], int, tuple[Callable[[Any], Any], ...], list[type] | None]:
    """The event of that name, how many fields it must have, and how each of its fields is read; where every one is
    what it is read from, the types of them all, so that they are told at a glance."""
    event = _KINDS[kind]
    readers = tuple(_READ[f.type] for f in event.FIELDS)
    types = [_AS_READ[f.type] for f in event.FIELDS if f.type in _AS_READ]
    needed = sum(f.default is NONE for f in event.FIELDS)
    return event, needed, readers, types if len(types) == len(readers) else None


def _list(value: Any) -> list[Any]:
    if not isinstance(value, list):
        raise ValueError(f"{value!r:.40} is not a list")
    return value


def _some(value: Any) -> list[Any]:
    if not _list(value):
        raise ValueError("a list has nothing in it")
    return list(value)


def _number(value: Any) -> int:
    if type(value) is not int:
        raise ValueError(f"{value!r:.40} is not a whole number")
    return value


def _yes(value: Any) -> bool:
    if not isinstance(value, bool):
        raise ValueError(f"{value!r:.40} is not yes or no")
    return value


def _text(value: Any) -> str:
    if not isinstance(value, str):
        raise ValueError(f"{value!r:.40} is not text")
    return value


def _numbers(value: Any) -> tuple[int, ...]:
    return tuple(map(_number, _some(value)))


def _texts(value: Any) -> tuple[str, ...]:
    return tuple(map(_text, _some(value)))


def _place(value: Any) -> Place:
    row, segment = _some(value)
    return Place(_number(row), _number(segment))


def _pairs(value: Any) -> tuple[Pair, ...]:
    return tuple((_place(one), _place(other)) for one, other in map(_some, _list(value)))


def _limits(value: Any) -> Carry:
    reach, behind, rest, share = _some(value)
    return Carry(_number(reach), _number(behind), _number(rest), _yes(share))


def _end(value: Any) -> End:
    place, kind, *inside = _some(value)
    if kind not in get_args(EndKind):
        raise ValueError(f"{kind!r:.40} is not an end of a strand")
    if len(inside) > 1 or 0 in inside:
        raise ValueError("an end lies after one number of stitches")
    return End(_place(place), kind, *map(_number, inside))


_READ: dict[str, Callable[[Any], Any]] = {
    "int": _number,
    "bool": _yes,
    "str": _text,
    "tuple[int, ...]": _numbers,
    "tuple[str, ...]": _texts,
    "StrandOf": lambda value: tuple(map(_numbers, _list(value))),
    "tuple[Pair, ...]": _pairs,
    "Carry": _limits,
    "End": _end,
}
"""How each kind of field is read, by its annotation."""

_AS_READ: dict[str, type] = {"int": int, "bool": bool, "str": str}
"""The kinds of field that are what they are read from."""
