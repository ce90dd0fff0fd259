"""The sections of a plan, drawn out and measured: what passes here is of one width and within the limits.

Everything is measured on runs and counts, before any row is repeated."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from typing import NamedTuple

from companion.knitting.cloth.fabric import Gauge, TextureKind
from companion.plan.amount import MOST_STITCHES
from companion.plan.chart import WIDEST, ChartReader, Drawn
from companion.plan.compose import Overlap, Placed, field, mirrored
from companion.plan.lines import Lines
from companion.plan.misfits import Spot, spot
from companion.plan.nodes import Keys, Node, Text
from companion.plan.schema import sections as written
from companion.plan.schema.shapes import texture
from companion.plan.source import Found, Source
from companion.problems import quoted

MOST_MOTIFS = 500
"""The most motifs on one field."""


class Section(NamedTuple):
    """One section measured. ``drawn`` is None for plain rows. Columns and rows count everything told to repeat."""

    shape: written.SectionShape
    drawn: Drawn | None
    columns: int
    rows: int


Fetch = Callable[[str, Spot], Source | None]
"""The chart file of this name, told to be drawn in at this spot; None when it cannot be read."""


class SectionReader:
    """Reads the sections of one plan in order; what is wrong with them is added to the problems found."""

    def __init__(
        self, root: Node, symbols: Mapping[str, str], source: Source, found: Found, fetch: Fetch,
        gauges: Mapping[TextureKind, Gauge] | None,
    ) -> None:
        self.is_unsure = False  # a chart could not be read, so what it uses is not known
        self._root = root
        self._source = source
        self._found = found
        self._fetch = fetch
        self._gauges = gauges
        line = spot(root, ("symbols",)).key_place[0] if names_under(root, "symbols") else 0
        self.charts = ChartReader(symbols, line, found)
        self._from: dict[str, Drawn | None] = {}
        self._first: tuple[int, int] | None = None
        self._stitches = 0

    def read(self, index: int, shape: written.SectionShape) -> Section | None:
        """One section, ``index`` from 0; None when it cannot be measured."""
        if shape.has_no_width:
            wide = self._first[0] - sum(edge.stitches for edge in _edges(shape)) if self._first else 0
            if wide < 1 or wide % shape.across:
                key = "plain" if shape.plain else "field"
                what = f'"stitches" is missing in "{key}", and no other section says how many are meant.'
                self._add(spot(self._root, ("rows", index, key)).key_place, what)
                return None
            shape = shape.of_width(wide // shape.across)
        if shape.plain:
            return self._measured(index, shape, None, shape.plain.stitches or 0, self._rows_of(shape.plain))
        drawn = self._field(index, shape.field, shape.motifs) if shape.field else self.chart(index, shape)
        if drawn is None or not drawn.is_even:
            return None
        if shape.mirror:
            drawn = drawn._replace(rows=mirrored(drawn.rows))
        return self._measured(index, shape, drawn, drawn.width, len(drawn.rows) * shape.rows_per_square)

    def _rows_of(self, plain: written.PlainShape) -> int:
        """How many rows it has: as written, else the nearest whole number that makes its height by the gauge. 0 where
        the gauge is amiss, so that nobody knows."""
        if plain.rows is not None:
            return plain.rows
        if self._gauges is None:
            return 0
        assert plain.height is not None
        kind = texture(plain.stitch).kind
        gauge = self._gauges.get(kind, self._gauges["stockinette"])
        return max(1, round(plain.height / gauge.row_cm))

    def _field(self, index: int, ground: written.FieldShape, motifs: Sequence[written.MotifShape]) -> Drawn | None:
        """The ground with its motifs; None where one cannot be read or does not fit."""
        width, height = ground.stitches or 0, self._rows_of(ground)
        spots = [spot(self._root, ("rows", index, "motifs", i, "from")) for i in range(len(motifs))]
        if len(motifs) > MOST_MOTIFS:
            self.is_unsure = True
            at = spot(self._root, ("rows", index, "motifs"))
            self._add(at.key_place, f"There are {len(motifs):,} motifs; a field may have {MOST_MOTIFS}.")
            return None
        placed: list[Placed] = []
        for motif, at in zip(motifs, spots, strict=True):
            drawn = self._file(motif.from_, at)
            self.is_unsure |= drawn is None
            if drawn is not None and drawn.is_even and self._fits(motif, drawn, at, width, height):
                placed.append(Placed.of(drawn, motif.right, motif.bottom, motif.across, mirror=motif.mirror))
        if len(placed) < len(motifs) or not height or self._is_too_large(index, width, height):
            return None
        made = field(width, height, placed)
        if isinstance(made, Overlap):
            self._tell_overlap(spots[made.one], spots[made.other], made)
            return None
        return made

    def _fits(self, motif: written.MotifShape, drawn: Drawn, at: Spot, width: int, height: int) -> bool:
        across = (drawn.width * motif.across, "stitches", "right", motif.right, width)
        upward = (len(drawn.rows), "rows", "bottom", motif.bottom, height)
        beyond = [one for one in (across, upward) if one[-1] and one[0] + one[3] > one[-1]]
        for size, unit, side, start, room in beyond:
            what = (
                f'This motif has {size:,} {unit}; with "{side}: {start:,}" it ends at {start + size:,}, and the '
                f"field has {room:,}."
            )
            self._add(at.place, what, "Move it, or make the field larger.")
        return not beyond

    def _tell_overlap(self, one: Spot, other: Spot, at: Overlap) -> None:
        what = (
            f"This motif lies over the one of line {one.place[0]}: both draw stitch {at.stitch:,} of row {at.row:,} "
            "of the field, counted from the right and from the bottom."
        )
        self._add(other.place, what, 'Move one of them; "." in a motif lets the ground show.')

    def chart(self, index: int, shape: written.SectionShape) -> Drawn | None:
        """The chart of a section, by itself; None when it has no rows that can be read."""
        at = spot(self._root, ("rows", index, "chart"))
        if isinstance(shape.chart, written.FromShape):
            drawn = self._file(shape.chart.from_, spot(self._root, ("rows", index, "chart", "from")))
        else:
            drawn = self._inline(at)
        self.is_unsure |= drawn is None
        return drawn

    def _inline(self, at: Spot) -> Drawn | None:
        assert isinstance(at.node, Text)
        lines = self._lines(at.node)
        if lines is None or not self.charts.symbols:
            return None
        drawn = self.charts.read(lines)
        if drawn is None:
            self._add(at.key_place, "The chart is empty.", "Draw its rows below it, or delete the section.")
        return drawn

    def _file(self, name: str, at: Spot) -> Drawn | None:
        """The chart in a file, named at this spot. A file is read once; its mistakes are told once."""
        if name not in self._from:
            source = self._fetch(name, at)
            self._from[name] = None
            if source is not None and self.charts.symbols:
                drawn = self._from[name] = self.charts.read(Lines.of(source, source.lines, 1))
                if drawn is None:
                    self._add(at.place, f"The chart file {quoted(name)} holds no rows.", "Draw them there.")
        return self._from[name]

    def _lines(self, text: Text) -> Lines | None:
        """The lines of a chart that stands in the plan, each with its own place in the file."""
        source = self._source
        if text.style == "|":
            return Lines.of(source, text.value.split("\n"), text.line + 1, column=None)
        if text.style == ">" or (text.last_line != text.line and text.value.strip()):
            what = "The lines of this chart run together."
            self._add((text.line, text.column), what, 'Write "|" after "chart:" and the lines below it.')
            return None
        column = text.column + len(text.style)
        # A quoted line with escapes is not what stands in the file: then only its line is known.
        if not source.line(text.line).startswith(text.value, column - 1):
            column = 0
        return Lines.of(source, text.value.split("\n"), text.line, 0, column)

    def _measured(
        self, index: int, shape: written.SectionShape, drawn: Drawn | None, wide: int, high: int
    ) -> Section | None:
        edges = [edge.stitches for edge in _edges(shape)]
        columns, rows = wide * shape.across + sum(edges), high * shape.repeat
        at = spot(self._root, ("rows", index)).place
        sum_told = _sum(wide, shape.across, edges)
        if columns > WIDEST:
            self._tell_too_wide(at, columns, sum_told)
            return None
        if self._first is None:
            self._first = (columns, at[0])
        elif columns != self._first[0]:
            first, line = self._first
            what = f"This section is {columns:,} stitches wide{sum_told}, the first one (line {line}) {first:,}."
            mend = 'Sections must be of one width; "edges" and "across" widen a section.'
            self._found.add(self._source.problem(*at, what, mend), cause="widths")
        before, self._stitches = self._stitches, self._stitches + columns * rows
        if before <= MOST_STITCHES < self._stitches:
            made = f"With this section the piece has {self._stitches:,} stitches"
            self._add(at, f"{made}; it may have {MOST_STITCHES:,}.")
        return Section(shape, drawn, columns, rows)

    def _is_too_large(self, index: int, columns: int, rows: int) -> bool:
        """Whether a field passes the limits by itself; told before it is drawn out."""
        at = spot(self._root, ("rows", index)).place
        if columns > WIDEST:
            self._tell_too_wide(at, columns)
        elif columns * rows > MOST_STITCHES:
            self._add(at, f"This field has {columns * rows:,} stitches; a piece may have {MOST_STITCHES:,}.")
        return columns > WIDEST or columns * rows > MOST_STITCHES

    def _tell_too_wide(self, at: tuple[int, int], columns: int, sum_told: str = "") -> None:
        self._add(at, f"This section is {columns:,} stitches wide{sum_told}; a piece may be {WIDEST:,} wide.")

    def _add(self, place: tuple[int, int], what: str, mend: str = "") -> None:
        self._found.add(self._source.problem(*place, what, mend))


def _edges(shape: written.SectionShape) -> list[written.EdgeShape]:
    """The edges that there are, the left one first."""
    match shape.edges:
        case None:
            return []
        case written.EdgeShape():
            return [shape.edges] * 2
        case written.SidesShape(left=left, right=right):
            return [edge for edge in (left, right) if edge]


def names_under(root: Node, key: str) -> list[str]:
    """The keys that stand under a key of the plan; none where it holds no keys."""
    node = spot(root, (key,)).node
    return list(node.entries) if isinstance(root, Keys) and key in root.entries and isinstance(node, Keys) else []


def _sum(wide: int, across: int, edges: Sequence[int]) -> str:
    """How a width comes about, where it is more than one number."""
    parts = [f"{wide:,} x {across:,}" if across > 1 else f"{wide:,}", *(f"{edge:,}" for edge in edges)]
    return f" ({' + '.join(parts)})" if across > 1 or edges else ""
