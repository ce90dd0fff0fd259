"""A plan at another gauge as the text of a new plan: what the old one says, its gauge and its sections anew."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import Literal

from companion.drafts.names import symbols_of
from companion.drafts.rows.sections import Line, drawn_stitches, sections
from companion.drafts.sheets.laid_out import drawing
from companion.drafts.written import as_notes, decimal, symbol_lines
from companion.knitting.cloth.fabric import Gauge, Stitch
from companion.knitting.reckoning.regauging import Grid, at_gauge, in_ground, keeping, redrawn, workable
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
        wide, high = self.old.gauge, len(self.old.fabric.levels)
        self.columns = keeping(self.old.fabric.columns, wide.stitch_cm, gauge.stitch_cm)
        self.rows = keeping(high, wide.row_cm, gauge.row_cm)

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
        if any(row.is_round or row.seam_stitches for row in fabric.rows):
            return "A tube is not drawn anew: its rounds and its flat part must fit each other."
        if any(row.part for row in fabric.rows):
            return "A piece that divides is not drawn anew: where its parts begin is yours to say."
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
        grid = [tuple(row[::-1]) for row in reversed(drawing(self.old))]
        if way == "redraw":
            new = redrawn(grid, self.columns, self.rows)
            new = workable(new) if self.old.fabric.is_shaped else new
        else:
            new = grid if self.old.fabric.is_shaped else in_ground(grid, self.columns, self.rows)
        text = self._text(new, way)
        try:
            loaded = load_text(text, "the new plan", {})
        except Problems as found:
            whats = [problem.what for problem in found.problems if not problem.is_warning]
            mend = "Change the outline in the plan by hand."
            raise Problems([Problem(f"This plan cannot be drawn anew so: {what}", mend=mend) for what in whats[:1]]) \
                from None
        return Regauged(text, loaded)

    def _text(self, grid: Grid, way: Way) -> str:
        lines = [Line(tuple(row[::-1]), False, 0) for row in grid]
        symbol = self._symbols(drawn_stitches(lines, ()))
        how = "drawn anew by area" if way == "redraw" else "its picture kept stitch by stitch"
        title = name_in_yaml(self.old.title)
        made = [
            *as_notes([f"{self._name}, {how}, at another gauge:", self._command]), "", "plan: 1", f"title: {title}",
            "", f"gauge: {{{', '.join(self._gauge())}}}", "",
            *_kept(self._loaded.text),
            "symbols:", *symbol_lines({sign: stitch for stitch, sign in symbol.items()}), "", "rows:",
            *sections(lines, (), symbol),
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
