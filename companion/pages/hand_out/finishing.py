"""After the last row: every step in its order, and each area that is sewn on, drawn."""

from __future__ import annotations

from collections.abc import Iterator

from companion.knitting import words
from companion.knitting.cloth.areas import Area, stitch_number
from companion.knitting.reckoning.sewing import SEWN_TAIL_CM, lengths_of
from companion.knitting.words import yarn as yarn_words
from companion.pages.hand_out.charts import Chart
from companion.pages.hand_out.drawing import Drawing
from companion.pages.hand_out.markup import boxed, number, telling, text
from companion.pages.hand_out.request import HandOut
from companion.pages.hand_out.tiling import LEAST_HIGH_MM, LEAST_WIDE_MM, WIDE_MM, Cut, Square
from companion.progress.finishing import finishing as steps_of
from companion.progress.mishaps import to_sew

_ROUND = 3
"""So many rows and stitches round an area are drawn with it."""

_MOST_DRAWN = 60
"""A larger area, in stitches across or up, is found on the chart."""


def finishing(hand_out: HandOut) -> Iterator[str]:
    """The steps as HTML."""
    told = telling(yarn.name for yarn in hand_out.piece.yarns)
    steps = steps_of(hand_out.session)
    lines = (told(words.tell(step.doing, "full", hand_out.terms)) for step in steps)
    yield boxed(lines, sum(step.is_done for step in steps))
    if areas := to_sew(hand_out.session):
        tail = yarn_words.yarn_length(SEWN_TAIL_CM, is_inches=hand_out.terms.is_inches)
        yield f"<h3>{text(words.sentence(hand_out.terms.duplicate_stitch))}</h3>"
        for area in areas:
            is_sewn = area.first in hand_out.session.sewn
            fabric, lengths = hand_out.piece.fabric, lengths_of(hand_out.piece, area.stitches)
            how = " ".join(words.how_to_sew(area, tail, hand_out.terms))
            place = words.sentence(words.area_to_sew(fabric, area, lengths))
            yield f'<figure>{boxed([f"{told(place)}. {told(how)}"], int(is_sewn))}'
            yield f"{''.join(_area(hand_out, area))}</figure>"


def _area(hand_out: HandOut, area: Area) -> Iterator[str]:
    """An area and what lies round it, as the right side looks; its row and its first stitch are told by number."""
    fabric = hand_out.rows.fabric
    low = max(0, area.strips[0].row - _ROUND)
    places = [
        row for row in range(low, area.strips[-1].row + _ROUND + 1)
        if row < len(fabric.rows) and fabric.block(row) == fabric.block(area.first.row)
    ]
    first = max(1, min(strip.first for strip in area.strips) - _ROUND)
    last = min(fabric.columns, max(strip.first + strip.cells for strip in area.strips) - 1 + _ROUND)
    if max(last - first, len(places)) > _MOST_DRAWN:
        return
    chart = Chart(hand_out.rows, fabric.rows[area.first.row].part, places, 0, first, last)
    ratio = float(hand_out.piece.gauge.stitch_cm / hand_out.piece.gauge.row_cm)
    high = max(LEAST_HIGH_MM, LEAST_WIDE_MM / ratio)
    square = Square(min(high * ratio, WIDE_MM / chart.columns - 0.5), high)
    drawing = Drawing(
        chart, Cut(0, chart.columns), Cut(0, len(places)), square, hand_out.piece.yarn, hand_out.inks, is_sewn=True
    )
    wide, tall = drawing.size
    label = f"{area.yarn}, {stitch_number(fabric, area.first)}"
    yield (
        f'<svg class="area" width="{number(wide + 14)}mm" height="{number(tall + 1)}mm" '
        f'viewBox="-1 -.5 {number(wide + 14)} {number(tall + 1)}" role="img" aria-label="{text(label)}">'
    )
    yield from drawing.drawn()
    yield '<g class="numbers" font-size="2.6">'
    for at, _, right, middle in drawing.rows():
        yield f'<text x="{number(right + 0.8)}" y="{number(middle + 0.9)}">{chart.row(at).number}</text>'
    yield "</g></svg>"
