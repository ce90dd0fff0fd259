"""Random plan files, each with the chart that it describes, known before the plan is written.

Flat pieces whose edges go in and out, pieces that divide, tubes with flat parts; in up to four yarns and four
textures, for right and left hands, cast on in every way, with slipped edges, edges shaped some stitches in, and every
limit on where a strand may go.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from types import MappingProxyType
from typing import NamedTuple

from hypothesis import strategies as st

from tests.dice import dice
from tests.simulator.charts import Look, Wanted, following

YARNS = ("sand", "brick", "kelp", "foam")
STOCKINETTE: Look = ("stockinette", (1, 1), 0)
LOOKS: tuple[Look, ...] = (
    STOCKINETTE, ("garter", (1, 1), 0), ("reverse", (1, 1), 0), ("seed", (1, 1), 0), ("rib", (2, 2), 0),
    ("rib", (1, 3), 0),
)  # fmt: skip
SYMBOLS = "abcdefghijklmnopqrstuvwx"

Cell = tuple[str, Look]
Cells = Mapping[int, Cell]
"""The stitches of a row by column, from 1 at the right edge of the right side."""


class Drawn(NamedTuple):
    """A plan's text, its chart files and the rows it describes in working order. ``is_mirrored``: for a knitter with
    left hands; ``is_trapping``: who lays tails in; ``narrower``: so many sections are than what lies below."""

    text: str
    rows: tuple[Wanted, ...]
    is_mirrored: bool
    is_trapping: bool
    shaping: int
    has_slipped_edges: bool
    narrower: int = 0
    files: Mapping[str, str] = MappingProxyType({})


class Section(NamedTuple):
    """Rows of one section of a plan, from the bottom up, and its other keys. ``plain``: how rows are said in place of
    a chart, but for their yarn and stitch, and ``gone``: so many stitches are at each edge; ``drawn``: the columns
    that its chart draws, None = all of the piece."""

    rows: Sequence[Cells]
    keys: tuple[str, ...] = ()
    is_round: bool = False
    plain: str = ""
    gone: int = 0
    drawn: range | None = None


class Way(NamedTuple):
    """How a row is worked: to the left as the right side looks. A plan is read for right hands, so what left hands
    could do and right hands could not has no place in it."""

    goes_left: bool

    def turned(self, rows: int = 1) -> Way:
        return Way(self.goes_left == (rows % 2 == 0))


@st.composite
def plans(draw: st.DrawFn, most_rows: int = 9) -> Drawn:
    """Any plan."""
    is_mirrored = draw(st.booleans())
    kind = draw(st.sampled_from(["flat", "flat", "divided", "divided", "tube"]))
    paint, way, motif = _Paint(draw), Way(goes_left=True), None
    if kind == "tube":
        sections, rows = _tube(draw, paint, most_rows)
    elif kind == "divided":
        sections, rows = _divided(draw, paint, most_rows, way)
    else:
        outline = list(_outline(draw, paint, draw(st.integers(1, most_rows)), way))
        motif = _motif(draw, outline) if draw(st.integers(0, 3)) == 3 else None
        above = list(_above(draw, paint, outline[-1]))
        sections = [Section(outline, (motif.key,) if motif else ()), *above]
        drawn = [*(motif.laid if motif else outline), *(cells for section in above for cells in section.rows)]
        rows = _a_row_later(_in_order([("", False, cells) for cells in drawn]), "left")
    shaping, slipped = draw(st.sampled_from([0, 0, 0, 1, 2])), draw(st.integers(0, 3)) == 3
    if is_mirrored:
        rows = _a_row_later(rows, "right")
    told = [f"shaping: {{at: {shaping}}}", *(["slipped_edges: true"] if slipped else [])]
    text = "\n".join([*_head(draw, _used(sections)), *told, "rows:", *_told(sections)]) + "\n"
    files = {"buoy.txt": _chart(motif.rows, range(1, motif.wide + 1), _used(sections))} if motif else {}
    narrower = sum(section.gone > 0 for section in sections)
    return Drawn(text, tuple(rows), is_mirrored, draw(st.integers(0, 2)) < 2, shaping, slipped, narrower, files)


HEAD = (
    "plan: 1", "title: Quay cloth", "gauge: {stitches: 20, rows: 28}", "yarns:",
    *(f"  {name}: {{colour: tan}}" for name in YARNS),
)  # fmt: skip


def _head(draw: st.DrawFn, used: Mapping[Cell, str]) -> Iterator[str]:
    yield from (*HEAD, "symbols:")
    for (yarn, (name, rib, _)), symbol in used.items():
        told = f"{{rib: [{rib[0]}, {rib[1]}]}}" if name == "rib" else name
        yield f"  {symbol}: {{yarn: {yarn}, stitch: {told}}}"
    reach, behind = draw(st.sampled_from([3, 0, 1, 5, 8, 12, 12])), draw(st.sampled_from([0, 3, 6, 12]))
    rest, share = draw(st.sampled_from([0, 1, 2, 3])), draw(st.sampled_from(["false", "true"]))
    runs = draw(st.sampled_from(["false", "true"]))
    yield f"carry: {{reach: {reach}, behind: {behind}, rest: {rest}, share: {share}, share_runs: {runs}}}"
    method = draw(st.sampled_from(["long-tail", "knitted", "cable"]))
    how = draw(st.sampled_from(["", "colours: each", "colours: each", f"yarn: {draw(st.sampled_from(YARNS))}"]))
    if how or method != "long-tail":
        yield f"cast_on: {{method: {method}{', ' if how else ''}{how}}}"
    if draw(st.booleans()):
        yield "bind_off: {colours: each}"


def _used(sections: Sequence[Section]) -> dict[Cell, str]:
    """A symbol for every yarn and texture there is."""
    cells = dict.fromkeys(cell for section in sections for row in section.rows for cell in row.values())
    return {cell: SYMBOLS[number] for number, cell in enumerate(cells)}


def _told(sections: Sequence[Section]) -> Iterator[str]:
    symbol = _used(sections)
    width = max(column for section in sections for row in section.rows for column in row)
    for section in sections:
        if section.plain:
            yarn, (name, rib, _) = next(iter(section.rows[0].values()))
            stitch = f"{{rib: [{rib[0]}, {rib[1]}]}}" if name == "rib" else name
            yield f"  - {section.plain}, yarn: {yarn}, stitch: {stitch}}}"
        else:
            yield "  - chart: |"
            yield _chart(section.rows, section.drawn or range(1, width + 1), symbol, "      ")
        yield from (f"    {key}" for key in section.keys)
        if section.is_round:
            yield "    worked: round"


def _chart(rows: Sequence[Cells], columns: range, symbol: Mapping[Cell, str], indent: str = "") -> str:
    """Rows as they are drawn, the last one first."""
    return "\n".join(
        indent + "".join(symbol[row[c]] if c in row else "." for c in reversed(columns)) for row in reversed(rows)
    )


def _in_order(rows: Sequence[tuple[str, bool, Cells]]) -> list[Wanted]:
    found: list[Wanted] = []
    for part, is_round, cells in rows:
        found.append(following(found, part, is_round, cells))
    return found


def _above(draw: st.DrawFn, paint: _Paint, below: Cells) -> Iterator[Section]:
    """Now and then plain rows above, on as many stitches or with as many gone at both edges, and a chart of as many
    as are left, its edges in the yarn beside them."""
    if draw(st.integers(0, 2)) == 2:
        return
    first, last = min(below), max(below)
    gone = draw(st.integers(0, min(5, (last - first) // 2)))
    columns, rows = range(first + gone, last - gone + 1), draw(st.integers(1, 3))
    cells = dict.fromkeys(columns, paint.row(columns)[first + gone])
    wide = f", stitches: {len(columns)}" if gone or draw(st.booleans()) else ""
    kind = draw(st.sampled_from(["plain", "field"]))
    yield Section([cells] * rows, plain=f"{kind}: {{rows: {rows}{wide}", gone=gone)
    if len(columns) > 3 and draw(st.integers(0, 2)) < 2:
        edge = draw(st.sampled_from([1, 0, 1, 2]))
        edge = min(edge, (len(columns) - 2) // 2)
        inner = columns[edge:len(columns) - edge]
        drawn = [dict(paint.row(columns)) for _ in range(draw(st.integers(1, 3)))]
        for row in drawn if edge else ():
            for beside, outside in ((inner[0], columns[:edge]), (inner[-1], columns[-edge:])):
                row[beside] = drawn[0][beside]
                row.update(dict.fromkeys(outside, (row[beside][0], STOCKINETTE)))
        yield Section(drawn, (f"edges: {{stitches: {edge}}}",) if edge else (), drawn=inner)


class _Motif(NamedTuple):
    """A motif so many columns wide, and the rows of the chart that it lies on, with it."""

    wide: int
    rows: Sequence[Cells]
    key: str
    laid: Sequence[Cells]


def _motif(draw: st.DrawFn, outline: Sequence[Cells]) -> _Motif:
    """A motif anywhere on a chart; where the chart has no stitch nothing of it is there."""
    cells, width = list(dict.fromkeys(cell for row in outline for cell in row.values())), max(map(max, outline))
    wide, high = draw(st.integers(1, min(5, width))), draw(st.integers(1, min(4, len(outline))))
    right, bottom = draw(st.integers(0, width - wide)), draw(st.integers(0, len(outline) - high))
    thrown = draw(dice(wide * high))
    dies = [thrown[row * wide:(row + 1) * wide] for row in range(high)]
    rows = [{c: cells[die % len(cells)] for c, die in enumerate(row, 1) if die % 4} for row in dies]
    laid = [
        {c: rows[n - bottom].get(c - right, cell) if bottom <= n < bottom + high else cell for c, cell in row.items()}
        for n, row in enumerate(outline)
    ]
    return _Motif(wide, rows, f"motifs: [{{from: buoy.txt, right: {right}, bottom: {bottom}}}]", laid)


OTHER = {"left": "right", "right": "left"}


def _a_row_later(rows: Sequence[Wanted], ends: str) -> list[Wanted]:
    """The rows as hands work them that end right-side rows at an edge, the left one for right hands, and wrong-side
    rows at the other: of what is to go there more than two are kept, worked like the stitch beside them, until the
    next row begins."""
    found: list[Wanted] = []
    for row in rows:
        begins = bool(found) and row.part and found[-1].part != row.part
        below = next((one for one in reversed(found) if not begins or not one.part), None)
        if below and below.part and not row.part:  # it lies on both parts
            other = next(one for one in reversed(found) if one.part == OTHER[below.part])
            below = below._replace(cells={**below.cells, **other.cells})
        edge = ends if row.side == "RS" else OTHER[ends]
        if below is None or row.is_round or below.is_round or (begins and row.part != edge):
            found.append(row)
            continue
        beside = min(row.cells) if edge == "right" else max(row.cells)
        gone = {c: row.cells[beside] for c in below.cells if (c < beside if edge == "right" else c > beside)}
        found.append(row._replace(cells={**row.cells, **gone}) if len(gone) > 2 else row)
    return found


class _Paint:
    """Yarn and texture of every cell: blocks that lean, split and now and then begin anew, or noise."""

    def __init__(self, draw: st.DrawFn) -> None:
        self._draw = draw
        self.width = draw(st.sampled_from([4, 3, 5, 7, 9, 12, 14, 18, 18]))
        self._yarns = YARNS[:draw(st.sampled_from([2, 1, 2, 3, 4]))]
        self._looks = [STOCKINETTE, *draw(st.lists(st.sampled_from(LOOKS), max_size=2))]
        self._is_noise = draw(st.integers(0, 3)) == 3
        self._last: list[Cell] = []

    def row(self, columns: range) -> Cells:
        """The next row's cells in these columns."""
        thrown = self._draw(dice(self.width + 1))
        lean, is_new = thrown[-1] % 3 - 1, thrown[-1] // 3 % 4 == 3
        cells: list[Cell] = []
        for column in range(self.width):
            die = thrown[column]
            if not self._is_noise and not is_new and self._last and die < 200:
                cells.append(self._last[min(max(column + lean, 0), self.width - 1)])
            elif not self._is_noise and cells and die < 200:
                cells.append(cells[-1])
            else:
                cells.append((self._yarns[die % len(self._yarns)], self._looks[die // 8 % len(self._looks)]))
        self._last = cells
        return {column: cells[column - 1] for column in columns}


def _step(draw: st.DrawFn, here: range, low: int, high: int, way: Way) -> range:
    """The columns of the next row: at its start any number is lost (bound off) or made, at its end two are lost at
    most; within ``low`` and ``high``."""
    most = min(2, draw(_MOVES)), draw(_MOVES)
    right, left = most[::-1] if way.goes_left else most
    first, last = max(low, here.start + right), min(high, here.stop - 1 - left)
    if first > last or last < here.start or first >= here.stop:
        return here
    return range(first, last + 1)


_MOVES = st.sampled_from([0, 0, 0, 0, 1, 1, 2, 3, 3, 4, 5, -1, -1, -2, -3, -4])
"""Stitches lost at an edge, or with a minus made."""


def _outline(draw: st.DrawFn, paint: _Paint, rows: int, way: Way) -> Iterator[Cells]:
    here = range(1, paint.width + 1)
    if draw(st.booleans()):
        right = draw(st.integers(0, paint.width - 1))
        here = range(1 + right, draw(st.integers(right + 1, paint.width)) + 1)
    for row in range(rows):
        if row:
            here = _step(draw, here, 1, paint.width, way.turned(row))
        yield paint.row(here)


def _divided(
    draw: st.DrawFn, paint: _Paint, most_rows: int, way: Way
) -> tuple[list[Section], list[Wanted]]:
    """A piece that divides after some rows, by a gap of some stitches or a slit; and now and then is joined above it,
    and divides again. The parts need not be as high where they are not joined."""
    sections: list[Section] = []
    rows: list[tuple[str, bool, Cells]] = []
    whole = list(_outline(draw, paint, draw(st.integers(1, max(1, most_rows // 2))), way))
    for number in range(3):
        sections.append(Section(whole))
        rows += [("", False, cells) for cells in whole]
        across, way = sorted(whole[-1]), way.turned(len(whole))
        if number == 2 or len(across) == 1 or (number and draw(st.booleans())):
            break
        is_joined = draw(st.booleans())
        columns, most = range(across[0], across[-1] + 1), max(1, most_rows - len(whole))
        opened = _opened(draw, paint, columns, most, way, is_joined)
        sections.append(Section(opened.levels, (opened.key,)))
        rows += [(part, False, cells) for part in opened.order for cells in opened.drawn[part]]
        if not is_joined:
            break
        here, way, whole = opened.joined, way.turned(len(opened.levels)), []
        for row in range(draw(st.integers(1, max(1, most_rows // 3)))):
            here = _step(draw, here, 1, paint.width, way.turned(row)) if row else here
            whole.append(paint.row(here))
    return sections, _in_order(rows)


class _Opened(NamedTuple):
    """The rows beside an opening: side by side as they are drawn, and those of each part, worked in this ``order``;
    and the columns across both last ones."""

    levels: list[Cells]
    drawn: Mapping[str, list[Cells]]
    order: Sequence[str]
    key: str
    joined: range


def _opened(
    draw: st.DrawFn, paint: _Paint, across: range, most_rows: int, way: Way, is_joined: bool
) -> _Opened:
    first, last = across[0], across[-1]
    split = draw(st.integers(first, last - 1))
    begins = draw(st.integers(split + 1, min(last, split + 5)))
    free = draw(st.integers(split + 1, begins - 1)) if begins > split + 1 else 0  # "." is drawn there to the top
    parts: dict[str, list[range]] = {"right": [], "left": []}
    high = draw(st.integers(1, most_rows))
    for part, own in (("right", range(first, split + 1)), ("left", range(begins, last + 1))):
        low, most = (1, (free or split + 1) - 1) if part == "right" else ((free or split) + 1, paint.width)
        here = _begun(draw, own, part, way)
        for row in range(high if is_joined else draw(st.integers(1, most_rows))):
            if row:
                here = _step(draw, here, low, most, way.turned(row))
            parts[part].append(here)
    height = max(map(len, parts.values()))
    drawn: dict[str, list[Cells]] = {"right": [], "left": []}
    levels: list[Cells] = []
    for row in range(height):
        columns = {part: own[row] if row < len(own) else range(0) for part, own in parts.items()}
        cells = paint.row(range(1, paint.width + 1))
        for part, own in columns.items():
            if len(own):
                drawn[part].append({column: cells[column] for column in own})
        levels.append({column: cells[column] for own in columns.values() for column in own})
    order = draw(st.permutations(["right", "left"]))
    keys = [f"first: {order[0]}"]
    if not free:
        keys.append(f"at: {len(parts['right'][0])}")
    if is_joined and (not free or draw(st.booleans())):
        keys.append(f"rows: {height}")
    if draw(st.integers(0, 2)) == 2:
        keys.append("middle: held")
    joined = range(parts["right"][-1].start, parts["left"][-1].stop)
    return _Opened(levels, drawn, order, f"opening: {{{', '.join(keys)}}}", joined)


def _begun(draw: st.DrawFn, own: range, part: str, way: Way) -> range:
    """A part's first row: at the piece's edge it may be shaped as any row is."""
    is_start = (part == "right") == way.goes_left
    lost = draw(_MOVES)
    lost = min(max(lost, 0), len(own) - 1) if is_start else min(max(lost, 0), 2, len(own) - 1)
    return range(own.start + lost, own.stop) if part == "right" else range(own.start, own.stop - lost)


def _tube(draw: st.DrawFn, paint: _Paint, most_rows: int) -> tuple[list[Section], list[Wanted]]:
    """Rounds and flat rows in turn; between rounds, and below the first, an even number of flat ones."""
    sections: list[Section] = []
    rows: list[tuple[str, bool, Cells]] = []
    is_round = draw(st.booleans())
    columns = range(1, paint.width + 1)
    number = draw(st.sampled_from([2, 3, 4, 1]))
    has_seams = draw(st.integers(0, 2))
    for section in range(number):
        height = draw(st.integers(1, max(1, most_rows // 3)))
        if not is_round and section + 1 < number:
            height += height % 2
        drawn = [paint.row(columns) for _ in range(height)]
        keys = (f"seam_stitches: {has_seams}",) if has_seams and not is_round and number > 1 else ()
        sections.append(Section(drawn, keys, is_round))
        for cells in drawn:
            more = {paint.width + n: cells[1] for n in range(1, has_seams + 1)} if keys else {}
            rows.append(("", is_round, {**cells, **more}))
        is_round = not is_round
    return sections, _in_order(rows)
