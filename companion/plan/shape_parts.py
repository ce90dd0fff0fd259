"""Where a shape that is told in words divides: its parts, each worked by itself, and the rows of both side by side.

A piece divides in a row that is worked as far as the opening, so the first row of a part has just the stitches that
it takes up. Beside the opening nothing comes or goes in it, but for what the part binds off that begins there.
"""

from __future__ import annotations

from itertools import zip_longest
from typing import Literal

from companion.knitting.cloth.edges import Change
from companion.knitting.cloth.fabric import Part
from companion.knitting.value import Record
from companion.knitting.words.terms import how_many
from companion.plan.phrases import Amiss
from companion.plan.shape_headings import Heading

Edge = Literal["right edge", "left edge"]

NECK: dict[Part, Edge | Literal[""]] = {"": "", "right": "left edge", "left": "right edge"}
"""The edge of a part that lies beside the opening, as seen from the right side."""


class ShapeRow(Record):
    """One row of all, or of a ``part``: so many ``stitches``, and so many columns to the ``right`` of them; ``line``:
    the line of words, from 0, and ``at`` the offset in it that tell of it. ``beside``: the row of the left part,
    where this is the right one's."""

    right: int
    stitches: int
    part: Part
    line: int
    at: int
    beside: ShapeRow | None = None

    @property
    def each(self) -> tuple[ShapeRow, ...]:
        """The row, and the one beside it."""
        return (self, self.beside) if self.beside else (self,)

    @property
    def past(self) -> int:
        """So many columns to the right of what lies to the left of it."""
        last = self.beside or self
        return last.right + last.stitches

    def moved(self, columns: int) -> ShapeRow:
        """The same with so many columns more to the right."""
        return self._replace(right=self.right + columns, beside=self.beside and self.beside.moved(columns))


class Opened(Record):
    """Where it divides: in the ``row`` of the section with this number, from 0, so many stitches to the ``right``
    of the opening. ``middle``: so many lie in it, as is said (0: nothing is), and whether they are held; ``gap``:
    columns of its first row that have no stitch. ``is_seen``: in none of its rows the parts lie side by side.
    ``high``: so many rows, None: open to the top. ``line`` and ``at``: where the words stand."""

    row: int
    right: int
    middle: int
    is_held: bool
    gap: int
    is_seen: bool
    high: int | None
    line: int
    at: int


class Stretch:
    """Stitches that rows are worked on by themselves, one ``part`` or ("") all: columns ``low`` up to ``high`` and
    without it, the first of its rows being the ``first`` of the section, from 0. ``is_new``: there it divides."""

    def __init__(self, part: Part, low: int, high: int, first: int, *, is_new: bool = False) -> None:
        self.part, self.low, self.high, self.first, self.is_new = part, low, high, first, is_new
        self.rows: list[ShapeRow] = []
        self.is_over = False  # all are bound off
        self.begun = self.stitches

    @property
    def stitches(self) -> int:
        """So many are on the needle."""
        return self.high - self.low

    @property
    def row(self) -> int:
        """The number of the next row in the section, from 0."""
        return self.first + len(self.rows)

    @property
    def is_dividing(self) -> bool:
        """The next row is the one in which the piece divides."""
        return self.is_new and not self.rows

    def shape(self, change: Change, starts_at: Edge) -> None:
        """Stitches come or go at its edges."""
        right, left = (change.start, change.end) if starts_at == "right edge" else (change.end, change.start)
        self.low, self.high = self.low - right, self.high + left

    def work(self, rows: int, line: int, at: int) -> None:
        """So many rows on its stitches."""
        self.rows += [ShapeRow(self.low, self.stitches, self.part, line, at)] * rows


class Middle(Record):
    """Where a piece divides so many ``stitches`` lie between its parts (0: nothing is said of them), and whether they
    wait on a holder. ``line`` and ``at``: where the words stand."""

    stitches: int
    is_held: bool
    line: int
    at: int


class Below(Record):
    """Two parts that lie below a section, the ``right`` and the ``left`` one, each from one column up to another and
    without it, counted from the right edge of them all. ``is_slit``: how high they are is told there."""

    right: tuple[int, int]
    left: tuple[int, int]
    is_slit: bool


class Division:
    """Two parts beside an opening whose first row is number ``row`` of the section, on columns ``low`` to ``high``,
    and what is said of the stitches between them."""

    def __init__(self, row: int, low: int, high: int, said: Middle) -> None:
        self.row, self.low, self.high, self.said = row, low, high, said
        self.parts: dict[Part, Stretch] = {}
        self.split: int | None = None  # of parts that lie below: so many columns to the right of where they met
        self.is_slit = False

    @classmethod
    def going_on(cls, below: Below) -> Division:
        """Parts that lie below a section."""
        division = cls(0, below.right[0], below.left[1], Middle(0, False, 0, 0))
        division.parts = {"right": Stretch("right", *below.right, 0), "left": Stretch("left", *below.left, 0)}
        division.split, division.is_slit = below.right[1], below.is_slit
        return division

    def part(self, part: Part, stitches: int | None, at: int) -> Stretch:
        """One part, which begins with so many stitches; None: with its half, or with what the other one leaves.

        Raises:
            Amiss: there are not so many.
        """
        if here := self.parts.get(part):
            if stitches is not None and stitches != here.stitches:
                told = f"The {part} part has {stitches_told(here.stitches)} here, and this line says {stitches:,}."
                raise Amiss(at, told, "Mend the number, or leave it out.")
            return here
        other = self.parts.get("left" if part == "right" else "right")
        room = self.high - self.low - self.said.stitches - (other.begun if other else 0)
        if stitches is None and not other and room % 2:
            such = f'Such as "Right part, on {room // 2:,} sts:", "Left part, on {room - room // 2:,} sts:".'
            raise Amiss(at, f"{stitches_told(room)} make no two parts of one size.", such)
        own = stitches if stitches is not None else room if other else room // 2
        if not 0 < own < room + bool(other) or (other and own < room):
            raise Amiss(at, *self._miscounted(own, other))
        low, high = (self.low, self.low + own) if part == "right" else (self.high - own, self.high)
        self.parts[part] = Stretch(part, low, high, self.row, is_new=True)
        return self.parts[part]

    def _miscounted(self, own: int, other: Stretch | None) -> tuple[str, str]:
        """That parts and middle are not all stitches, and how to mend it."""
        there, named = self.high - self.low, [own, *([other.begun] if other else [])]
        told = " and ".join(f"{one:,}" for one in named)
        told += f" and {self.said.stitches:,} in the middle" if self.said.stitches else ""
        what = f"Here the piece has {stitches_told(there)}, and these words tell of {told}."
        if other and own > 0 and not self.said.stitches and (rest := there - own - other.begun) > 0:
            such = f'"bind off the middle {rest:,} sts", or "leave the middle {rest:,} sts on a holder"'
            return what, f"Say before the parts what becomes of the others: {such}."
        return what, "Mend the numbers."

    def closed(self) -> list[ShapeRow]:
        """The rows of the section from the first one of the parts on, those of both side by side.

        Raises:
            Astray: the parts meet beside the place where it divides, or nothing is told of one.
        """
        for part in ("right", "left"):
            if part not in self.parts or not self.parts[part].rows:
                told = f"Nothing is told of the {part} part."
                mend = f'Add "{part.capitalize()} part:" and its rows.'
                raise Astray(self.said.line, Amiss(self.said.at, told, mend))
        right, left = self.parts["right"], self.parts["left"]
        split = right.rows[0].past if self.split is None else self.split
        made: list[ShapeRow] = []
        for one, other in zip_longest(right.rows, left.rows):
            # Over what a part has bound off the other one may not grow either.
            here, there = one or right.rows[-1], other or left.rows[-1]
            if here.past > there.right or (one and other and one.past == other.right != split):
                told = f"In row {self.row + len(made) + 1:,} of the section the parts meet."
                mend = 'Let one have fewer stitches, or write "join the parts".'
                last = other or here
                raise Astray(last.line, Amiss(last.at, told, mend))
            made.append(one._replace(beside=other) if one else other)
        return made

    def opened(self, *, is_joined: bool) -> Opened:
        """Where it divides; of parts that are closed."""
        right, left = self.parts["right"].rows, self.parts["left"].rows
        gaps = [other.right - one.past for one, other in zip(right, left, strict=False)]
        return Opened(
            self.row, right[0].stitches, self.said.stitches, self.said.is_held, gaps[0], all(gaps),
            len(gaps) if is_joined else None, self.said.line, self.said.at,
        )  # fmt: skip

    def joined(self, heading: Heading) -> Stretch:
        """All stitches again.

        Raises:
            Amiss: the parts are not of one height, or a number in the words is another one.
        """
        right, left = self.parts.get("right"), self.parts.get("left")
        if self.is_slit:
            what = "The parts below lie side by side, and how high they are is told there."
            raise Amiss(heading.at, what, "Join them in the section that divides.")
        if right and left and (right.is_over or left.is_over):
            over = right if right.is_over else left
            raise Amiss(heading.at, f"All of the {over.part} part is bound off, and the parts are joined.",
                        "Leave one of them out.")  # fmt: skip
        if right and left and right.row != left.row:
            rows = f"{how_many(len(right.rows), 'row')} high, the left one {len(left.rows):,}"
            told = f"Here the parts are joined, and the right one is {rows}."
            raise Amiss(heading.at, told, "Work rows even on the lower one.")
        if right and left:
            between, whole = left.low - right.high, left.high - right.low
            if heading.between is not None and heading.between != between:
                told = f"Between the parts lie {between:,} columns, and this line casts on {heading.between:,}."
                raise Amiss(heading.at, told, "Mend the number, or leave it out.")
            if heading.stitches is not None and heading.stitches != whole:
                told = f"Joined, the parts have {stitches_told(whole)}, and this line says {heading.stitches:,}."
                raise Amiss(heading.at, told, "Mend the number, or leave it out.")
            return Stretch("", right.low, left.high, right.row)
        raise Amiss(heading.at, "Both parts are to be joined, and not both are told of.", 'Tell of both before it.')


class Astray(Exception):
    """What is amiss in another line than the one that is read, from 0."""

    def __init__(self, line: int, amiss: Amiss) -> None:
        super().__init__(amiss.what)
        self.line, self.amiss = line, amiss


def stitches_told(number: int) -> str:
    """So many stitches."""
    return "1 stitch" if number == 1 else f"{number:,} stitches"
