"""The sections of a plan, drawn out and measured: what passes here is of one width and within the limits.

Everything is measured on runs and counts, before any row is repeated."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from typing import TYPE_CHECKING

from companion.knitting.cloth.fabric import Gauge, TextureKind
from companion.knitting.cloth.outlines import MOST_DECREASED
from companion.knitting.value import Record
from companion.knitting.words.terms import listed
from companion.plan import compose
from companion.plan.amount import MOST_STITCHES
from companion.plan.chart import WIDEST, ChartReader, Drawn
from companion.plan.compose import Overlap, field, mirrored, on_chart
from companion.plan.lines import Lines
from companion.plan.misfits import Spot, spot
from companion.plan.nodes import Keys, Node, Text
from companion.plan.schema import sections as written
from companion.plan.schema.shapes import texture
from companion.plan.source import Found, Source
from companion.plan.widths import Placed, Top, filled, placed, sides, still_divided, top
from companion.problems import quoted

if TYPE_CHECKING:
    from companion.plan.shaped import LaidOn, Shaped

MOST_MOTIFS = 500
"""The most motifs on one field."""


class Section(Record):
    """One section measured. ``drawn`` is None for plain rows. Columns and rows count everything told to repeat.
    ``right``: so many columns of the piece lie to the right of it; ``gone``: so many stitches go at each edge;
    ``shaped``: its outline, where words tell it."""

    shape: written.SectionShape
    drawn: Drawn | None
    columns: int
    rows: int
    right: int = 0
    gone: int = 0
    shaped: Shaped | None = None


Fetch = Callable[[str, Spot], Source | None]
"""The chart file of this name, told to be drawn in at this spot; None when it cannot be read."""


class SectionReader:
    """Reads the sections of one plan in order; what is wrong with them is added to the problems found."""

    def __init__(
        self, root: Node, symbols: Mapping[str, str], source: Source, found: Found, fetch: Fetch,
        gauges: Mapping[TextureKind, Gauge] | None,
    ) -> None:
        self.lines_of: dict[int, Lines] = {}
        """Of every section whose chart is drawn in the plan itself, where it is drawn."""
        self.is_unsure = False  # a chart could not be read, so what it uses is not known
        self._root = root
        self._source = source
        self._found = found
        self._fetch = fetch
        self._gauges = gauges
        line = spot(root, ("symbols",)).key_place[0] if names_under(root, "symbols") else 0
        self.charts = ChartReader(symbols, line, found)
        self._yarn_of = symbols
        self._from: dict[str, Drawn | None] = {}
        self._first: tuple[int, int] | None = None
        self._below: Top | None = None
        self._is_right: bool | None = True  # whether the next row is a right-side row; None: nobody knows
        self._divided: float = 0  # so many rows to come, of an opening that is told by its columns
        self._reach = (0, 0)  # the outermost columns that a shape takes up, beyond those of the first section
        self._stitches = 0

    def lies_below(self, section: Section | None) -> None:
        """The next section that is read is worked on this one; None: nobody knows on what."""
        self._below, is_right = None, self._is_right
        if section is None:
            self._is_right = None
            return
        self._divided = still_divided(self._divided, section.shape.opening, section.rows)
        is_round = section.shape.worked == "round"
        self._is_right = True if is_round else None if is_right is None else is_right == (section.rows % 2 == 0)
        if section.shaped:
            self._below = section.shaped.top(section.right)
        else:
            self._below = top(section.drawn, section.shape, section.columns, section.right)

    def read(self, index: int, shape: written.SectionShape) -> Section | None:
        """One section, ``index`` from 0; None when it cannot be measured."""
        if shape.shape is not None:
            return self._shaped(index, shape)
        if shape.has_no_width and not shape.is_filled:
            wide = self._width - sum(edge.stitches or 0 for edge in _edges(shape))
            if wide < 1 or wide % shape.across:
                self._tell_widthless(index, "plain" if shape.plain else "field")
                return None
            shape = shape.of_width(wide // shape.across)
        if shape.plain:
            return self._measured(index, shape, None, shape.plain.stitches or 0, self._rows_of(shape.plain))
        drawn = self._field(index, shape.field, shape.motifs) if shape.field else self.chart(index, shape)
        if drawn is None or not drawn.is_even:
            self.is_unsure = True
            return None
        if shape.mirror:
            drawn = drawn._replace(rows=mirrored(drawn.rows))
        if shape.chart:
            shape = self._with_edges(index, shape, drawn)
        return self._measured(index, shape, drawn, drawn.width, len(drawn.rows) * shape.rows_per_square)

    @property
    def _width(self) -> int:
        """The stitches that a section which does not say its width is worked on; 0 where nobody knows."""
        return self._below.stitches if self._below else self._first[0] if self._first else 0

    def _tell_widthless(self, index: int, key: str) -> None:
        """Unless what cannot be read may say it."""
        if not self.is_unsure:
            what = f'"stitches" is missing in "{key}", and no other section says how many are meant.'
            self._add(spot(self._root, ("rows", index, key)).key_place, what)

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
        return self._motifs(index, motifs, width, height, "field")

    def _motifs(
        self, index: int, motifs: Sequence[written.MotifShape], width: int, height: int, on: str
    ) -> Drawn | None:
        """Motifs on what is as large as this."""
        spots = [spot(self._root, ("rows", index, "motifs", i, "from")) for i in range(len(motifs))]
        if len(motifs) > MOST_MOTIFS:
            self.is_unsure = True
            at = spot(self._root, ("rows", index, "motifs"))
            self._add(at.key_place, f"There are {len(motifs):,} motifs; a {on} may have {MOST_MOTIFS}.")
            return None
        lying: list[compose.Placed] = []
        for motif, at in zip(motifs, spots, strict=True):
            drawn = self._file(motif.from_, at)
            self.is_unsure |= drawn is None
            if drawn is not None and drawn.is_even and self._fits(motif, drawn, at, (width, height), on):
                right = (width - drawn.width * motif.across) // 2 if motif.right == "middle" else motif.right
                lying.append(compose.Placed.of(drawn, right, motif.bottom, motif.across, mirror=motif.mirror))
        if len(lying) < len(motifs) or not height or self._is_too_large(index, on, width, height):
            return None
        made = field(width, height, lying)
        if isinstance(made, Overlap):
            self._tell_overlap(spots[made.one], spots[made.other], made)
            return None
        return made

    def _fits(
        self, motif: written.MotifShape, drawn: Drawn, at: Spot, ground: tuple[int, int], on: str
    ) -> bool:
        width, height = ground
        right, said = (0, "") if motif.right == "middle" else (motif.right, f"right: {motif.right:,}")
        across = (drawn.width * motif.across, "stitches", said, right, width)
        upward = (len(drawn.rows), "rows", f"bottom: {motif.bottom:,}", motif.bottom, height)
        beyond = [one for one in (across, upward) if one[-1] and one[0] + one[3] > one[-1]]
        for size, unit, said, start, room in beyond:
            ends = f'; with "{said}" it ends at {start + size:,}' if said else ""
            what = f"This motif has {size:,} {unit}{ends}, and the {on} has {room:,}."
            self._add(at.place, what, f"Move it, or make the {on} larger.")
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
            drawn = self._inline(index, at)
        self.is_unsure |= drawn is None
        if drawn is None or not drawn.is_even or not shape.motifs:
            return drawn
        laid = self._motifs(index, shape.motifs, drawn.width, len(drawn.rows), "chart")
        return laid and on_chart(drawn, laid)

    def _with_edges(self, index: int, shape: written.SectionShape, drawn: Drawn) -> written.SectionShape:
        """The section of a chart with edges in the yarn beside them, where they name none."""
        found = sides(shape)
        made = {
            side: edge and edge.model_copy(update={"yarn": edge.yarn or self._beside(index, side, drawn)})
            for side, edge in (("left", found.left), ("right", found.right))
        }
        return shape if shape.edges is None else shape.model_copy(update={"edges": found.model_copy(update=made)})

    def _beside(self, index: int, side: str, drawn: Drawn) -> str:
        """The yarn that a chart has at a side in all its rows; told where it has several."""
        symbols = dict.fromkeys(row[0 if side == "left" else -1][1] for row in drawn.rows)
        yarns = list(dict.fromkeys(self._yarn_of[symbol] for symbol in symbols if symbol in self._yarn_of))
        if len(yarns) > 1:
            what = f'"edges" names no yarn, and the chart has {listed(yarns)} at its {side} edge.'
            mend = f"Say which one is meant: edges: {{stitches: 4, yarn: {yarns[0]}}}"
            self._add(spot(self._root, ("rows", index, "edges")).key_place, what, mend)
        return yarns[0] if yarns else next(iter(self._yarn_of.values()))

    def _inline(self, index: int, at: Spot) -> Drawn | None:
        assert isinstance(at.node, Text)
        lines = self._lines(at.node, at.key_place)
        if lines is None or not self.charts.symbols:
            return None
        self.lines_of[index] = lines
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

    def _lines(self, text: Text, key: tuple[int, int]) -> Lines | None:
        """The lines of a chart that stands in the plan at this key, each with its own place in the file."""
        source = self._source
        if text.style == "|":
            return Lines.of(source, text.value.split("\n"), text.line + 1, column=None)
        if text.style == ">" or (text.last_line != text.line and text.value.strip()):
            what = "The lines of this chart run together."
            place = key if key[0] < text.line else (text.line, text.column)
            self._add(place, what, 'Write "|" after "chart:" and the lines below it.')
            return None
        column = text.column + len(text.style)
        # A quoted line with escapes is not what stands in the file: then only its line is known.
        if not source.line(text.line).startswith(text.value, column - 1):
            column = 0
        return Lines.of(source, text.value.split("\n"), text.line, 0, column)

    def _measured(
        self, index: int, shape: written.SectionShape, drawn: Drawn | None, wide: int, high: int
    ) -> Section | None:
        if shape.is_filled:
            if not wide or not self._width:
                self._tell_widthless(index, "edges" if wide else "plain")
                return None
            shape = filled(shape, self._width - wide * shape.across)
        edges = [edge.stitches or 0 for edge in _edges(shape)]
        columns, rows = wide * shape.across + sum(edges), high * shape.repeat
        at = spot(self._root, ("rows", index)).place
        sum_told = _sum(wide, shape.across, edges)
        if columns > WIDEST:
            self._tell_too_wide(at, columns, sum_told)
            return None
        if self._first is None:
            self._first = (columns, at[0])
        lies = Placed(0, 0)
        if self._below and columns == self._below.stitches:
            lies = Placed(self._below.right, 0)
        elif columns != self._first[0]:
            found = placed(columns, self._first[0], self._below, is_drawn=drawn is not None and shape.field is None)
            if isinstance(found, str) or columns > self._first[0]:
                self._tell_width(at, columns, sum_told, found if isinstance(found, str) else "")
            else:
                lies = found
                has_edges = shape.worked == "flat" and not (self._below and self._below.is_round)
                self._warn_narrower(at, lies.gone if has_edges else 0)
        self._count(columns * rows, at)
        return Section(shape, drawn, columns, rows, *lies)

    def _count(self, stitches: int, at: tuple[int, int]) -> None:
        before, self._stitches = self._stitches, self._stitches + stitches
        if before <= MOST_STITCHES < self._stitches:
            made = f"With this section the piece has {self._stitches:,} stitches"
            self._add(at, f"{made}; it may have {MOST_STITCHES:,}.")

    def _shaped(self, index: int, shape: written.SectionShape) -> Section | None:
        """A section whose shape is told in words."""
        from companion.plan.shaped import shape_lines, shaped  # what a plan without words has no need of

        at, ground = spot(self._root, ("rows", index)).place, shape.plain or shape.field
        drawn = None if ground else self.chart(index, shape)
        if ground is None and (drawn is None or not drawn.is_even):
            self.is_unsure = True
            return None
        if drawn and shape.mirror:
            drawn = drawn._replace(rows=mirrored(drawn.rows))
        shape = self._with_edges(index, shape, drawn) if drawn else shape
        if (on := self._laid_on(at, index, shape, drawn)) is None or self._stitches > MOST_STITCHES:
            self.is_unsure = True
            return None
        lines = shape_lines(spot(self._root, ("rows", index, "shape")).node, self._source)
        found = shaped(lines, on)
        if isinstance(found, list):
            for amiss in found:
                self._add(amiss.place or at, amiss.what, amiss.mend)
            self.is_unsure |= bool(shape.motifs)
            return None
        outline, shape = found.outline, shape.model_copy(update={"opening": found.opening})
        if ground:
            rows = len(outline.rows) // shape.repeat
            shape = shape.model_copy(update={"across": 1}).of_extent(outline.wide - sum(on.edges), rows)
        if shape.field and (drawn := self._field(index, shape.field, shape.motifs)) is None:
            self.is_unsure = True
            return None
        self._first = self._first or (outline.begins, at[0])
        right = (self._below.right if self._below else 0) - outline.base
        self._reach = low, high = min(self._reach[0], right), max(*self._reach, self._first[0], right + outline.wide)
        if high - low > WIDEST:
            self._tell_too_wide(at, high - low)
            return None
        self._count(sum(one.stitches for row in outline.rows for one in row.each), at)
        return Section(shape, drawn, outline.wide, len(outline.rows), right, 0, found)

    def _laid_on(
        self, at: tuple[int, int], index: int, shape: written.SectionShape, drawn: Drawn | None
    ) -> LaidOn | None:
        """What a shape is laid on; None where it cannot be, which is told here or elsewhere."""
        from companion.plan.shaped import LaidOn

        if self._divided and not (self._below and self._below.parts):
            what = "Two parts lie below side by side, and edges above are not shaped in words."
            self._add(at, what, 'Draw them with ".", or shape them in the section that divides.')
            return None
        ground = shape.plain or shape.field
        rows = self._rows_of(ground) if ground and ground.has_extent else None
        if self._is_right is None or rows == 0:  # what is amiss below, or in the gauge, is told there
            return None
        return LaidOn.of(shape, drawn, self._below, rows, self._divided, is_first=not index, is_right=self._is_right)

    def _warn_narrower(self, at: tuple[int, int], gone: int) -> None:
        """Stitches that go though nothing draws it, since a width is easily miscounted."""
        if gone:
            how = "decreased" if gone <= MOST_DECREASED else "bound off where its first two rows begin"
            what = f"This section is narrower than what lies below: {gone:,} go at each edge, {how}."
            self._found.add(self._source.problem(*at, what, is_warning=True))

    def _tell_width(self, at: tuple[int, int], columns: int, sum_told: str, why: str) -> None:
        assert self._first is not None
        first, line = self._first
        what = f"This section is {columns:,} stitches wide{sum_told}, the first one (line {line}) {first:,}."
        mend = 'Sections must be of one width; "edges" and "across" widen a section.'
        if columns < first:
            mend += ' Draw "." for stitches that are gone.'
        if why and self._below:
            below = f"{self._below.stitches:,} lie below"
            what = f"This section is {columns:,} stitches wide{sum_told}, and {below}: {why}."
            mend = 'Draw it as a chart, with "." where stitches go.'
        self._found.add(self._source.problem(*at, what, mend), cause="widths")

    def _is_too_large(self, index: int, on: str, columns: int, rows: int) -> bool:
        """Whether what motifs lie on passes the limits by itself; told before it is drawn out."""
        at = spot(self._root, ("rows", index)).place
        if columns > WIDEST:
            self._tell_too_wide(at, columns)
        elif columns * rows > MOST_STITCHES:
            self._add(at, f"This {on} has {columns * rows:,} stitches; a piece may have {MOST_STITCHES:,}.")
        return columns > WIDEST or columns * rows > MOST_STITCHES

    def _tell_too_wide(self, at: tuple[int, int], columns: int, sum_told: str = "") -> None:
        self._add(at, f"This section is {columns:,} stitches wide{sum_told}; a piece may be {WIDEST:,} wide.")

    def _add(self, place: tuple[int, int], what: str, mend: str = "") -> None:
        self._found.add(self._source.problem(*place, what, mend))


def _edges(shape: written.SectionShape) -> list[written.EdgeShape]:
    """The edges that there are, the left one first."""
    found = sides(shape)
    return [edge for edge in (found.left, found.right) if edge]


def names_under(root: Node, key: str) -> list[str]:
    """The keys that stand under a key of the plan; none where it holds no keys."""
    node = spot(root, (key,)).node
    return list(node.entries) if isinstance(root, Keys) and key in root.entries and isinstance(node, Keys) else []


def _sum(wide: int, across: int, edges: Sequence[int]) -> str:
    """How a width comes about, where it is more than one number."""
    parts = [f"{wide:,} x {across:,}" if across > 1 else f"{wide:,}", *(f"{edge:,}" for edge in edges)]
    return f" ({' + '.join(parts)})" if across > 1 or edges else ""
