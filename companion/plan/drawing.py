"""Stitches that are drawn one by one in a plan's own text, and the text with some of them in other yarns.

A stitch stands there once if its chart is neither repeated nor turned round nor drawn in from another file, and no
motif lies on it. Only the characters of such stitches are changed; comments, spaces and all other lines stay.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from typing import TYPE_CHECKING

from companion.knitting.cloth.areas import Cell
from companion.knitting.cloth.fabric import Fabric, Stitch, cells
from companion.knitting.value import Record
from companion.plan.chart import ChartReader
from companion.plan.lines import Lines
from companion.plan.misfits import KeyPath, spot
from companion.plan.nodes import Node
from companion.plan.schema.plans import PlanShape
from companion.plan.schema.sections import FromShape, SectionShape
from companion.plan.sections import Section
from companion.plan.source import Found, Source
from companion.plan.widths import sides
from companion.problems import quoted

if TYPE_CHECKING:
    from companion.plan.loaded import Loaded

class Drawing(Record):
    """One chart. ``first``: so many rows lie below it; ``right``: so many stitches to the right of it; ``wide``: its
    stitches; ``lines``: its rows, from the top."""

    first: int
    right: int
    wide: int
    lines: Lines

    @property
    def cells(self) -> Iterator[Cell]:
        """Its stitches as places of the fabric."""
        high = len(self.lines.texts)
        return (Cell(self.first + up, self.right + at) for up in range(high) for at in range(1, self.wide + 1))


class Fixed(Record):
    """Rows of a ``section`` (from 0) whose stitches do not each stand in the plan by themselves, from the level
    ``first`` (from 0) to the one below ``past``: why, and the line where they are changed. ``is_edges``: only the
    stitches beside what is drawn. ``drawn``: a chart of the plan's own text that is worked several times upward.
    ``mend``: what somebody can do who leaves the text alone."""

    section: int
    first: int
    past: int
    why: str
    line: int
    is_edges: bool = False
    drawn: Drawing | None = None
    mend: str = ""


UNBORDERED = "A new plan without a border can be painted all over."
"""Plain rows and edges are those of a border, as a rule."""


def drawings(
    plan: PlanShape, sections: Sequence[Section], starts: Sequence[int], lines_of: Mapping[int, Lines]
) -> Iterator[Drawing]:
    """Those of a plan. ``starts``: so many rows lie below each section; ``lines_of``: where the charts stand."""
    for index, (section, start) in enumerate(zip(sections, starts, strict=False)):
        lines, shape = lines_of.get(index), section.shape
        if shape.opening:  # from there on parts are worked one after the other
            return
        if lines is not None and not _several(plan, shape) and (drawn := _drawing(section, start, lines)):
            yield drawn


def _drawing(section: Section, start: int, lines: Lines) -> Drawing | None:
    """A section's chart, where its lines stand in the plan just as they are read."""
    stands = zip(lines.numbers, lines.texts, strict=True)
    if section.drawn is None or not all(lines.source.line(number).endswith(text) for number, text in stands):
        return None
    edge = sides(section.shape).right
    return Drawing(start, section.right + ((edge.stitches or 0) if edge else 0), section.drawn.width, lines)


def fixed(
    plan: PlanShape, sections: Sequence[Section], starts: Sequence[int], lines_of: Mapping[int, Lines], root: Node
) -> Iterator[Fixed]:
    """What the drawings leave of a plan, from the cast-on up. ``starts`` and ``lines_of`` as there."""
    for index, (section, start) in enumerate(zip(sections, starts, strict=False)):
        shape, at = section.shape, ("rows", index)
        here = spot(root, at).place[0]
        if shape.opening:
            why = "From here on the piece is worked in parts: draw them in the plan."
            yield Fixed(index, start, starts[-1], why, _line(root, (*at, "opening"), here))
            return
        past = start + section.rows
        several = _several(plan, shape)
        if shape.plain:
            why = "These are plain rows: a chart in their place can be painted."
            yield Fixed(index, start, past, why, here, mend=UNBORDERED)
        elif shape.field:
            yield Fixed(index, start, past, "This is a field: move its motifs, or draw them in their files.", here)
        elif isinstance(shape.chart, FromShape):
            why = f"This chart is drawn in the file {quoted(shape.chart.from_)}: change it there."
            yield Fixed(index, start, past, why, _line(root, (*at, "chart"), here))
        elif several:
            path, why = several
            is_upward = path[0] in ("repeat", "rows_per_square") and index in lines_of
            chart = _drawing(section, start, lines_of[index]) if is_upward else None
            line = _line(root, path if plan.mirror else (*at, *path), here)
            yield Fixed(index, start, past, why, line, drawn=chart)
        elif index not in lines_of or not _drawing(section, start, lines_of[index]):
            why = 'This chart stands in a line with other things: write it below "chart: |".'
            if index in lines_of and any("(" in lines_of[index].source.line(at) for at in lines_of[index].numbers):
                why = "This chart has counts for several sizes: change them in the plan."
            yield Fixed(index, start, past, why, _line(root, (*at, "chart"), here))
        elif shape.edges:
            why = 'This is an edge: change it where "edges" stands.'
            line = _line(root, (*at, "edges"), here)
            yield Fixed(index, start, past, why, line, is_edges=True, mend=UNBORDERED)


def _line(root: Node, path: KeyPath, otherwise: int) -> int:
    """The line of the plan on which a key stands."""
    return spot(root, path).key_place[0] or otherwise


def _several(plan: PlanShape, shape: SectionShape) -> tuple[KeyPath, str] | None:
    """Why a sign of a chart is not one stitch at its own place: the key that makes it so, in the plan or the section,
    and the sentence; None where each is."""
    if plan.mirror or shape.mirror:
        return ("mirror",), 'This is drawn the other way round, left for right: paint it with "mirror" left out.'
    if shape.shape and shape.edges:
        return ("edges",), "This chart has edges that follow its shape: change it in the plan."
    if shape.motifs:
        return ("motifs",), "Motifs lie on this chart: change it in the plan."
    times = {"repeat": shape.repeat, "across": shape.across, "rows_per_square": shape.rows_per_square}
    for key, many in times.items():
        if many > 1:
            return (key,), f'A sign of this chart stands for {many:,} stitches ("{key}"): change it in the plan.'
    return None


def is_as_drawn(plan: PlanShape) -> bool:
    """Whether a sign that changes in a drawing changes the one stitch it stands for and nothing besides. It may do
    more where areas are sewn on, edges take their yarn from the chart, a new colour's first stitches are knit, the
    seam of a tube follows its first stitch, or a round would be bound off in several colours."""
    off_each = plan.bind_off is not None and plan.bind_off.colours == "each"
    return not (off_each or plan.sewn_on) and not any(
        shape.plain_first or shape.seam_stitches
        or any(edge and not edge.yarn for edge in (sides(shape).left, sides(shape).right))
        for shape in plan.rows
    )


def repainted(loaded: Loaded, new: Fabric) -> str:
    """The text of a plan with its drawn stitches as another fabric has them.

    Raises:
        KeyError: no symbol of the plan stands for such a stitch.
    """
    old, reader = loaded.piece.fabric, ChartReader(loaded.symbols, 0, Found())
    known: dict[Stitch | None, str] = {}
    for one in loaded.drawings:
        for up, line in enumerate(reversed(one.lines.texts)):
            known.update(zip(_shown(old, one, up), reader.signs(line), strict=True))
    for yarn in loaded.piece.yarns:
        known.setdefault(Stitch(yarn.name), yarn.symbol)
    changed = {}
    for one in loaded.drawings:
        for up in range(len(one.lines.texts)):
            before, after = _shown(old, one, up), _shown(new, one, up)
            changed.update({
                Cell(one.first + up, one.right + one.wide - at): known[stitch]
                for at, stitch in enumerate(after) if stitch != before[at]
            })
    return redrawn(loaded, changed)[0]


def redrawn(loaded: Loaded, symbols: Mapping[Cell, str]) -> tuple[str, tuple[Drawing, ...]]:
    """The text of a plan with these stitches, all of them in its drawings, in other symbols; and the drawings as
    they stand in it."""
    reader = ChartReader(loaded.symbols, 0, Found())
    text_lines = loaded.text.splitlines(keepends=True)  # a text with other breaks than those of YAML is no plan
    by_row: dict[int, dict[int, str]] = {}
    for cell, symbol in symbols.items():
        by_row.setdefault(cell.row, {})[cell.column] = symbol
    texts_of = []
    for one in loaded.drawings:
        texts, high = list(one.lines.texts), len(one.lines.texts)
        for row, of_row in by_row.items():
            at = high - 1 - (row - one.first)
            if not 0 <= at < high:
                continue
            changed = {one.right + one.wide - column: symbol for column, symbol in of_row.items()}
            texts[at] = reader.redrawn(one.lines.texts[at], changed)
            before = text_lines[one.lines.numbers[at] - 1]
            body = before.rstrip("\r\n")
            after = body.removesuffix(one.lines.texts[at]) + texts[at]
            text_lines[one.lines.numbers[at] - 1] = after + before[len(body):]
        texts_of.append(texts)
    text = "".join(text_lines)
    source = Source(loaded.drawings[0].lines.source.name, text) if loaded.drawings else None
    return text, tuple(
        one._replace(lines=one.lines._replace(source=source, texts=texts))
        for one, texts in zip(loaded.drawings, texts_of, strict=True) if source
    )


def _shown(fabric: Fabric, one: Drawing, up: int) -> list[Stitch | None]:
    """The stitches of a row of a drawing, from the left as they are drawn."""
    row = list(cells(fabric.rows[one.first + up]))
    return row[one.right:one.right + one.wide][::-1]
