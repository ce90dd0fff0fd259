"""How to make an end vanish: which way it closes its hole, and a route through the backs of its own colour.

A tail is drawn the way that closes the hole, toward its own colour ("Changing colors and weaving in loose ends"),
then along the ridge of crossing loops at the colour change in one direction and back for a few stitches, on its own
colour's side ("Intarsia", technique page); at least 5 cm in all, back and forth in a small area; never behind a
lighter colour, and with its plies split where there is no room (common practice, no source).
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from fractions import Fraction
from itertools import chain, pairwise
from math import ceil
from typing import Literal

from companion.knitting.cloth.cast_on import separate_yarn
from companion.knitting.cloth.colour import lightness
from companion.knitting.hands.ends import Corner, corner, is_of_cast_on, rows_until_ready
from companion.knitting.hands.steps import End
from companion.knitting.latest import latest
from companion.knitting.piece import Piece
from companion.knitting.strands.strands import Strands
from companion.knitting.value import Record

WOVEN_CM = Fraction(5)
"""So much of an end is woven in (5 cm or more: "How to weave in ends", and common practice)."""

MOST_TURNS = 2
"""Back and forth over the same stitches no more often than that: thick and stiff otherwise (common practice)."""

SHOWS_BY = 15
"""An end darker than what it lies behind by so much lightness (CIE L*, 0 to 100) may show through. No source: so far
apart two colours are plainly different, while neighbours on a shade card are nearer."""

ROOM = 400
"""So many stitches of an area are looked at to see what lies round it; a larger one has room inside."""

Heading = Literal["up", "down", "left", "right"]
Cell = tuple[int, int]
"""A stitch: its row, from 0, and its column."""


class Leg(Record):
    """Part of a route, as one looks at the fabric's wrong side: so many stitches to the left or right, or rows up or
    down along the line where the colours change, which ``leans`` so many stitches to the right, or with a minus left.
    """

    way: Heading
    length: int
    leans: int = 0


class Weaving(Record):
    """One end's way in. ``neighbour``: the yarn at the change ("" at an edge). ``closes``: the way that draws the
    hole shut, "" where there is none. ``cells``: the stitches of the route in order, of the end's own colour only.

    ``is_split``: there is no room, so each half of its plies goes a way of its own; ``hides`` is then the yarn beside
    the area behind which it shows least ("" = there is none), and ``lighter_by`` how much lighter that one is.
    ``is_for_seam``: its edge will be sewn up. ``rows``: so many whole rows must be worked before it is woven in.
    ``is_of_cast_on``: the cast-on left it. ``on_edge``: it hangs at stitches of other colours, and runs along the
    edge that its strand cast on or bound off; ``cells`` are then the stitches at that edge.
    """

    end: End
    yarn: str
    neighbour: str
    closes: Literal["left", "right", ""]
    legs: tuple[Leg, ...]
    cells: tuple[Cell, ...]
    cm: float
    is_split: bool
    hides: str
    lighter_by: float
    is_for_seam: bool
    rows: int
    is_of_cast_on: bool = False
    on_edge: Literal["", "cast-on", "bind-off"] = ""


class Backs:
    """The backs of a piece's stitches, where its ends are woven in."""

    def __init__(self, piece: Piece, strands: Strands) -> None:
        self.piece = piece
        self._strands, self._rows = strands, strands.rows
        self._stitch_cm = float(piece.gauge.stitch_cm)
        self._row_cm = float(piece.gauge.row_cm)
        self._enough = float(WOVEN_CM) - self._stitch_cm / 2
        self._most_up, self._most_inside = ceil(WOVEN_CM / piece.gauge.row_cm), ceil(WOVEN_CM / piece.gauge.stitch_cm)
        self._found: dict[End, Weaving] = {}

    def weaving(self, end: End) -> Weaving:
        """How an end of the piece is woven in."""
        if end not in self._found:
            self._found[end] = self._weaving(end)
        return self._found[end]

    def yarn_at(self, cell: Cell) -> str:
        """The yarn of a stitch; "" where there is none."""
        row, column = cell
        stitch = self._rows[row].stitch_at(column) if 0 <= row < len(self._rows) else None
        return stitch.yarn if stitch else ""

    def _weaving(self, end: End) -> Weaving:
        rows, at = self._rows, corner(end, self._strands)
        cell = at.row, at.column
        is_of_cast = is_of_cast_on(end, self._strands)
        yarn = separate_yarn(rows) if end.kind.startswith("cast-on") else rows.segment(end.place).yarn
        is_on_edge = at.edge > 0 and self.yarn_at(cell) != yarn
        is_at_edge = is_on_edge or (at.edge > 0 and not is_of_cast and end.kind == "start")
        neighbour = "" if is_at_edge else self.yarn_at((at.row, at.column - at.inward))
        fresh = self._highest((end.place.row, at.column), rows_until_ready(self.piece.gauge)) + 1
        cells, cm = self._route(end, at, is_on_edge, min(fresh, len(rows)))
        if cm < self._enough:  # it may have to wait for more rows of its own colour
            later = self._route(end, at, is_on_edge, len(rows))
            cells, cm = later if later[1] >= self._enough else (cells, cm)
        is_split = cm < self._enough
        hides, lighter_by = self._hides(yarn, self._around(cell) if is_split and not is_on_edge else frozenset())
        is_for_seam = not neighbour and not is_of_cast and end.place != (0, 0) and self._is_seamed(end, at)
        ready = max(fresh, max(cells)[0] + 1, end.place.row + 1)
        return Weaving(
            end, yarn, neighbour, _seen(at.inward) if neighbour else "", _legs(cells), tuple(cells), cm, is_split,
            hides, lighter_by, is_for_seam, ready, is_of_cast, at.made if is_on_edge else "",
        )  # fmt: skip

    def _highest(self, cell: Cell, rows: int) -> int:
        """The row so many rows above a stitch, and past the last one where there are not so many."""
        at, column = cell
        for _ in range(rows):
            above = self._rows.fabric.above(at, column)
            if above is None:
                return at + rows
            at, rows = above, rows - 1
        return at

    def _is_seamed(self, end: End, at: Corner) -> bool:
        row, seams = self._rows[end.place.row], self.piece.seams
        side, taken = ("right", seams.right) if at.inward > 0 else ("left", seams.left)
        return not row.is_round and row.part in ("", side) and (taken is not None or row.fabric.seam_stitches > 0)

    def _route(self, end: End, at: Corner, is_on_edge: bool, rows: int) -> tuple[list[Cell], float]:
        """From the end's own stitch along the change, then inside the area, back and forth where it is small; below
        row ``rows``. Where the stitch is of another yarn, along the edge. The stitches in order, and centimetres."""
        way = [(at.row, at.column)]
        if not is_on_edge:
            way += self._along(way[0], at.inward, 1 if end.kind != "finish" else -1, rows)
        way += self._inside(way[-1], at.inward, at.edge if is_on_edge else 0)
        cells, cm = way[:1], 0.0
        for cell in chain(way[1:], *[way[-2::-1], way[1:]][:MOST_TURNS]):
            if cm >= self._enough:
                break
            cm += self._row_cm if cell[0] != cells[-1][0] else self._stitch_cm
            cells.append(cell)
        return cells, cm

    def _along(self, cell: Cell, inward: int, up: int, rows: int) -> Iterator[Cell]:
        """Stitches of the same colour row by row beside the line where another colour begins, which may lean by one
        stitch a row; as far as one end goes."""
        yarn, (row, column) = self.yarn_at(cell), cell
        fabric = self._rows.fabric
        for _ in range(self._most_up):
            beyond = fabric.above(row, column) if up > 0 else fabric.under(row, column)
            if beyond is None or beyond >= rows:
                return
            row = beyond
            near = (column, column - inward, column + inward)
            on_line = (c for c in near if self.yarn_at((row, c)) == yarn != self.yarn_at((row, c - inward)))
            found = next(on_line, None)
            if found is None:
                return
            column = found
            yield row, column

    def _inside(self, cell: Cell, inward: int, edge: int) -> Iterator[Cell]:
        """Stitches in the same row, away from the change, as far as one end goes: of the same colour, or where it
        runs along an ``edge`` of so many stitches, of any."""
        yarn, (row, column) = self.yarn_at(cell), cell
        for _ in range(min(self._most_inside, edge - 1) if edge else self._most_inside):
            column += inward
            there = self.yarn_at((row, column))
            if not there or (not edge and there != yarn):
                return
            yield row, column

    def _around(self, cell: Cell) -> frozenset[str]:
        """The yarns round a small area."""
        yarn, seen, waiting, around = self.yarn_at(cell), {cell}, [cell], set[str]()
        while waiting and len(seen) < ROOM:
            for near in self._rows.fabric.around(*waiting.pop()):
                other = self.yarn_at(near)
                if other == yarn and near not in seen:
                    seen.add(near)
                    waiting.append(near)
                elif other and other != yarn:
                    around.add(other)
        return frozenset(around)

    def _hides(self, yarn: str, around: frozenset[str]) -> tuple[str, float]:
        """The yarn behind which an end shows least, the darkest one, and how much lighter than the end it is."""
        if not around:
            return "", 0.0
        light = {other: lightness(self.piece.yarn(other).colour) for other in sorted(around)}
        best = min(light, key=lambda other: light[other])
        return best, light[best] - lightness(self.piece.yarn(yarn).colour)


def _seen(inward: int) -> Literal["left", "right"]:
    """Toward higher columns is to the left on the right side, so to the right as one looks at the wrong side."""
    return "right" if inward > 0 else "left"


def _legs(cells: Sequence[Cell]) -> tuple[Leg, ...]:
    """Steps from stitch to stitch, merged while they go one way; a line that leans goes up or down."""
    legs: list[Leg] = []
    for (row, column), (to, aside) in pairwise(cells):
        way: Heading = "up" if to > row else "down" if to < row else _seen(aside - column)
        leans = aside - column if to != row else 0
        if legs and legs[-1].way == way:
            legs[-1] = Leg(way, legs[-1].length + 1, legs[-1].leans + leans)
        else:
            legs.append(Leg(way, 1, leans))
    return tuple(legs)


@latest
def backs_of(piece: Piece, strands: Strands) -> Backs:
    """The backs of a piece's stitches."""
    return Backs(piece, strands)
