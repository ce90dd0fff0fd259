"""The chart on its sheets, each a page of its own: what it shows, its key, its squares and numbers, and where it goes
on."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import takewhile

from companion.knitting import words
from companion.knitting.value import Record
from companion.knitting.words import paper
from companion.pages.hand_out import charts
from companion.pages.hand_out.charts import TEN, Chart
from companion.pages.hand_out.drawing import Drawing
from companion.pages.hand_out.inks import ground, ink
from companion.pages.hand_out.markup import name, number, text
from companion.pages.hand_out.request import HandOut
from companion.pages.hand_out.tiling import HIGH_MM, WIDE_MM, Cut, Tiling, tiled
from companion.problems import Problem, Problems

MOST_SHEETS = 400
"""More nobody prints."""

MOST_IN_KEY = 24
"""Yarns that a sheet has room to explain; of more the key has a page of its own."""

_IN_A_LINE, _KEY_MM = 4, 5.2
_HEAD_MM, _HOW_MM, _SIDE_MM, _OVER_MM, _FOOT_MM = 13.0, 12.0, 13.0, 5.0, 9.0
_SMALL_MM = 2.6


class Sheet(Record):
    """One sheet: its number, from 1; the chart of which it shows rows ``up`` and columns ``across`` (both from 0, the
    columns from the right); and where it lies among the sheets of that chart, from the right and from the foot."""

    number: int
    chart: Chart
    tiling: Tiling
    across: Cut
    up: Cut
    right: int
    low: int


def sheets(hand_out: HandOut) -> list[Sheet]:
    """All sheets in the order in which they are knitted.

    Raises:
        Problems: there are too many.
    """
    found = list[Sheet]()
    lines = -(-len(hand_out.piece.yarns) // _IN_A_LINE) if len(hand_out.piece.yarns) <= MOST_IN_KEY else 0
    room = HIGH_MM - _HEAD_MM - _HOW_MM - _OVER_MM - _FOOT_MM - lines * _KEY_MM - 2
    for chart in charts.charts(hand_out.rows, hand_out.first, hand_out.last):
        ratio = float(hand_out.piece.gauge.stitch_cm / hand_out.piece.gauge.row_cm)
        tiling = tiled(chart.columns, len(chart.places), ratio, WIDE_MM - 2 * _SIDE_MM, room)
        if len(found) + len(tiling.across) * len(tiling.up) > MOST_SHEETS:
            raise Problems([_too_many(len(found) + len(tiling.across) * len(tiling.up))])
        across = list(enumerate(tiling.across))
        for low, up in enumerate(tiling.up):
            for right, cut in across[::-1] if hand_out.rows.is_mirrored else across:
                found.append(Sheet(len(found) + 1, chart, tiling, cut, up, right, low))
    return found


def _too_many(needed: int) -> Problem:
    return Problem(
        f"The chart takes {needed:,} sheets of paper, and a hand-out has {MOST_SHEETS} at most.",
        mend="Print some of the rows: --rows 1-200",
    )


def chart_sheets(hand_out: HandOut, heading: str = "h2") -> Iterator[str]:
    """Every sheet as HTML. ``heading``: the element of the first one's, "h1" where nothing stands before it."""
    every = sheets(hand_out)
    if len(hand_out.piece.yarns) > MOST_IN_KEY:
        yield f'<section class="part"><{heading}>{text(paper.CHART_KEY)}</{heading}>{key(hand_out)}</section>'
        heading = "h2"
    for sheet in every:
        yield from _sheet(hand_out, sheet, every, heading if sheet.number == 1 else "h2")


def key(hand_out: HandOut) -> str:
    """Which letter and ground each yarn has."""
    items = "".join(f"<li>{swatch(hand_out, yarn.name)} {name(yarn.name)}</li>" for yarn in hand_out.piece.yarns)
    return f'<ul class="key">{items}</ul>'


def swatch(hand_out: HandOut, yarn: str) -> str:
    """A square of the chart, for a key."""
    one = hand_out.piece.yarn(yarn)
    fill, letter = ground(one.colour, hand_out.inks), ink(one.colour, hand_out.inks)
    return (
        f'<svg class="swatch" width="5mm" height="4mm" viewBox="0 0 5 4" role="img" aria-label="{text(one.symbol)}">'
        f'<rect class="edge" x=".1" y=".1" width="4.8" height="3.8" fill="{fill}"/>'
        f'<text class="letter" font-size="2.9" x="2.5" y="3.02" fill="{letter}">{text(one.symbol)}</text></svg>'
    )


def _sheet(hand_out: HandOut, sheet: Sheet, every: list[Sheet], heading: str) -> Iterator[str]:
    chart, drawing = sheet.chart, Drawing(
        sheet.chart, sheet.across, sheet.up, sheet.tiling.square, hand_out.piece.yarn, hand_out.inks
    )
    shown = _shown(sheet)
    yield f'<section class="sheet" id="{hand_out.mark}sheet-{sheet.number}">'
    part = f"{chart.part.capitalize()} part, " if chart.part else ""
    title = f"{paper.sheet_title(sheet.number, len(every))}: {part}{shown}"
    yield f'<{heading}>{name(hand_out.piece.title)}<br><small>{text(words.sentence(title))}</small></{heading}>'
    if len(hand_out.piece.yarns) <= MOST_IN_KEY:
        yield key(hand_out)
    wide, high = drawing.size
    left, full = (WIDE_MM - wide) / 2, high + _OVER_MM + _FOOT_MM
    yield (
        f'<svg class="chart" width="{number(WIDE_MM)}mm" height="{number(full)}mm" '
        f'viewBox="0 0 {number(WIDE_MM)} {number(full)}" role="img" aria-label="{text(words.sentence(title))}">'
    )
    yield f'<g transform="translate({number(left)} {number(_OVER_MM)})">'
    yield from drawing.drawn()
    yield from _row_numbers(hand_out, sheet, drawing)
    yield from _stitch_numbers(chart, drawing)
    yield from _goes_on(sheet, every, drawing)
    yield "</g></svg>"
    yield f'<p class="how">{text(_how(hand_out, sheet, drawing))}</p></section>'


def _shown(sheet: Sheet) -> str:
    """Which rows and stitches a sheet shows: "rows 1 to 30, stitches 1 to 24"."""
    chart, last = sheet.chart, sheet.up.stop - 1
    rows = [chart.row(at) for at in range(max(sheet.up.first, min(chart.below, last)), last + 1)]
    outer = chart.first + sheet.across.first, chart.first + sheet.across.stop - 1
    return f"{paper.rows_shown(rows)}, {paper.stitches_span(*sorted(map(chart.number, outer)))}"


def _how(hand_out: HandOut, sheet: Sheet, drawing: Drawing) -> str:
    """How the sheet is read, and what its marks mean, in so far as it has them."""
    shown = [
        square for row in sheet.chart.squares[sheet.up.first:sheet.up.stop] for square in
        row[sheet.chart.columns - sheet.across.stop:sheet.chart.columns - sheet.across.first]
    ]
    there = [square for square in shown if square is not None]
    rows = [sheet.chart.row(at) for at in range(sheet.up.first, sheet.up.stop)]
    return " ".join(paper.how_to_read_chart(
        rows, hand_out.terms, has_bumps=any(square.is_bump for square in there),
        has_sewn=any(square.sewn for square in there), has_gaps=len(there) < len(shown),
        has_meetings=drawing.has_meetings,
    ))  # fmt: skip


def _row_numbers(hand_out: HandOut, sheet: Sheet, drawing: Drawing) -> Iterator[str]:
    """Each at the edge where its row begins; an arrow at the row in work."""
    yield f'<g class="numbers" font-size="{_SMALL_MM}">'
    for at, left, right, middle in drawing.rows():
        row = sheet.chart.row(at)
        is_now = sheet.chart.places[at] == hand_out.row_in_work
        base, begins_right = number(middle + 0.36 * _SMALL_MM), row.toward == "left"
        mark = ("◄ " if begins_right else " ►") if is_now else ""
        if begins_right:
            yield f'<text x="{number(right + 0.8)}" y="{base}">{mark}{row.number}</text>'
        else:
            yield f'<text class="end" x="{number(left - 0.8)}" y="{base}">{row.number}{mark}</text>'
    yield "</g>"


def _stitch_numbers(chart: Chart, drawing: Drawing) -> Iterator[str]:
    """Along the foot: the first and the last on the sheet, and every tenth."""
    wide, high = drawing.size
    each = wide / (columns := round(wide / drawing.square_mm))
    yield f'<g class="numbers middle" font-size="{_SMALL_MM}">'
    numbers = [chart.number(drawing.column(x)) for x in range(columns)]
    outer = (0, columns - 1)
    for x, one in enumerate(numbers):
        near = min(abs(x - end) for end in outer)
        if x in outer or (one % TEN == 0 and near * each > _SMALL_MM * 0.6 * (len(str(one)) + 1)):
            yield f'<text x="{number((x + 0.5) * each)}" y="{number(high + 1.1 * _SMALL_MM)}">{one}</text>'
    yield "</g>"


def _goes_on(sheet: Sheet, every: list[Sheet], drawing: Drawing) -> Iterator[str]:
    """On which sheets what lies beside this one is."""
    wide, high = drawing.size
    beside = {(one.right, one.low): one.number for one in every if one.chart is sheet.chart}
    above = [beside[at]] if (at := (sheet.right, sheet.low + 1)) in beside else []
    begins = {one.chart: one.number for one in reversed(every)}
    later = sorted((number, chart.part) for chart, number in begins.items() if number > begins[sheet.chart])
    parts = list(takewhile(lambda one: one[1], later))
    yield f'<g class="numbers middle" font-size="{_SMALL_MM}">'
    if above:
        yield f'<text x="{number(wide / 2)}" y="-1.6">{text(paper.goes_on(*above))}</text>'
    elif later and not (sheet.chart.part and parts == later):
        told = [paper.part_goes_on(part, number) for number, part in parts]
        if sheet.chart.part:
            told = [paper.joined_goes_on(later[len(parts)][0])]
        lines = "; ".join(told) or paper.goes_on(later[0][0])
        yield f'<text x="{number(wide / 2)}" y="-1.6">{text(lines)}</text>'
    if below := beside.get((sheet.right, sheet.low - 1)):
        yield f'<text x="{number(wide / 2)}" y="{number(high + 2.7 * _SMALL_MM)}">{text(paper.goes_on(below))}</text>'
    for step, x, turn in ((-1, wide + 11.5, 90), (1, -11.5, -90)):
        if aside := beside.get((sheet.right + step, sheet.low)):
            place = f"translate({number(x)} {number(high / 2)}) rotate({turn})"
            yield f'<text transform="{place}">{text(paper.goes_on(aside))}</text>'
    yield "</g>"
