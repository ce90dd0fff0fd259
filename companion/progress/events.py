"""What happened, in the past tense; the only things that progress is made of. As data, to and from JSON.

One action of the knitter is one entry: a tuple of events, saved together or not at all.
"""

from __future__ import annotations

import json
from dataclasses import asdict, dataclass, fields
from typing import Any

from companion.knitting.ends import End
from companion.knitting.limits import Carry
from companion.knitting.rows import Place
from companion.knitting.strands import StrandOf


@dataclass(frozen=True, slots=True)
class Planned:
    """From here on the piece follows version ``version`` of its plan (0 = the first) with these strands."""

    version: int
    limits: Carry
    strand_of: StrandOf


@dataclass(frozen=True, slots=True)
class Worked:
    """A run was worked, with this strand of this yarn. Row and segment count from 0, in working order."""

    row: int
    segment: int
    yarn: str
    stitches: int
    strand: int


@dataclass(frozen=True, slots=True)
class Cut:
    """Strands were told to be cut at the turn after this row: from now on they are."""

    row: int
    strands: tuple[int, ...]


@dataclass(frozen=True, slots=True)
class Unpicked:
    """The run last worked was undone on the needles."""

    row: int
    segment: int


@dataclass(frozen=True, slots=True)
class RippedBack:
    """Every row above ``row`` was undone on the needles; it is whole again. -1 = down to the cast-on."""

    row: int


@dataclass(frozen=True, slots=True)
class Noted:
    """The knitter's own words about a row; "" takes them away."""

    row: int
    text: str


@dataclass(frozen=True, slots=True)
class Wove:
    """An end was woven in."""

    end: End


@dataclass(frozen=True, slots=True)
class Unwove:
    """An end is not woven in any more: unmarked by the knitter, or ripped out with its rows."""

    end: End


@dataclass(frozen=True, slots=True)
class BoundOff:
    """All stitches are bound off."""


@dataclass(frozen=True, slots=True)
class WentBack:
    """The last action was taken back, whatever it was."""


Event = Planned | Worked | Cut | Unpicked | RippedBack | Noted | Wove | Unwove | BoundOff | WentBack
Entry = tuple[Event, ...]

_KINDS: dict[str, type[Event]] = {
    kind.__name__: kind
    for kind in (Planned, Worked, Cut, Unpicked, RippedBack, Noted, Wove, Unwove, BoundOff, WentBack)
}


def to_json(entry: Entry) -> str:
    """The entry as one line of JSON: a list of [kind, field, field ...]."""
    told = [[type(event).__name__, *(_plain(getattr(event, f.name)) for f in fields(event))] for event in entry]
    return json.dumps(told, separators=(",", ":"), ensure_ascii=False)


def _plain(value: Any) -> Any:
    return list(asdict(value).values()) if isinstance(value, Carry | End) else value


def from_json(text: str) -> Entry:
    """The entry that ``to_json`` wrote.

    Raises:
        ValueError: the text is not such an entry.
    """
    try:
        return tuple(_event(kind, values) for kind, *values in json.loads(text))
    except (KeyError, TypeError, AttributeError, ValueError) as error:
        raise ValueError(f"not an entry of the journal: {error}") from None


def _event(kind: str, values: list[Any]) -> Event:
    match kind:
        case "Planned":
            version, limits, strand_of = values
            return Planned(version, Carry(*limits), tuple(map(tuple, strand_of)))
        case "Cut":
            row, strands = values
            return Cut(row, tuple(strands))
        case "Wove" | "Unwove":
            [(place, end)] = values
            return (Wove if kind == "Wove" else Unwove)(End(Place(*place), end))
        case _:
            return _KINDS[kind](*values)
