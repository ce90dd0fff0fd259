"""The back: a map on which every end has its number, and how each is woven in."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator, Sequence
from itertools import groupby

from companion.knitting import words
from companion.knitting.cloth.areas import areas
from companion.knitting.cloth.fabric import cells_across
from companion.knitting.hands.ends import EndState, corner
from companion.knitting.hands.steps import End
from companion.knitting.hands.weaving import backs_of
from companion.knitting.value import Record
from companion.knitting.words import paper
from companion.pages.hand_out.drawing import contour
from companion.pages.hand_out.inks import ground
from companion.pages.hand_out.labels import HIGH_MM as LABEL_MM
from companion.pages.hand_out.labels import Point, placed, room, wide_mm
from companion.pages.hand_out.markup import name, number, telling, text
from companion.pages.hand_out.request import HandOut
from companion.pages.hand_out.tiling import OVERLAP, WIDE_MM, Cut, cuts
from companion.progress.ends import all_ends

MOST_ENDS = 1_000
"""Of more nobody makes a map."""

_MARGIN_MM, _MAP_HIGH_MM = 11.0, 225.0
_LEAST_MM, _MOST_MM = 0.9, 6.0
"""How wide a stitch of the map is."""

Ledger = Sequence[tuple[End, EndState]]


class _Map(Record):
    """A sheet: its columns, from 0 at the left of the wrong side, and its rows of the picture, from 0."""

    across: Cut
    up: Cut


def back(hand_out: HandOut) -> Iterator[str]:
    """Map and list as HTML."""
    ends = all_ends(hand_out.session)
    piece, terms = hand_out.piece, hand_out.terms
    told = telling(yarn.name for yarn in piece.yarns)
    yield f"<p>{text(words.NOT_TRIMMED)}</p>"
    if len(ends) > MOST_ENDS:
        yield f"<p>{text(paper.too_many_ends(len(ends)))}</p>"
        return
    yield f'<p>{text(words.TURNED_OVER)}</p><ol class="ends">'
    backs = backs_of(piece, hand_out.strands)
    for end, state in ends:
        head = words.end_heading(hand_out.strands, end, terms)
        how = " ".join(words.how_to_weave(backs.weaving(end), terms, hand_out.shows_by))
        mark = "done" if state == "woven" else "to-do"
        yield f'<li class="{mark}"><b>{told(head)}.</b> {told(how)}</li>'
    yield "</ol>"
    yield from _maps(hand_out, ends)


def _maps(hand_out: HandOut, ends: Ledger) -> Iterator[str]:
    points = _points(hand_out, ends)
    wide, high = _stitch_mm(hand_out)
    columns, levels = hand_out.rows.fabric.columns, len(hand_out.rows.fabric.levels)
    most = int((WIDE_MM - 2 * _MARGIN_MM) / wide)
    found = [
        one for up in cuts(levels, int(_MAP_HIGH_MM / high)) for across in cuts(columns, most)
        for one in _with_room(_Map(across, up), points)
    ]  # fmt: skip
    for at, sheet in enumerate(found, 1):
        title = f"{words.sentence(paper.map_title(at, len(found)))}"
        yield f'<section class="sheet"><h2>{name(hand_out.piece.title)}<br><small>{text(title)}</small></h2>'
        yield f"<p>{text(paper.BACK_MAP)}</p>"
        yield from _drawn(hand_out, sheet, [point for point in points if _lies(point, sheet)], title)
        yield "</section>"


def _stitch_mm(hand_out: HandOut) -> tuple[float, float]:
    """How wide and high a stitch is drawn: so that the whole back fits, unless stitches were too small to be seen."""
    fabric, gauge = hand_out.rows.fabric, hand_out.piece.gauge
    ratio = min(3.0, max(0.4, float(gauge.stitch_cm / gauge.row_cm)))
    fitting = min((WIDE_MM - 2 * _MARGIN_MM) / fabric.columns, _MAP_HIGH_MM * ratio / len(fabric.levels))
    wide = min(_MOST_MM, max(_LEAST_MM, fitting))
    return wide, wide / ratio


def _points(hand_out: HandOut, ends: Ledger) -> list[Point]:
    """Every end by number: the gap where it hangs, counted from the left of the wrong side, and its row of the
    picture, half way up."""
    found = []
    for at, (end, _) in enumerate(ends, 1):
        hangs = corner(end, hand_out.strands)
        found.append(Point(at, float(hangs.gap), hand_out.rows.fabric.level(hangs.row) + 0.5))
    return found


def _lies(point: Point, sheet: _Map) -> bool:
    """Whether an end lies on a sheet; in what two share, on the lower one and the one at the left, or on both."""
    return sheet.up.first <= point.y <= sheet.up.stop and sheet.across.first <= point.x <= sheet.across.stop


def _with_room(sheet: _Map, points: Sequence[Point]) -> Iterator[_Map]:
    """A sheet, cut in two as long as more ends lie on it than its margins have room for: between rows, and between
    stitches where rows are few."""
    rows, columns = sheet.up.stop - sheet.up.first, sheet.across.stop - sheet.across.first
    is_full = sum(_lies(point, sheet) for point in points) > room(_MAP_HIGH_MM)
    if is_full and rows > 2 * OVERLAP:
        parts = [_Map(sheet.across, part) for part in _halves(sheet.up)]
    elif is_full and columns > 2 * OVERLAP:
        parts = [_Map(part, sheet.up) for part in _halves(sheet.across)]
    else:
        yield sheet
        return
    for one in parts:
        yield from _with_room(one, points)


def _halves(whole: Cut) -> list[Cut]:
    squares = whole.stop - whole.first
    return [Cut(whole.first + part.first, whole.first + part.stop) for part in cuts(squares, squares // 2 + OVERLAP)]


def _drawn(hand_out: HandOut, sheet: _Map, ends: Sequence[Point], title: str) -> Iterator[str]:
    wide, high = _stitch_mm(hand_out)
    across, up = sheet.across.stop - sheet.across.first, sheet.up.stop - sheet.up.first
    width, height = across * wide, up * high
    tall = max(height, min(_MAP_HIGH_MM, (len(ends) / 2 + 1) * LABEL_MM))  # for numbers in the margins
    left = (WIDE_MM - width) / 2
    yield (
        f'<svg class="map" width="{number(WIDE_MM)}mm" height="{number(tall + 2)}mm" '
        f'viewBox="{number(-left)} -1 {number(WIDE_MM)} {number(tall + 2)}" role="img" aria-label="{text(title)}">'
    )
    yield from _cloth(hand_out, sheet, wide, high)
    yield from _symbols(hand_out, sheet, wide, high)
    points = [
        Point(point.number, (point.x - sheet.across.first) * wide, (sheet.up.stop - point.y) * high) for point in ends
    ]
    labels = placed(points, width, tall)
    for label in labels:
        if label.is_led:
            near = label.x + (2.6 if label.x < 0 else -2.6)
            yield f'<path class="lead" d="M{_at(label.point)}L{number(near)} {number(label.y)}"/>'
    for label in labels:
        half = wide_mm(label.point) / 2
        yield (
            f'<rect class="tag" x="{number(label.x - half)}" y="{number(label.y - LABEL_MM / 2 + 0.1)}" '
            f'width="{number(2 * half)}" height="{number(LABEL_MM - 0.2)}" rx=".5"/>'
            f'<text class="number" x="{number(label.x)}" y="{number(label.y + 0.8)}">{label.point.number}</text>'
            f'<circle cx="{number(label.point.x)}" cy="{number(label.point.y)}" r=".5"/>'
        )
    yield "</svg>"


def _at(point: Point) -> str:
    return f"{number(point.x)} {number(point.y)}"


def _cloth(hand_out: HandOut, sheet: _Map, wide: float, high: float) -> Iterator[str]:
    """A path of each yarn, and a line where yarns meet."""
    found = defaultdict[str, list[str]](list)
    lines = [_yarns(hand_out, level) for level in range(sheet.up.stop, sheet.up.first - 2, -1)]
    for at, line in enumerate(lines[1:-1]):
        x = 0
        for yarn, some in groupby(line[sheet.across.first + 1:sheet.across.stop + 1]):
            stitches = len(list(some))
            if yarn:
                box = f"h{number(stitches * wide)}v{number(high)}h-{number(stitches * wide)}z"
                found[yarn].append(f"M{number(x * wide)} {number(at * high)}{box}")
            x += stitches
    for yarn, boxes in found.items():
        yield f'<path fill="{ground(hand_out.piece.yarn(yarn).colour, hand_out.inks)}" d="{"".join(boxes)}"/>'
    cut = [line[sheet.across.first:sheet.across.stop + 2] for line in lines]
    yield f'<path class="contour" stroke-width=".3" d="{contour(cut, wide, high)}"/>'


def _yarns(hand_out: HandOut, level: int) -> list[str]:
    """The yarns of a row of the picture from column 1 on, and beside it nothing: "", as above and below it."""
    fabric = hand_out.rows.fabric
    if not 0 <= level < len(fabric.levels):
        return [""] * (fabric.columns + 2)
    return ["", *(stitch.yarn if stitch else "" for stitch in cells_across(fabric, level)), ""]


def _symbols(hand_out: HandOut, sheet: _Map, wide: float, high: float) -> Iterator[str]:
    """The letter of each area half way up where it is widest, where it has room."""
    fabric = hand_out.rows.fabric
    columns, rows = sheet.across.stop - sheet.across.first, sheet.up.stop - sheet.up.first
    yield '<g class="letters" font-size="2.4">'
    for area in areas(fabric):
        widest = max(strip.cells for strip in area.strips)
        wide_ones = [strip for strip in area.strips if strip.cells > 0.8 * widest]
        strip = wide_ones[len(wide_ones) // 2]
        x = strip.first - 1 + strip.cells / 2 - sheet.across.first
        y = sheet.up.stop - fabric.level(strip.row) - 0.5
        if strip.cells * wide >= 2 and 0 < x < columns and 0 < y < rows:
            letter = text(hand_out.piece.yarn(area.yarn).symbol)
            yield f'<text x="{number(x * wide)}" y="{number(y * high + 0.86)}">{letter}</text>'
    yield "</g>"
