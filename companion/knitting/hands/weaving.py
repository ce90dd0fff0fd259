"""How to make an end vanish: which way it closes its hole, and a route through the backs of its own colour.

A tail is drawn the way that closes the hole, toward its own colour ("Changing colors and weaving in loose ends"),
then along the ridge of crossing loops at the colour change in one direction and back for a few stitches, on its own
colour's side ("Intarsia", technique page); at least 5 cm in all, back and forth in a small area; never behind a
lighter colour, and with its plies split where there is no room (common practice, no source).
"""

from __future__ import annotations

from bisect import bisect_left
from collections.abc import Iterator, Sequence
from fractions import Fraction
from itertools import accumulate
from math import ceil
from typing import Literal, NamedTuple

from companion.knitting.cloth.cast_on import separate_yarn
from companion.knitting.cloth.colour import lightness
from companion.knitting.cloth.rows import Place, Row
from companion.knitting.hands.ends import End, corner, is_of_cast_on, rows_until_ready
from companion.knitting.piece import Piece
from companion.knitting.strands.strands import Strands

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


class Leg(NamedTuple):
    """Part of a route, as one looks at the fabric's wrong side: so many stitches to the left or right, or rows up or
    down. ``is_along``: it follows the line where the colours change."""

    way: Heading
    length: int
    is_along: bool = False


class Weaving(NamedTuple):
    """One end's way in. ``neighbour``: the yarn at the change ("" at an edge). ``closes``: the way that draws the
    hole shut, "" where there is none. ``cells``: the stitches of the route in order, of the end's own colour only.

    ``is_split``: there is no room, so each half of its plies goes a way of its own; ``hides`` is then the yarn beside
    the area behind which it shows least ("" = there is none), and ``lighter_by`` how much lighter that one is.
    ``is_for_seam``: its edge will be sewn up. ``rows``: so many whole rows must be worked before it is woven in.
    ``is_of_cast_on``: the cast-on left it. ``is_on_edge``: it hangs at stitches of other colours, and runs along the
    cast-on edge, which is of its own; ``cells`` are then the stitches of row 1 on that edge.
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
    is_on_edge: bool = False


class _Step(NamedTuple):
    cell: Cell
    cm: float
    is_along: bool = False


class _Route(NamedTuple):
    legs: tuple[Leg, ...]
    cells: tuple[Cell, ...]
    cm: float
    is_split: bool


class Backs:
    """The backs of a piece's stitches, where its ends are woven in."""

    def __init__(self, piece: Piece, strands: Strands) -> None:
        self.piece = piece
        self._strands = strands
        self._stitch_cm = float(piece.gauge.stitch_cm)
        self._row_cm = float(piece.gauge.row_cm)
        self._most_up, self._most_inside = ceil(WOVEN_CM / piece.gauge.row_cm), ceil(WOVEN_CM / piece.gauge.stitch_cm)
        self._rows: dict[int, tuple[list[int], list[str]]] = {}
        self._found: dict[End, Weaving] = {}

    def weaving(self, end: End) -> Weaving:
        """How an end of the piece is woven in."""
        found = self._found.get(end)
        if found is None:
            found = self._found[end] = self._weaving(end)
        return found

    def yarn_at(self, cell: Cell) -> str:
        """The yarn of a stitch; "" where there is none."""
        row, column = cell
        if not 0 <= row < len(self._strands.rows):
            return ""
        if row not in self._rows:
            runs = self._strands.rows.fabric.rows[row].runs
            self._rows[row] = (
                list(accumulate(run.count for run in runs)),
                [run.stitch.yarn if run.stitch else "" for run in runs],
            )
        stops, yarns = self._rows[row]
        at = bisect_left(stops, column)
        return yarns[at] if column >= 1 and at < len(yarns) else ""

    def _weaving(self, end: End) -> Weaving:
        place, rows = end.place, self._strands.rows
        row, segment = rows[place.row], rows.segment(place)
        at, is_far = corner(end, rows)
        is_of_cast = is_of_cast_on(end, rows)
        inward = 1 if (row.toward == "left") != is_far else -1
        column = row.segments[at].last if is_far else row.segments[at].first
        yarn, neighbour = self._yarn_of(end), self._neighbour(row, at, is_far)
        if end.after:
            column = self._columns(place)[end.after - 1 if is_far else end.after]
            neighbour = segment.yarn
        cell = (place.row, column)
        at_edge = not neighbour and (place.row, place.segment) != (0, 0) and not is_of_cast
        is_for_seam = at_edge and self._is_seamed(row, is_far)
        is_on_edge = is_of_cast and self.yarn_at(cell) != yarn
        if is_on_edge:
            neighbour = ""
        fresh = self._highest(cell, rows_until_ready(self.piece.gauge)) + 1
        route = early = self._route(cell, inward, is_up=end.kind != "finish", rows=min(fresh, len(rows)), yarn=yarn)
        if early.is_split:  # it may have to wait for more rows of its own colour
            later = self._route(cell, inward, is_up=end.kind != "finish", rows=len(rows), yarn=yarn)
            route = early if later.is_split else later
        around = self._around(cell) if route.is_split and not is_on_edge else frozenset()
        hides, lighter_by = self._hides(yarn, around)
        closes: Literal["left", "right", ""] = _seen(inward) if neighbour else ""
        top = max(r for r, _ in route.cells)
        return Weaving(
            end, yarn, neighbour, closes, route.legs, route.cells, route.cm, route.is_split,
            hides, lighter_by, is_for_seam, max(fresh, top + 1), is_of_cast, is_on_edge,
        )  # fmt: skip

    def _highest(self, cell: Cell, rows: int) -> int:
        """The row so many rows above a stitch, and past the last one where there are not so many."""
        fabric, (at, column) = self._strands.rows.fabric, cell
        for _ in range(rows):
            above = fabric.above(at, column)
            if above is None:
                return at + rows
            at, rows = above, rows - 1
        return at

    def _columns(self, place: Place) -> list[int]:
        row = self._strands.rows[place.row]
        step = 1 if row.toward == "left" else -1
        stretches = row.segments[place.segment].stretches
        return [stretch.first + step * i for stretch in stretches for i in range(stretch.count)]

    def _yarn_of(self, end: End) -> str:
        is_own = end.kind in ("cast-on start", "cast-on finish")
        return separate_yarn(self._strands.rows) if is_own else self._strands.rows.segment(end.place).yarn

    def _neighbour(self, row: Row, segment: int, is_far: bool) -> str:
        """The yarn on the other side of the change where an end hangs; "" at an edge."""
        beside = segment + (1 if is_far else -1)
        return row.segments[beside].yarn if 0 <= beside < len(row.segments) else ""

    def _is_seamed(self, row: Row, is_far: bool) -> bool:
        at_right = (row.toward == "left") != is_far
        seams = self.piece.seams
        side = "right" if at_right else "left"
        is_side_edge = not row.is_round and row.part in ("", side)
        is_sewn_up = (seams.right if at_right else seams.left) is not None or row.fabric.seam_stitches > 0
        return is_side_edge and is_sewn_up

    def _route(self, cell: Cell, inward: int, *, is_up: bool, rows: int, yarn: str) -> _Route:
        """From the end's own stitch along the change, then inside the area, back and forth where it is small; below
        row ``rows``. Where the stitch is of another ``yarn``, along the edge."""
        is_own = self.yarn_at(cell) == yarn
        along = list(self._along(cell, inward, 1 if is_up else -1, rows)) if is_own else []
        inside = self._inside(along[-1] if along else cell, inward, is_of_one_yarn=is_own)
        steps = [_Step(one, self._row_cm, True) for one in along] + [_Step(one, self._stitch_cm) for one in inside]
        enough = float(WOVEN_CM) - self._stitch_cm / 2
        there = _as_far_as(steps, enough)
        reached = sum(step.cm for step in there)
        stops = [cell, *(step.cell for step in there)]
        back = [step._replace(cell=stop) for stop, step in zip(stops, there, strict=False)][::-1]
        legs, path = _legs(cell, there), list(there)
        for turn in range(MOST_TURNS):
            again = _as_far_as(back if turn % 2 == 0 else there, enough - reached)
            reached += sum(step.cm for step in again)
            legs += _legs(path[-1].cell if path else cell, again)
            path += again
        return _Route(legs, (cell, *(step.cell for step in path)), reached, reached < enough)

    def _along(self, cell: Cell, inward: int, up: int, rows: int) -> Iterator[Cell]:
        """Stitches of the same colour row by row beside the line where another colour begins, which may lean by one
        stitch a row; as far as one end goes."""
        yarn, (row, column) = self.yarn_at(cell), cell
        fabric = self._strands.rows.fabric
        for _ in range(self._most_up):
            beyond = fabric.above(row, column) if up > 0 else fabric.below(row)
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

    def _inside(self, cell: Cell, inward: int, *, is_of_one_yarn: bool = True) -> Iterator[Cell]:
        """Stitches of the same colour, or of any, in the same row, away from the change, as far as one end goes."""
        yarn, (row, column) = self.yarn_at(cell), cell
        for _ in range(self._most_inside):
            column += inward
            there = self.yarn_at((row, column))
            if not there or (is_of_one_yarn and there != yarn):
                return
            yield row, column

    def _around(self, cell: Cell) -> frozenset[str]:
        """The yarns round a small area."""
        yarn, seen, waiting, around = self.yarn_at(cell), {cell}, [cell], set[str]()
        while waiting and len(seen) < ROOM:
            for near in self._strands.rows.fabric.around(*waiting.pop()):
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


def _as_far_as(steps: Sequence[_Step], cm: float) -> list[_Step]:
    """Steps until they come to so many centimetres, or all of them."""
    taken: list[_Step] = []
    for step in steps:
        if cm <= 0:
            break
        taken.append(step)
        cm -= step.cm
    return taken


def _legs(start: Cell, steps: Sequence[_Step]) -> tuple[Leg, ...]:
    """Steps from stitch to stitch, merged while they go one way; a line that leans goes up or down."""
    legs: list[Leg] = []
    at = start
    for cell, _, is_along in steps:
        if cell[0] != at[0]:
            way: Heading = "up" if cell[0] > at[0] else "down"
        else:
            way = _seen(cell[1] - at[1])
        if legs and legs[-1].way == way and legs[-1].is_along == is_along:
            legs[-1] = legs[-1]._replace(length=legs[-1].length + 1)
        else:
            legs.append(Leg(way, 1, is_along))
        at = cell
    return tuple(legs)


def backs_of(piece: Piece, strands: Strands) -> Backs:
    """The backs of a piece's stitches, kept with its strands as long as they are the same."""
    found = strands.kept.get("backs")
    if not (isinstance(found, Backs) and found.piece is piece):
        found = strands.kept["backs"] = Backs(piece, strands)
    return found
