"""A section whose shape is told in words: where its lines stand in the plan, and its outline laid over what is drawn.

What is drawn is as wide as the outline at its widest, the stitches that it begins with counted in; what lies beside
the outline is not knitted, whatever is drawn there.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Sequence

from companion.knitting.cloth.fabric import Run
from companion.knitting.value import Record
from companion.plan.chart import GROUND, Drawn
from companion.plan.nodes import Items, Node, Text
from companion.plan.phrases import Amiss
from companion.plan.schema.sections import SectionShape
from companion.plan.shape import After, Outline, ShapeReader
from companion.plan.source import Source
from companion.plan.widths import Top

_NOTE = re.compile(r"(?:^|\s)#.*")


class ShapeLine(Record):
    """One line of words; ``column`` 0: only its ``line`` in the file is known, as it is not read as typed."""

    text: str
    line: int
    column: int

    def place(self, offset: int) -> tuple[int, int]:
        """Line and column of the word at an offset."""
        return self.line, self.column and self.column + offset


class LineTold(Record):
    """A ``line`` of a plan whose words shape its section: ``rows`` of the section are told then, and the last of them
    has so many ``stitches``."""

    line: int
    text: str
    rows: int
    stitches: int


class Shaped(Record):
    """The outline of a section, the lines that tell it, and what lies behind each of them."""

    outline: Outline
    lines: tuple[ShapeLine, ...]
    after: tuple[After, ...]

    @property
    def told(self) -> Iterator[LineTold]:
        """Its lines, each with what lies behind it."""
        for line, after in zip(self.lines, self.after, strict=True):
            yield LineTold(line.line, line.text.strip(), *after)

    def place(self, row: int) -> tuple[int, int]:
        """Where the words stand that tell of a row, from 0."""
        one = self.outline.rows[row]
        return self.lines[one.line].place(one.at)


def shape_lines(node: Node, source: Source) -> tuple[ShapeLine, ...]:
    """The lines of a shape: a list, or a block of text, in which all after "#" is a note."""
    found = list(_lines(node.items if isinstance(node, Items) else [node], source))
    return tuple(line for line in found if line.text.strip())


def _lines(nodes: Iterable[Node], source: Source) -> Iterator[ShapeLine]:
    for node in nodes:
        if not isinstance(node, Text):
            continue
        if node.style == "|":
            for number, text in enumerate(node.value.split("\n"), node.line + 1):
                typed = source.line(number)
                column = len(typed) - len(text) + 1 if typed.endswith(text) else 0
                yield ShapeLine(_NOTE.sub("", text), number, column)
        else:
            column = node.column + len(node.style)
            is_as_typed = source.line(node.line).startswith(node.value, column - 1)
            yield ShapeLine(node.value.replace("\n", " "), node.line, column if is_as_typed else 0)


class LaidOn(Record):
    """What a shape is laid on: so many stitches ``below`` (0 = none), which it ``says`` it begins with (0 = it does
    not say), its ``rows`` (None: as many as its words tell of); whether it ``is_first`` of the piece, and begins with
    a right-side row; its chart, so many times ``across``, and ``each`` so many rows a square."""

    below: int
    says: int
    rows: int | None
    is_first: bool
    is_right: bool
    drawn: Drawn | None
    across: int
    each: int

    @classmethod
    def of(
        cls, shape: SectionShape, drawn: Drawn | None, below: Top | None, rows: int | None, *, is_first: bool,
        is_right: bool,
    ) -> LaidOn:  # fmt: skip
        """A section with its chart and what lies below it. ``rows``: as many as it says it has, once."""
        ground = shape.plain or shape.field
        says = ((ground and ground.stitches) or 0) * shape.across
        high = len(drawn.rows) * shape.rows_per_square if drawn else rows
        return cls(
            below.stitches if below else 0, says, high and high * shape.repeat, is_first, is_right, drawn,
            shape.across, shape.rows_per_square,
        )  # fmt: skip

    @property
    def wide(self) -> int:
        """The columns of its chart."""
        return self.drawn.width * self.across if self.drawn else 0

    def reader(self, begins: int) -> ShapeReader:
        """Reads what is worked on so many stitches."""
        return ShapeReader(begins, is_first=self.is_first, is_right=self.is_right, rows=self.rows)


class AmissAt(Record):
    """What is wrong, and where; None: with the section."""

    place: tuple[int, int] | None
    what: str
    mend: str


def shaped(lines: tuple[ShapeLine, ...], on: LaidOn) -> Shaped | list[AmissAt]:
    """The shape that these lines tell, or everything that is wrong with it."""
    words = [line.text for line in lines]
    begins = on.below or on.says
    if not begins and on.wide:
        begins = max(1, on.wide - on.reader(on.wide).widens(words))
    reader = on.reader(begins)
    outline = reader.read(words)
    if not outline.begins:
        what = "Nothing says how many stitches this section begins with."
        return [AmissAt(None, what, 'Write "stitches: 60" in it, or begin its shape with "cast on 60 sts".')]
    if reader.amiss:
        return [_at(lines[one.line], one.amiss) for one in reader.amiss]
    if not lines or not outline.rows:
        place = lines[0].place(0) if lines else None
        return [AmissAt(place, "These words tell of no row.", 'Such as "work 4 rows even".')]
    if amiss := next(_unfit(outline, on), None):
        return [AmissAt(None, *amiss)]
    return Shaped(outline, lines, tuple(reader.after))


def _at(line: ShapeLine, amiss: Amiss) -> AmissAt:
    return AmissAt(line.place(amiss.at), amiss.what, amiss.mend)


def _unfit(outline: Outline, on: LaidOn) -> Iterator[tuple[str, str]]:
    """Where the outline and what it is laid on are not of one size, and how to mend it."""
    if on.says and on.says != outline.begins:
        what = f"This section says that it begins with {on.says:,} stitches, and there are {outline.begins:,}."
        yield what, 'Leave "stitches" out.'
    if on.wide and on.wide != outline.wide:
        most = f", and all its rows together take up {outline.wide:,}" if outline.wide > outline.begins else ""
        what = f"This chart is {on.wide:,} stitches wide; its shape begins with {outline.begins:,}{most}."
        yield what, f"Draw it {outline.wide:,} wide: what lies beside the shape is not knitted."
    elif on.drawn and (hole := _hole(outline, on.drawn, on.across, on.each)):
        row = f"Row {hole[0]:,} of this section, counted from the bottom"
        what = f'{row}, has "." in column {hole[1]:,} from the right, where its shape has a stitch.'
        yield what, "Draw a stitch there, or let the shape take it away."


def _hole(outline: Outline, drawn: Drawn, across: int, each: int) -> tuple[int, int] | None:
    """The first square without a stitch within the outline: its row and its column, both from 1."""
    for number, row in enumerate(outline.rows):
        runs = drawn.rows[number // each % len(drawn.rows)]
        if all(symbol != GROUND for _, symbol in runs):
            continue
        column = 0
        for count, symbol in runs[::-1] * across:
            first, column = column, column + count
            if symbol == GROUND and first < row.right + row.stitches and row.right < column:
                return number + 1, max(first, row.right) + 1
    return None


def within(runs: Sequence[Run], right: int, stitches: int) -> Iterator[Run]:
    """The runs of a row from column 1 up, without what lies to the right of so many columns and past so many more."""
    column = 0
    for run in runs:
        first, last = max(column, right), min(column + run.columns, right + stitches)
        column += run.columns
        if first < last:
            yield run._replace(columns=last - first)
