"""A section whose shape is told in words: where its lines stand in the plan, and its outline laid over what is drawn.

What is drawn is as wide as the outline at its widest, the stitches that it begins with counted in; what lies beside
the outline is not knitted, whatever is drawn there.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Sequence

from companion.knitting.cloth.fabric import Part, Run
from companion.knitting.value import Record
from companion.plan.chart import GROUND, Drawn
from companion.plan.nodes import Items, Keys, Node, Text
from companion.plan.phrases import Amiss
from companion.plan.schema.sections import OpeningShape, SectionShape
from companion.plan.schema.values import Middle
from companion.plan.shape import After, Outline, ShapeReader
from companion.plan.shape_parts import Below, ShapeRow, stitches_told
from companion.plan.source import Source
from companion.plan.widths import Top, widths

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
    """A ``line`` of a plan whose words shape its section, and what lies behind it."""

    line: int
    text: str
    after: tuple[After, ...]


class Shaped(Record):
    """The outline of a section, the lines that tell it, and what lies behind each of them. ``opening``: the section's
    own, with the place where the words let it lie."""

    outline: Outline
    lines: tuple[ShapeLine, ...]
    after: tuple[tuple[After, ...], ...]
    opening: OpeningShape | None

    @property
    def told(self) -> Iterator[LineTold]:
        """Its lines, each with what lies behind it."""
        for line, after in zip(self.lines, self.after, strict=True):
            yield LineTold(line.line, line.text.strip(), after)

    def top(self, right: int) -> Top:
        """The stitches of its last row. ``right``: so many columns of the piece lie to the right of the section."""
        last = self.outline.rows[-1]
        own = [(one.right - last.right, one.right + one.stitches - last.right) for one in last.each]
        return Top(right + last.right, last.past - last.right, parts=(own[0], own[1]) if len(own) == 2 else None)

    def place(self, row: int, part: Part) -> tuple[int, int]:
        """Where the words stand that tell of a row of a part, from 0."""
        one = self.outline.rows[row].each[-1 if part == "left" else 0]
        return self.lines[one.line].place(one.at)


def shape_lines(node: Node, source: Source) -> tuple[ShapeLine, ...]:
    """The lines of a shape: a list, or a block of text, in which all after "#" is a note."""
    found = list(_lines(node.items if isinstance(node, Items) else [node], source))
    return tuple(line for line in found if line.text.strip())


def _lines(nodes: Iterable[Node], source: Source) -> Iterator[ShapeLine]:
    for node in nodes:
        if isinstance(node, Keys):  # a line with ":", as YAML reads it
            for key, below in node.entries.values():
                yield _line(key, source)._replace(text=f"{key.value}:")
                yield from _lines(below.items if isinstance(below, Items) else [below], source)
        elif isinstance(node, Items):
            continue
        elif node.style == "|":
            for number, text in enumerate(node.value.split("\n"), node.line + 1):
                typed = source.line(number)
                column = len(typed) - len(text) + 1 if typed.endswith(text) else 0
                yield ShapeLine(_NOTE.sub("", text), number, column)
        else:
            yield _line(node, source)


def _line(text: Text, source: Source) -> ShapeLine:
    column = text.column + len(text.style)
    is_as_typed = source.line(text.line).startswith(text.value, column - 1)
    return ShapeLine(text.value.replace("\n", " "), text.line, column if is_as_typed else 0)


class LaidOn(Record):
    """What a shape is laid on: so many stitches ``below`` (0 = none) and the ``parts`` that have them, which it
    ``says`` it begins with (0 = it does not say), its ``rows`` (None: as many as its words tell of); whether it
    ``is_first`` of the piece, and begins with a right-side row; its chart, so many times ``across``, and ``each`` so
    many rows a square; the stitches of its ``edges``, right and left; its ``opening``."""

    below: int
    parts: Below | None
    says: int
    rows: int | None
    is_first: bool
    is_right: bool
    drawn: Drawn | None
    across: int
    each: int
    edges: tuple[int, int]
    opening: OpeningShape | None

    @classmethod
    def of(
        cls, shape: SectionShape, drawn: Drawn | None, below: Top | None, rows: int | None, divided: float, *,
        is_first: bool, is_right: bool,
    ) -> LaidOn:  # fmt: skip
        """A section with its chart and what lies below it. ``rows``: as many as it says it has, once;
        ``divided``: so many belong to the parts below, as is said there."""
        ground = shape.plain or shape.field
        edges = widths(shape)
        says = ((ground and ground.stitches) or 0) * shape.across
        says += sum(edges) if says else 0
        high = len(drawn.rows) * shape.rows_per_square if drawn else rows
        return cls(
            below.stitches if below else 0, Below(*below.parts, divided > 0) if below and below.parts else None, says,
            high and high * shape.repeat, is_first, is_right, drawn, shape.across, shape.rows_per_square,
            edges, shape.opening,
        )  # fmt: skip

    @property
    def wide(self) -> int:
        """The columns of its chart, with its edges."""
        return self.drawn.width * self.across + sum(self.edges) if self.drawn else 0

    def reader(self, begins: int) -> ShapeReader:
        """Reads what is worked on so many stitches."""
        return ShapeReader(
            begins, is_first=self.is_first, is_right=self.is_right, rows=self.rows, parts=self.parts
        )  # fmt: skip


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
    if narrow := _narrow(outline, on, lines):
        return [narrow]
    opening = _opened(outline, on.opening, lines)
    if isinstance(opening, AmissAt):
        return [opening]
    return Shaped(outline, lines, tuple(reader.after), opening)


def _opened(
    outline: Outline, opening: OpeningShape | None, lines: Sequence[ShapeLine]
) -> OpeningShape | AmissAt | None:
    """The section's opening where its words let it lie. It is found in what is drawn, but where its parts lie side by
    side: there it is told by its columns."""
    found = outline.opened
    if not found or opening is None:
        if not found and opening is None:
            return None
        place = lines[found[0].line].place(found[0].at) if found else None
        what = "These words divide the piece, and the section does not say which part is worked first."
        mend = 'Write beside "shape": opening: {first: right}'
        if opening:
            what = 'This section has "opening", and the words of its shape do not say where it divides.'
            mend = 'Such as "bind off the middle 12 sts", and then "Both parts:", or "Right part:" and "Left part:".'
        return AmissAt(place, what, mend)
    if given := sorted(opening.model_fields_set & {"at", "row", "rows"}):
        what = f'The words of its shape say where this section divides, and so does "{given[0]}".'
        return AmissAt(None, what, f'Leave "{given[0]}" out.')
    for one in found:
        said: Middle = "held" if one.middle and one.is_held else "bound off"
        if "middle" not in opening.model_fields_set:
            opening = opening.model_copy(update={"middle": said}) if one.gap else opening
        if one.gap and said != opening.middle:
            what = f"By these words the middle is {said}, and by others in this section it is {opening.middle}."
            return AmissAt(lines[one.line].place(one.at), what, "Mend one of them.")
    if all(one.is_seen for one in found):
        return opening
    if len(found) > 1:
        what = "This section divides more than once, and the parts of one opening lie side by side."
        return AmissAt(None, what, "Give every opening a section of its own.")
    [one] = found
    return opening.model_copy(update={"at": one.right, "row": one.row + 1, "rows": one.high})


def _at(line: ShapeLine, amiss: Amiss) -> AmissAt:
    return AmissAt(line.place(amiss.at), amiss.what, amiss.mend)


def _unfit(outline: Outline, on: LaidOn) -> Iterator[tuple[str, str]]:
    """Where the outline and what it is laid on are not of one size, and how to mend it."""
    if on.says and on.says != outline.begins:
        what = f"This section says that it begins with {on.says:,} stitches, and there are {outline.begins:,}."
        yield what, 'Leave "stitches" out.'
    if on.wide and on.wide != outline.wide:
        most = f", and all its rows together take up {outline.wide:,}" if outline.wide > outline.begins else ""
        wide = f"This chart is {on.wide:,} stitches wide{' with its edges' * any(on.edges)}"
        what = f"{wide}; its shape begins with {outline.begins:,}{most}."
        yield what, f"Draw it {outline.wide - sum(on.edges):,} wide: what lies beside the shape is not knitted."
    elif on.drawn and (hole := _hole(outline, on.drawn, on)):
        row = f"Row {hole[0]:,} of this section, counted from the bottom"
        what = f'{row}, has "." in column {hole[1]:,} from the right, where its shape has a stitch.'
        yield what, "Draw a stitch there, or let the shape take it away."


def _narrow(outline: Outline, on: LaidOn, lines: Sequence[ShapeLine]) -> AmissAt | None:
    """The first row with fewer stitches than its edges take."""
    for number, row in enumerate(outline.rows, 1):
        for one in row.each:
            if sum(edges := edges_of(one, on.edges)) > one.stitches:
                has = f"Row {number:,} of this section has {stitches_told(one.stitches)}"
                what = f"{has}, and its edges take {sum(edges):,}."
                return AmissAt(lines[one.line].place(one.at), what, "Make the edges narrower, or end them below.")
    return None


def edges_of(row: ShapeRow, edges: tuple[int, int]) -> tuple[int, int]:
    """The stitches of a row's edges, right and left: beside an opening a part has none."""
    right, left = edges
    return right * (row.part != "left"), left * (row.part != "right")


def _hole(outline: Outline, drawn: Drawn, on: LaidOn) -> tuple[int, int] | None:
    """The first square without a stitch within the outline and its edges: its row, and its column in the chart, both
    from 1."""
    for number, row in enumerate(outline.rows):
        runs = drawn.rows[number // on.each % len(drawn.rows)]
        if all(symbol != GROUND for _, symbol in runs):
            continue
        column = 0
        for count, symbol in runs[::-1] * on.across:
            begins, column = column, column + count
            for own in row.each if symbol == GROUND else ():
                right, left = edges_of(own, on.edges)
                first, past = own.right + right - on.edges[0], own.right + own.stitches - left - on.edges[0]
                if begins < past and first < column:
                    return number + 1, max(begins, first) + 1
    return None


def within(runs: Sequence[Run], right: int, stitches: int) -> Iterator[Run]:
    """The runs of a row from column 1 up, without what lies to the right of so many columns and past so many more."""
    column = 0
    for run in runs:
        first, last = max(column, right), min(column + run.columns, right + stitches)
        column += run.columns
        if first < last:
            yield run._replace(columns=last - first)
