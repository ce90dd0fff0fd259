"""The sections of a plan, measured: what passes here is of one width and within the limits.

Everything is measured on runs and counts, before any row is repeated."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import TYPE_CHECKING

from companion.knitting.cloth.fabric import Gauge, TextureKind
from companion.knitting.cloth.outlines import MOST_DECREASED
from companion.knitting.value import Record
from companion.knitting.words.terms import listed
from companion.plan.amount import MOST_STITCHES
from companion.plan.chart import WIDEST, Drawn
from companion.plan.compose import mirrored
from companion.plan.misfits import spot
from companion.plan.nodes import Node
from companion.plan.schema import sections as written
from companion.plan.schema.shapes import texture
from companion.plan.section_charts import Fetch, SectionCharts
from companion.plan.source import Found, Source
from companion.plan.widths import Placed, Top, filled, placed, sides, still_divided, top

if TYPE_CHECKING:
    from companion.plan.shaped import LaidOn, Shaped


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


class SectionReader(SectionCharts):
    """Reads the sections of one plan in order; what is wrong with them is added to the problems found."""

    def __init__(
        self, root: Node, symbols: Mapping[str, str], source: Source, found: Found, fetch: Fetch,
        gauges: Mapping[TextureKind, Gauge] | None,
    ) -> None:
        super().__init__(root, symbols, source, found, fetch)
        self._gauges = gauges
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


def _edges(shape: written.SectionShape) -> list[written.EdgeShape]:
    """The edges that there are, the left one first."""
    found = sides(shape)
    return [edge for edge in (found.left, found.right) if edge]


def _sum(wide: int, across: int, edges: Sequence[int]) -> str:
    """How a width comes about, where it is more than one number."""
    parts = [f"{wide:,} x {across:,}" if across > 1 else f"{wide:,}", *(f"{edge:,}" for edge in edges)]
    return f" ({' + '.join(parts)})" if across > 1 or edges else ""
