"""A piece as the cells of a sheet: a stitch a cell, with the letter of its kind and in its colour; and the legend.

Whatever of the plan a sheet has no cell for is told.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import pairwise

from companion.drafts.names import symbols_of
from companion.drafts.sheets import legend
from companion.drafts.sheets.archive import MOST_CELLS
from companion.drafts.sheets.finding import NO_STITCH
from companion.drafts.sheets.meaning import MOST_YARNS
from companion.drafts.sheets.sheet import Cell
from companion.knitting.cloth.fabric import STOCKINETTE, Ball, Stitch, Texture, Yarn, cells_across
from companion.knitting.cloth.faces import looks_knit
from companion.knitting.cloth.rows import LONG_TAIL
from companion.knitting.cloth.seams import NO_SEAMS
from companion.knitting.cloth.tubes import columns_drawn
from companion.knitting.piece import Piece
from companion.knitting.strands.limits import Carry, default_reach
from companion.knitting.value import Record
from companion.problems import Problem, Problems


class Laid(Record):
    """``rows``: the cells from the top, in each from the left; ``legend``: in each line a cell, the yarn's name, its
    colour, and what else is to say."""

    rows: Sequence[Sequence[Cell]]
    legend: Sequence[tuple[Cell, Sequence[str]]]


def laid_out(piece: Piece) -> Laid:
    """A piece as cells.

    Raises:
        Problems: it has more stitches or kinds of them than a sheet is read with.
    """
    many = (len(piece.fabric.levels) + 1) * (piece.fabric.columns + 1)
    if many + 10 * MOST_YARNS > MOST_CELLS:
        raise Problems([Problem(f"A sheet has {MOST_CELLS:,} cells at most, and this piece needs {many:,}.")])
    stitches = drawing(piece)
    kinds = list(dict.fromkeys(stitch for row in stitches for stitch in row if stitch is not None))
    if max(len(kinds), len(piece.yarns)) > MOST_YARNS:
        raise Problems([Problem(f"A sheet tells {MOST_YARNS} kinds of stitches apart, and this piece has more.")])
    cells: dict[Stitch | None, Cell] = {None: NO_STITCH}
    taken = {yarn.name: letter for yarn, letter in _letters(piece)}
    plain = {Stitch(yarn.name) for yarn in piece.yarns}
    others = [stitch for stitch in kinds if stitch not in plain]
    for stitch, letter in zip(others, symbols_of([one.yarn for one in others], taken.values()), strict=True):
        cells[stitch] = Cell(letter, piece.yarn(stitch.sewn or stitch.yarn).colour)
    for yarn in piece.yarns:
        cells[Stitch(yarn.name)] = Cell(taken[yarn.name], yarn.colour)
    lines = [
        (cell, [stitch.yarn, cell.fill, *legend.words(stitch)])
        for stitch, cell in sorted(cells.items(), key=lambda one: one[0] is not None and one[0] in others)
        if stitch is not None
    ]
    return Laid([[cells[stitch] for stitch in row] for row in stitches], lines)


def _letters(piece: Piece) -> Iterator[tuple[Yarn, str]]:
    """Every yarn with its letter: its symbol, if no number is like it."""
    kept = [yarn.symbol for yarn in piece.yarns if not yarn.symbol.isdigit()]
    spare = iter(symbols_of([yarn.name for yarn in piece.yarns if yarn.symbol.isdigit()], kept))
    for yarn in piece.yarns:
        yield yarn, next(spare) if yarn.symbol.isdigit() else yarn.symbol


def own_letters(piece: Piece) -> list[str]:
    """The kinds of stitches that have another letter than their yarn, each with it: "e: tide, garter"."""
    letters = {letter for _, letter in _letters(piece)}
    return [
        f"{cell.text}: {', '.join([told[0], *told[2:]])}" for cell, told in laid_out(piece).legend
        if cell.text not in letters
    ]


def drawing(piece: Piece) -> list[list[Stitch | None]]:
    """The stitches as the right side looks, the last row first, in each the left edge first; without those that a
    tube's seam takes up, past its left edge."""
    wide = columns_drawn(piece.fabric)
    levels = reversed(range(len(piece.fabric.levels)))
    return [_across(piece, level)[:wide][::-1] for level in levels]


def _across(piece: Piece, level: int) -> list[Stitch | None]:
    """The stitches of a row from column 1 on; of ribs and seed stitch that are turned round, how each looks."""
    found = cells_across(piece.fabric, level)
    for at, stitch in enumerate(found):
        if stitch is not None and stitch.texture.shift:
            row = piece.fabric.row_at(level, at + 1)
            assert row is not None
            is_knit = looks_knit(piece.rows[row], stitch.texture, at + 1)
            found[at] = stitch._replace(texture=STOCKINETTE if is_knit else Texture("reverse"))
    return found


def not_in_sheets(piece: Piece) -> list[str]:
    """What a plan says that no sheet has, in words."""
    fabric = piece.fabric
    has_lengths = bool(piece.sample or piece.tail_cm) or any(yarn.ball != Ball() for yarn in piece.yarns)
    found = {
        "its gauge": True,
        "rounds": any(row.is_round for row in fabric.rows),
        "stitches for a tube's seam": any(row.seam_stitches for row in fabric.rows),
        "which part is worked first": any(a.part == "left" and b.part for a, b in pairwise(fabric.blocks)),
        "slits that leave out no stitch": any(
            block.part and len(fabric.picture[block.level].stretches) < 2 for block in fabric.blocks
        ),
        "what waits on a holder": bool(fabric.held),
        "how far strands go": piece.carry != Carry(default_reach(piece.gauge)),
        "how it is cast on and bound off": piece.cast_on != LONG_TAIL or piece.is_off_each,
        "slipped edges": piece.has_slipped_edges,
        "seams": piece.seams != NO_SEAMS,
        "where it is shaped": bool(piece.inward),
        "other gauges": bool(piece.gauges),
        "amounts of yarn": has_lengths,
        "what its sections say": bool(piece.said),
    }
    return [words for words, is_there in found.items() if is_there]
