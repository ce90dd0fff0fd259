"""The charts of a plan's sections and the motifs on them: drawn in the plan or in files, each file read once.

A chart and what motifs lie on are held to the limits before anything is drawn out."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence

from companion.plan import compose
from companion.plan.amount import MOST_STITCHES
from companion.plan.chart import WIDEST, ChartReader, Drawn
from companion.plan.compose import Overlap, field, on_chart
from companion.plan.lines import Lines
from companion.plan.misfits import Spot, spot
from companion.plan.nodes import Keys, Node, Text
from companion.plan.schema import sections as written
from companion.plan.source import Found, Source
from companion.problems import quoted

MOST_MOTIFS = 500
"""The most motifs on one field."""

Fetch = Callable[[str, Spot], Source | None]
"""The chart file of this name, told to be drawn in at this spot; None when it cannot be read."""


class SectionCharts:
    """Reads the charts of one plan; what is wrong with them is added to the problems found."""

    def __init__(
        self, root: Node, symbols: Mapping[str, str], source: Source, found: Found, fetch: Fetch
    ) -> None:
        self.lines_of: dict[int, Lines] = {}
        """Of every section whose chart is drawn in the plan itself, where it is drawn."""
        self.is_unsure = False  # a chart could not be read, so what it uses is not known
        self._root = root
        self._source = source
        self._found = found
        self._fetch = fetch
        line = spot(root, ("symbols",)).key_place[0] if names_under(root, "symbols") else 0
        self.charts = ChartReader(symbols, line, found)
        self._yarn_of = symbols
        self._from: dict[str, Drawn | None] = {}

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


def names_under(root: Node, key: str) -> list[str]:
    """The keys that stand under a key of the plan; none where it holds no keys."""
    node = spot(root, (key,)).node
    return list(node.entries) if isinstance(root, Keys) and key in root.entries and isinstance(node, Keys) else []
