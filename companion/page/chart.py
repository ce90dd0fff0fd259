"""The chart as a picture, drawn once, and where in it the row in work and its run lie, step by step.

As the right side looks: row 1 at the foot, column 1 at the right. Places are parts of the picture, from 0 to 1, from
its left and upper edges.
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from companion.dialogue.telling import Telling
from companion.knitting.cloth.rows import Rows
from companion.knitting.latest import latest
from companion.knitting.piece import Piece
from companion.knitting.value import Record
from companion.pages.hand_out.charts import Chart, charts
from companion.pages.hand_out.drawing import Drawing
from companion.pages.hand_out.markup import number, text
from companion.pages.hand_out.tiling import FLATTEST, STEEPEST, Cut, Square

HIGH, SIDE, OVER = 4.0, 12.0, 1.5
"""In millimetres: a stitch; room for a row's number at either side; and a little over and under the chart."""

_SMALL = 2.9
"""A number's height."""

_STYLE = """
.letters{font-family:"DejaVu Sans Mono",Menlo,Consolas,monospace;text-anchor:middle;paint-order:stroke}
.line,.contour{fill:none;stroke:#000}.contour{stroke-linecap:square}
.numbers{font-family:Arial,Helvetica,sans-serif;fill:#333}.end{text-anchor:end}
@media (prefers-color-scheme:dark){.numbers{fill:#ccc}.contour{stroke:#999}}
""".strip()


class Part(Record):
    """The chart of one part of the piece; a stitch is so many millimetres wide."""

    chart: Chart
    wide: float

    @property
    def size(self) -> tuple[float, float]:
        """Width and height of the picture."""
        return self.chart.columns * self.wide + 2 * SIDE, len(self.chart.places) * HIGH + 2 * OVER


@latest
def parts(piece: Piece, rows: Rows) -> list[Part]:
    """The charts of a piece, in the order in which they are worked."""
    ratio = float(piece.gauge.stitch_cm / piece.gauge.row_cm)
    return [Part(chart, HIGH * min(FLATTEST, max(STEEPEST, ratio))) for chart in charts(rows)]


def drawn(piece: Piece, part: Part) -> Iterator[str]:
    """One of them as an SVG file, piece by piece."""
    chart, (wide, high) = part.chart, part.size
    whole = Cut(0, chart.columns), Cut(0, len(chart.places))
    drawing = Drawing(chart, *whole, Square(part.wide, HIGH), piece.yarn, "colour")
    yield (
        f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {number(wide)} {number(high)}" '
        f'width="{number(wide)}mm" height="{number(high)}mm"><style>{_STYLE}</style>'
        f"<title>{text(piece.title)}</title>"
        f'<g transform="translate({number(SIDE)} {number(OVER)})">'
    )
    yield from drawing.drawn()
    yield f'<g class="numbers" font-size="{_SMALL}">'
    for at, left, right, middle in drawing.rows():
        row, base = chart.row(at), number(middle + 0.36 * _SMALL)
        if row.toward == "left":
            yield f'<text x="{number(right + 1)}" y="{base}">{row.number}</text>'
        else:
            yield f'<text class="end" x="{number(left - 1)}" y="{base}">{row.number}</text>'
    yield "</g></g></svg>"


def place_on_chart(now: Telling) -> dict[str, Any] | None:
    """Which part's chart to look at, its size, where the row in work lies, its run, and where both end; None once
    every row is worked."""
    session = now.session
    if not now.is_in_rows:
        return None
    for at, part in enumerate(parts(session.piece, session.rows)):
        chart, row = part.chart, session.at.row
        if row in chart.places:  # of the part itself: a part that stands on it comes later
            wide, high = part.size
            level = len(chart.places) - 1 - chart.places.index(row)
            first, last = now.row.fabric.stretches[0][0], now.row.fabric.stretches[-1][1]
            run = now.run.segment if now.run else None

            def across(one: int, other: int, part: Part = part, wide: float = wide) -> dict[str, float]:
                left = part.chart.last - max(one, other)
                stitches = abs(one - other) + 1
                return {"left": (SIDE + left * part.wide) / wide, "width": stitches * part.wide / wide}

            return {
                "part": at, "columns": chart.columns, "rows": len(chart.places), "ratio": wide / high,
                "stitch": part.wide / wide, "top": (OVER + level * HIGH) / high, "height": HIGH / high,
                "row": across(first, last), "run": across(run.first, run.last) if run else None,
            }  # fmt: skip
    return None
