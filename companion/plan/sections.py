"""The sections of a plan, drawn out and measured: what passes here is of one width and within the limits.

Everything is measured on runs and counts, before any row is repeated.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass

from companion.plan.amount import MOST_STITCHES
from companion.plan.chart import WIDEST, ChartReader, Drawn
from companion.plan.lines import Lines
from companion.plan.misfits import Spot, spot
from companion.plan.nodes import Keys, Node, Text
from companion.plan.schema import EdgeShape, FromShape, SectionShape, SidesShape
from companion.plan.source import Found, Source
from companion.problems import nearest, quoted


@dataclass(frozen=True, slots=True)
class Section:
    """One section measured. ``drawn`` is None for plain rows. Columns and rows count everything told to repeat."""

    shape: SectionShape
    drawn: Drawn | None
    columns: int
    rows: int


Fetch = Callable[[str, Spot], Source | None]
"""The chart file of this name, told to be drawn in at this spot; None when it cannot be read."""


class SectionReader:
    """Reads the sections of one plan in order; what is wrong with them is added to the problems found."""

    def __init__(self, root: Node, source: Source, found: Found, fetch: Fetch) -> None:
        self.is_unsure = False  # a chart could not be read, so what it uses is not known
        self._root = root
        self._source = source
        self._found = found
        self._fetch = fetch
        self._yarns = _names(root, "yarns")
        self._yarns_line = spot(root, ("yarns",)).key_place[0] if self._yarns else 0
        symbols = _names(root, "symbols")
        line = spot(root, ("symbols",)).key_place[0] if symbols else 0
        self.charts = ChartReader(symbols, line, found)
        self._from: dict[str, Drawn | None] = {}
        self._first: tuple[int, int] | None = None
        self._stitches = 0

    def check_yarn(self, name: str, at: Spot) -> None:
        """Tell when the plan has no yarn of that name."""
        if self._yarns and name not in self._yarns:
            near = nearest(name, self._yarns[:500])
            mend = f"Did you mean {quoted(near)}?" if near else f"Yarns of this plan: {', '.join(self._yarns[:40])}."
            what = f'The yarn {quoted(name)} is not under "yarns" (line {self._yarns_line}).'
            self._found.add(self._source.problem(*at.place, what, mend))

    def read(self, index: int, shape: SectionShape) -> Section | None:
        """One section, ``index`` from 0; None when it cannot be measured."""
        path = ("rows", index)
        for side, edge in _edges(shape):
            self.check_yarn(edge.yarn, spot(self._root, (*path, "edges", *side, "yarn")))
        if shape.plain:
            self.check_yarn(shape.plain.yarn, spot(self._root, (*path, "plain", "yarn")))
            return self._measured(index, shape, None, shape.plain.stitches, shape.plain.rows)
        drawn = self.chart(index, shape)
        if drawn is None or not drawn.is_even:
            return None
        return self._measured(index, shape, drawn, drawn.width, len(drawn.rows))

    def chart(self, index: int, shape: SectionShape) -> Drawn | None:
        """The chart of a section, by itself; None when it has no rows that can be read."""
        at = spot(self._root, ("rows", index, "chart"))
        drawn = self._from_file(shape.chart.from_, at) if isinstance(shape.chart, FromShape) else self._inline(at)
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

    def _from_file(self, name: str, chart: Spot) -> Drawn | None:
        entries = chart.node.entries if isinstance(chart.node, Keys) else {}
        at = Spot(entries["from"].value, entries["from"].key)
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

    def _measured(self, index: int, shape: SectionShape, drawn: Drawn | None, wide: int, high: int) -> Section | None:
        edges = [edge.stitches for _, edge in _edges(shape)]
        if isinstance(shape.edges, EdgeShape):
            edges *= 2
        columns, rows = wide * shape.across + sum(edges), high * shape.repeat
        at = spot(self._root, ("rows", index)).place
        sum_told = _sum(wide, shape.across, edges)
        if columns > WIDEST:
            self._add(at, f"This section is {columns:,} stitches wide{sum_told}; a piece may be {WIDEST:,} wide.")
            return None
        if self._first is None:
            self._first = (columns, at[0])
        elif columns != self._first[0]:
            self._tell_width(at, columns, sum_told)
        before, self._stitches = self._stitches, self._stitches + columns * rows
        if before <= MOST_STITCHES < self._stitches:
            what = f"With this section the piece has {self._stitches:,} stitches; it may have {MOST_STITCHES:,}."
            self._add(at, what)
        return Section(shape, drawn, columns, rows)

    def _tell_width(self, at: tuple[int, int], columns: int, sum_told: str) -> None:
        assert self._first is not None
        first, line = self._first
        what = f"This section is {columns:,} stitches wide{sum_told}, the first one (line {line}) {first:,}."
        mend = 'Sections must be of one width; "edges" and "across" widen a section.'
        self._add(at, what, mend)

    def _add(self, place: tuple[int, int], what: str, mend: str = "") -> None:
        self._found.add(self._source.problem(*place, what, mend))


def _edges(shape: SectionShape) -> list[tuple[tuple[str, ...], EdgeShape]]:
    """The edges as written, each with the key of its side where it has one."""
    match shape.edges:
        case None:
            return []
        case EdgeShape():
            return [((), shape.edges)]
        case SidesShape(left=left, right=right):
            sides = {"left": left, "right": right}
            return [((side,), edge) for side, edge in sides.items() if edge]


def _names(root: Node, key: str) -> list[str]:
    node = spot(root, (key,)).node
    return list(node.entries) if isinstance(root, Keys) and key in root.entries and isinstance(node, Keys) else []


def _sum(wide: int, across: int, edges: Sequence[int]) -> str:
    """How a width comes about, where it is more than one number."""
    parts = [f"{wide:,} x {across:,}" if across > 1 else f"{wide:,}", *(f"{edge:,}" for edge in edges)]
    return f" ({' + '.join(parts)})" if across > 1 or edges else ""
