"""A wall of three runs, and any chart, cast on in any way; and the steps before its first stitch."""

from __future__ import annotations

from dataclasses import replace

from companion.knitting.cloth.rows import Casting
from companion.knitting.hands.lengths import casting_on
from companion.knitting.hands.runs import row_runs
from companion.knitting.hands.steps import Before
from companion.knitting.piece import Piece
from companion.knitting.strands.limits import Carry
from companion.knitting.strands.plan import plan_strands
from companion.knitting.strands.strands import Strands
from tests.knitting.charts import Chart, charts, drawn, piece_of

EACH = Casting(is_each=True)
WALL = drawn("ssssbbbsss", "ssssbbbsss", "ssssbbbsss")
"""Row 1 from its start, the right edge: 3 sand, 3 brick, 4 sand."""

anything = charts(max_rows=8, max_columns=12, ways=("flat", "round", "mixed"), has_textures=True)


def cast(
    chart: Chart, cast_on: Casting, carry: Carry | None = None, *, is_mirrored: bool = False
) -> tuple[Piece, Strands]:
    piece = replace(piece_of(chart, carry), cast_on=cast_on, is_mirrored=is_mirrored)
    return piece, plan_strands(piece.rows, piece.carry).strands


def begun(chart: Chart, cast_on: Casting) -> tuple[Before, ...]:
    _, strands = cast(chart, cast_on)
    steps = row_runs(strands, 0)[0].before
    assert steps == casting_on(strands)
    return steps
