"""What is marked on the drawing board on demand: stitches that cost more than they look. Pure."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Literal

from companion.knitting.cloth.areas import Cell, areas
from companion.knitting.cloth.carries import carry, goes_round
from companion.knitting.cloth.rows import Place
from companion.knitting.howfar import HowFar, untold
from companion.knitting.piece import Piece
from companion.knitting.reckoning.savings import USUAL_MOST, pairs, small_areas, worth_sewing
from companion.knitting.strands.floats import float_into
from companion.knitting.strands.plan import plan_strands
from companion.knitting.strands.strands import Strands

Kind = Literal["lone stitches", "beyond reach", "floats", "sewn on"]

KINDS: tuple[Kind, ...] = ("lone stitches", "beyond reach", "floats", "sewn on")


def marked(piece: Piece, kind: Kind, done: HowFar = untold) -> frozenset[Cell]:
    """The stitches of a kind: areas of a single stitch; where a strand ends and one of the same yarn is joined in the
    next row, too far off to be the same; those behind which floats lie that are caught; small areas that would save
    ends if they were sewn on afterwards.

    Raises:
        TooMuchToWeigh: the piece's limits allow more than can be weighed, or too many areas are small.
    """
    match kind:
        case "lone stitches":
            return frozenset(area.first for area in areas(piece.fabric) if area.stitches == 1)
        case "beyond reach" | "floats":
            strands = plan_strands(piece.rows, piece.carry, done=done).strands
            return frozenset((_beyond_reach if kind == "beyond reach" else _behind_floats)(strands, piece))
        case "sewn on":
            small = small_areas(piece, piece.small_areas or USUAL_MOST)
            worth = pairs(worth_sewing(piece, small, done))
            return frozenset(cell for area, _ in worth for cell in area.cells)


def _beyond_reach(strands: Strands, piece: Piece) -> Iterator[Cell]:
    """The last stitch of a strand that ends, and the first one of the nearest that is joined in the next row in the
    same yarn, farther off than strands may go."""
    rows = strands.rows
    for place in strands.first.values():
        ended = [
            Place(low, index)
            for low in rows.before(place.row) for index, run in enumerate(rows[low].segments)
            if run.yarn == rows.segment(place).yarn and strands.last[strands.at(Place(low, index))] == (low, index)
        ]
        far = [(carry(rows, origin, place), origin) for origin in ended]
        if far and min(far)[0] > piece.carry.reach:
            yield Cell(place.row, rows.segment(place).first)
            yield Cell(min(far)[1].row, rows.segment(min(far)[1]).last)


def _behind_floats(strands: Strands, piece: Piece) -> Iterator[Cell]:
    """The stitches that a float passes, of those floats that are caught because they are long."""
    rows = strands.rows
    for place in rows.places():
        carried = float_into(strands, place)
        if carried is None or carried.stitches <= piece.catching.free:
            continue
        row, (low, high) = rows[place.row], sorted((rows.segment(carried.origin).exit, rows.segment(place).entry))
        at = row.upto if carried.is_behind else row.reached
        is_other_way = goes_round(rows, carried.origin, place) and carried.stitches < abs(at(high) - at(low))
        for column in range(1, row.fabric.columns + 1):
            if (low < column <= high) != is_other_way and row.stitch_at(column) is not None:
                yield Cell(place.row, column)
