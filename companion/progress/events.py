"""What happened, in the past tense; the only things that progress is made of. As data, to and from JSON.

One action of the knitter is one entry: a tuple of events, saved together or not at all. In JSON an event is a list,
its name and then its fields; a field that it was given later has a default, since older journals lack it.
"""

from __future__ import annotations

from collections.abc import Sequence
from functools import reduce
from operator import or_
from typing import Any, Literal, dataclass_transform

from msgspec import DecodeError, Struct
from msgspec.json import Decoder, encode

from companion.knitting.cloth.rows import NONE_MEET, Meetings
from companion.knitting.hands.mistakes import Remedy
from companion.knitting.hands.steps import End
from companion.knitting.strands.limits import Carry
from companion.knitting.strands.strands import Pair, StrandOf, Strands

Said = Literal["wash", "trim", "seams"]
"""Steps of finishing that are done because the knitter says so."""


@dataclass_transform(frozen_default=True)
class Event(Struct, frozen=True, array_like=True, tag=True, forbid_unknown_fields=True):
    """Something that happened; rows, segments and acts count from 0, columns and strands from 1."""


class Planned(Event):
    """From here on the piece follows version ``version`` of its plan (0 = the first) with these strands, of which
    those joined at the two places of a pair in ``shared`` are the halves of one length. ``strand_of`` are those of
    the rows from row ``start`` on, and ``meetings`` the gaps at which strands meet in runs of these rows, by row; in
    the rows below and above them all stays as it was."""

    version: int
    limits: Carry
    strand_of: StrandOf
    shared: tuple[Pair, ...] = ()
    start: int = 0
    meetings: tuple[tuple[int, tuple[int, ...]], ...] = ()

    @classmethod
    def of(cls, version: int, limits: Carry, strands: Strands, before: Strands | None = None) -> Planned:
        """A plan's version with the strands chosen for it, where they are others than ``before``."""
        new, met = strands.strand_of, strands.rows.meetings
        old, old_met = (before.strand_of, before.rows.meetings) if before else ((), NONE_MEET)
        others = [
            row for row, told in enumerate(new)
            if row >= len(old) or old[row] != told or old_met.get(row) != met.get(row)
        ] or [len(new)]
        meetings = tuple((row, met[row]) for row in range(others[0], others[-1] + 1) if row in met)
        return cls(version, limits, new[others[0]:others[-1] + 1], strands.shared, others[0], meetings)

    def whole(self, before: StrandOf, rows: int) -> StrandOf:
        """The strands of so many rows, where those ``before`` were others.

        Raises:
            ValueError: it does not say what those of every row are.
        """
        found = (before[:self.start] + self.strand_of + before[self.start + len(self.strand_of):])[:rows]
        if self.start < 0 or self.start > len(before) or len(found) != rows:
            raise ValueError("its strands are not those of the plan")
        return found

    def met(self, before: Meetings) -> Meetings:
        """Where strands meet in runs, where they met at the gaps ``before``."""
        kept = {row: gaps for row, gaps in before.items() if not 0 <= row - self.start < len(self.strand_of)}
        return {**kept, **dict(self.meetings)}


class Mirrored(Event):
    """The piece was begun by a left-handed knitter who works it mirrored. Stands in a journal's first entry or
    nowhere: a piece keeps the hands it was begun with."""


class Limited(Event):
    """The knitter chose other limits for the rows to come, which are planned anew."""

    limits: Carry


class Worked(Event):
    """A run was worked, with this strand of this yarn. Row and segment in working order."""

    row: int
    segment: int
    yarn: str
    stitches: int
    strand: int


class RowEndBegun(Event):
    """At this row's end something is to be done before it is turned, but for the acts in ``done``. A row's end of
    which nothing is told is done with its last run."""

    row: int
    done: tuple[str, ...] = ()


class RowEndDone(Event):
    """An act of this row's end is done, by its name: "divide". What is cut, ``Cut`` tells alone."""

    row: int
    act: str


class Cut(Event):
    """Strands are cut at the end of this row."""

    row: int
    strands: tuple[int, ...]


class Broke(Event):
    """The strand's length ended after so many stitches of a run (0: before the first) and the next was spliced to it
    or joined. The strand goes on under its number, and hangs where it would have hung."""

    row: int
    segment: int
    after: int
    is_spliced: bool


class RanOut(Event):
    """A strand ended where it hangs, between two of its runs: it ran out, or was cut too early. It is cut."""

    strand: int


class JoinedNew(Event):
    """A run was, or is to be, worked with a strand newly joined there, and not with the one planned."""

    row: int
    segment: int
    strand: int


class WentOn(Event):
    """A run was, or is to be, worked with this strand, which hung there already, and not with the one planned. It was
    not cut, whatever was told."""

    row: int
    segment: int
    strand: int


class Unpicked(Event):
    """The run last worked was undone on the needles."""

    row: int
    segment: int


class RippedBack(Event):
    """Every row above ``row`` was undone on the needles; it is whole again. -1 = down to the cast-on."""

    row: int


class Noted(Event):
    """The knitter's own words about a row; "" takes them away."""

    row: int
    text: str


class Wove(Event):
    """An end was woven in."""

    end: End


class Unwove(Event):
    """An end is not woven in any more: unmarked by the knitter, or ripped out with its rows."""

    end: End


class Trapping(Event):
    """From now on tails are laid in while knitting, or not. A setting: nothing that is taken back."""

    is_on: bool


class Mistook(Event):
    """Cells of a row are wrong, worked in ``yarn`` ("" = the right one, but the wrong stitch), and ``way`` is what is
    done about it."""

    row: int
    columns: tuple[int, ...]
    yarn: str
    way: Remedy


class MissedCross(Event):
    """Before this run the strands were not crossed: there is a hole."""

    row: int
    segment: int


class BoundOff(Event):
    """All stitches are bound off."""


class Sewed(Event):
    """The area that begins at this cell (row from 0, column from 1) is sewn on."""

    row: int
    column: int


class Unsewed(Event):
    """It is not, after all."""

    row: int
    column: int


class Finished(Event):
    """A step of finishing is done."""

    step: Said


class WentBack(Event):
    """The last action was taken back, whatever it was."""


Entry = tuple[Event, ...]

_EVENT: Any = reduce(or_, Event.__subclasses__())
_READER: Decoder[tuple[Entry, ...]] = Decoder(tuple[tuple[_EVENT, ...], ...])


def to_json(entry: Entry) -> str:
    """The entry as one line of JSON: a list of [kind, field, field ...]."""
    return encode(entry).decode()


def from_json(text: str | bytes) -> Entry:
    """The entry that ``to_json`` wrote, or an older version of it.

    Raises:
        ValueError: the text is not such an entry.
    """
    [entry] = all_from_json([text])
    return entry


def all_from_json(texts: Sequence[str | bytes]) -> tuple[Entry, ...]:
    """The same of many, parsed in one go.

    Raises:
        ValueError: one of the texts is not such an entry.
    """
    try:
        data = b",".join([text if isinstance(text, bytes) else text.encode() for text in texts])
        entries = _READER.decode(b"[%b]" % data)
    except (DecodeError, RecursionError, ValueError) as error:
        raise ValueError(f"not an entry of the journal: {error}") from None
    if len(entries) != len(texts) or not all(entries):
        raise ValueError("not an entry of the journal: an entry is a list with something in it")
    return entries
