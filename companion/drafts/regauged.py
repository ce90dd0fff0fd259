"""A plan at another gauge as the text of a new plan: what the old one says, its gauge and its sections anew."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from fractions import Fraction
from typing import Literal

from companion.drafts.names import symbols_of
from companion.drafts.rows.sections import Line, Opening, drawn_stitches, sections
from companion.drafts.sheets.laid_out import drawing
from companion.drafts.written import as_notes, decimal, symbol_lines
from companion.knitting.cloth.fabric import Gauge, Stitch
from companion.knitting.cloth.tubes import columns_drawn
from companion.knitting.reckoning.bands import Band, Grid, Outline, Slit, bands, repeat_round, scaled, slits
from companion.knitting.reckoning.regauging import at_gauge, in_ground, keeping, redrawn_in
from companion.knitting.value import Record
from companion.plan.edit import name_in_yaml
from companion.plan.nodes import Keys, sound_tree
from companion.plan.read import Loaded, load_text
from companion.plan.schema.plans import PlanShape
from companion.plan.schema.shapes import texture
from companion.plan.source import Source
from companion.problems import Problem, Problems

MOST_STITCHES = 120_000
"""A larger piece takes longer than anybody waits."""

_MOST_SYMBOLS = 46

Way = Literal["keep", "redraw"]

_INSTEAD: dict[Way, str] = {
    "keep": "Change the gauge in the plan by hand.",
    "redraw": "--keep writes it with the stitches and rows it has; change its outline there.",
}

_NOT_KEPT = ("plan", "title", "gauge", "tension", "symbols", "rows", "sewn_on", "sizes", "sample")


class Regauged(Record):
    """One way to a new plan: its text, and that read as every plan is."""

    text: str
    loaded: Loaded


class Regauging:
    """A plan on its way to another gauge. ``old``: its piece as it is drawn, for the new plan turns it round as the
    old one does; ``as_it_is``: the same stitches at that gauge; ``columns`` and ``rows`` would keep its size."""

    def __init__(self, loaded: Loaded, name: str, gauge: Gauge, command: str) -> None:
        self._signs: dict[Stitch, str] = {}
        self.old = load_text(loaded.text, name, loaded.files, self._as_drawn, loaded.size).piece
        self._loaded, self._name, self._command = loaded, name, command
        self.as_it_is = at_gauge(self.old, gauge)
        fabric, was = self.old.fabric, self.old.gauge
        self.columns = keeping(columns_drawn(fabric), was.stitch_cm, gauge.stitch_cm, repeat_round(fabric))
        self._bands = bands(fabric)
        share = Fraction(self.columns, columns_drawn(fabric))
        self._scaled = scaled(self._bands, share, keeping(len(fabric.levels), was.row_cm, gauge.row_cm))
        self.rows = sum(band.rows for band in self._scaled)

    def _as_drawn(self, plan: PlanShape) -> PlanShape:
        """The plan as it is drawn, its symbols kept."""
        for sign, use in plan.symbols.items():
            stitch = Stitch(use) if isinstance(use, str) else Stitch(use.yarn, texture(use.stitch), use.sewn or "")
            self._signs.setdefault(stitch, sign)
        return plan.model_copy(update={"mirror": False})

    @property
    def trouble(self) -> str:
        """Why no new plan can be written; "" where one can."""
        fabric = self.old.fabric
        if max(fabric.columns * len(fabric.levels), self.columns * self.rows) > MOST_STITCHES:
            return f"A piece of more than {MOST_STITCHES:,} stitches is not drawn anew."
        return ""

    @property
    def not_kept(self) -> Iterator[str]:
        """What the old plan says and the new one does not, in sentences."""
        if self.old.sample:
            yield "The sample of yarn is left out: it was knitted at another gauge."
        if self.old.said:
            yield "What sections say is left out."
        if self.as_it_is.gauges:
            yield "Gauges of other stitches are changed in proportion: measure them anew."
        if self._loaded.size:
            yield f"It is in one size, {self._loaded.size}."

    def by(self, way: Way) -> Regauged:
        """The plan that keeps the picture stitch by stitch, or redraws it.

        Raises:
            Problems: it cannot be worked so, or a plan cannot say it.
        """
        grid, fabric = [tuple(row[::-1]) for row in reversed(drawing(self.old))], self.old.fabric
        all_bands, openings = self._bands, slits(fabric)
        if way == "redraw":
            all_bands = self._scaled
            grid = redrawn_in(grid, self._bands, all_bands, self.columns)
            if fabric.is_shaped:
                outline = Outline(grid, all_bands)
                grid, openings = outline.rows, outline.slits
        elif not fabric.is_shaped and len(all_bands) == 1 and not all_bands[0].is_round:
            grid = in_ground(grid, self.columns, self.rows)
            all_bands = [Band(len(grid))]
        text = self._text(grid, all_bands, openings, way)
        try:
            loaded = load_text(text, "the new plan", {})
        except Problems as found:
            whats = [problem.what for problem in found.problems if not problem.is_warning]
            what = f"This plan cannot be drawn anew so: {whats[0]} {_INSTEAD[way]}"
            raise Problems([Problem(what)]) from None
        return Regauged(text, loaded)

    def _text(self, grid: Grid, all_bands: Sequence[Band], slits: Sequence[Slit], way: Way) -> str:
        worked = [band for band in all_bands for _ in range(band.rows)]
        lines = [Line(tuple(row[::-1]), one.is_round, one.seam) for row, one in zip(grid, worked, strict=True)]
        openings = [Opening(*slit) for slit in slits]
        symbol = self._symbols(drawn_stitches(lines, openings))
        how = "drawn anew by area" if way == "redraw" else "its picture kept stitch by stitch"
        title = name_in_yaml(self.old.title)
        made = [
            *as_notes([f"{self._name}, {how}, at another gauge:", self._command]), "", "plan: 1", f"title: {title}",
            "", f"gauge: {{{', '.join(self._gauge())}}}", "",
            *_kept(self._loaded.text),
            *(["symbols:", *symbol_lines({sign: stitch for stitch, sign in symbol.items()}), ""] if symbol else []),
            "rows:",
            *sections(lines, openings, symbol),
        ]  # fmt: skip
        return "\n".join(made) + "\n"

    def _symbols(self, drawn: Sequence[Stitch]) -> dict[Stitch, str]:
        """A sign for every stitch that is drawn: that of the old plan, else the yarn's own for what is knit in it.

        Raises:
            Problems: there are more than signs.
        """
        if len(drawn) > _MOST_SYMBOLS:
            what = f"It has {len(drawn)} kinds of stitches, and {_MOST_SYMBOLS} can be drawn anew."
            raise Problems([Problem(what)])
        yarns = {Stitch(yarn.name): yarn.symbol for yarn in self.old.yarns}
        known = {**yarns, **self._signs}
        signs = {stitch: known[stitch] for stitch in drawn if stitch in known}
        others = [stitch for stitch in drawn if stitch not in known]
        return signs | dict(zip(others, symbols_of([one.yarn for one in others], known.values()), strict=True))

    def _gauge(self) -> Iterator[str]:
        new = self.as_it_is.gauge
        yield f"stitches: {decimal(new.stitches)}"
        yield f"rows: {decimal(new.rows)}"
        yield f"over: {decimal(new.over_cm)} cm"
        for kind, own in self.as_it_is.gauges.items():
            stitches, rows = round(float(own.stitches), 1), round(float(own.rows), 1)
            yield f"{kind}: {{stitches: {stitches:g}, rows: {rows:g}}}"


def _kept(text: str) -> Iterator[str]:
    """The lines of a plan that say the same at every gauge, with what stands behind each key up to the next."""
    source = Source("", text.removeprefix("\ufeff"))
    root = sound_tree(source)
    assert isinstance(root, Keys)
    keys = [entry.key for entry in root.entries.values()]
    ends = [key.line for key in keys[1:]] + [len(source.lines) + 1]
    for key, end in zip(keys, ends, strict=True):
        if key.value in _NOT_KEPT:
            continue
        block = source.lines[key.line - 1:end - 1]
        while block and (not block[-1].strip() or block[-1].startswith("#")):  # which is about the next key
            block.pop()
        yield from block
        yield ""
