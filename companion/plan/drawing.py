"""Stitches that are drawn one by one in a plan's own text, and the text with some of them in other yarns.

A stitch stands there once if its chart is neither repeated nor turned round nor drawn in from another file, and no
motif lies on it. Only the characters of such stitches are changed; comments, spaces and all other lines stay.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping, Sequence
from typing import TYPE_CHECKING

from companion.knitting.cloth.areas import Cell
from companion.knitting.cloth.fabric import Fabric, Stitch, cells
from companion.knitting.value import Record
from companion.plan.chart import ChartReader
from companion.plan.lines import Lines
from companion.plan.schema.plans import PlanShape
from companion.plan.sections import Section
from companion.plan.source import Found
from companion.plan.widths import sides

if TYPE_CHECKING:
    from companion.plan.loaded import Loaded

_BREAK = re.compile(r"(\r\n|\r|\n)")


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


def drawings(
    plan: PlanShape, sections: Sequence[Section], starts: Sequence[int], lines_of: Mapping[int, Lines]
) -> Iterator[Drawing]:
    """Those of a plan. ``starts``: so many rows lie below each section; ``lines_of``: where the charts stand."""
    for index, (section, start) in enumerate(zip(sections, starts, strict=False)):
        shape, lines = section.shape, lines_of.get(index)
        if shape.opening:  # from there on parts are worked one after the other
            return
        is_once = shape.repeat == shape.across == shape.rows_per_square == 1
        if lines is None or section.drawn is None or plan.mirror or shape.mirror or shape.motifs or not is_once:
            continue
        stands = zip(lines.numbers, lines.texts, strict=True)
        if all(lines.source.line(number).endswith(text) for number, text in stands):
            right = sides(shape).right
            yield Drawing(start, section.right + (right.stitches if right else 0), section.drawn.width, lines)


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
    parts = _BREAK.split(loaded.text)  # lines, and between them their ends
    for one in loaded.drawings:
        for up, line in enumerate(reversed(one.lines.texts)):
            before, after = _shown(old, one, up), _shown(new, one, up)
            changed = {at: known[stitch] for at, stitch in enumerate(after) if stitch != before[at]}
            if changed:
                at = 2 * (one.lines.numbers[-1 - up] - 1)
                parts[at] = parts[at].removesuffix(line) + reader.redrawn(line, changed)
    return "".join(parts)


def _shown(fabric: Fabric, one: Drawing, up: int) -> list[Stitch | None]:
    """The stitches of a row of a drawing, from the left as they are drawn."""
    row = list(cells(fabric.rows[one.first + up]))
    return row[one.right:one.right + one.wide][::-1]
