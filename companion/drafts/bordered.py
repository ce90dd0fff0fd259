"""A border round what a plan draws, written into its text as a person types it: a section below, one above, and edges
at every section between them."""

from __future__ import annotations

import re

from companion.drafts.rows.sections import texture_in_yaml
from companion.knitting.cloth.fabric import STOCKINETTE, FabricRow, Texture
from companion.knitting.piece import Piece
from companion.knitting.value import Record
from companion.plan.edit import name_in_yaml

_ROWS = re.compile(r"^rows:.*\n", re.MULTILINE)

_SECTION = re.compile(r"^  - ", re.MULTILINE)


class Border(Record):
    """So many rows below and above, so many stitches at each side, all in one texture; 0: there is none."""

    texture: Texture = STOCKINETTE
    below: int = 0
    above: int = 0
    beside: int = 0


def why_none(piece: Piece) -> str:
    """Why no border goes round it, in a word; "" where one does."""
    fabric = piece.fabric
    if any(row.is_round for row in fabric.rows):
        return "it is worked in the round"
    if any(row.part for row in fabric.rows):
        return "it divides"
    return "its edges are shaped" if fabric.is_shaped else ""


class Sides(Record):
    """Where a border can lie: a tube has no edges at its sides, and where a piece is shaped or divides none goes all
    round; but below its lowest row there is room where that is worked over all columns, and above its last one."""

    below: bool
    above: bool
    beside: bool


def sides_of(piece: Piece) -> Sides:
    """Where a border can lie, by what ``why_none`` of it says."""
    fabric = piece.fabric
    if not why_none(piece):
        return Sides(True, True, True)
    is_tube = any(row.is_round for row in fabric.rows)

    def is_whole(row: FabricRow) -> bool:
        return row.stitches == row.columns and (row.is_round if is_tube else row.columns == fabric.columns)

    return Sides(is_whole(fabric.rows[0]), is_whole(fabric.rows[-1]), False)


def bordered(text: str, border: Border, yarn: str, stitches: int, *, is_round: bool = False) -> str:
    """The text of a plan with a border round it in this yarn. ``text``: as drafts write it, ``rows`` last;
    ``stitches``: so many each of its rows has that lies along the border; ``is_round``: that is worked round."""
    rows = _ROWS.search(text)
    assert rows, "every plan has rows"
    above, sections = text[:rows.end()], text[rows.end():].lstrip("\n")
    beside, texture = border.beside, texture_in_yaml(border.texture)
    looks = f"yarn: {name_in_yaml(yarn)}{texture and f', stitch: {texture}'}"
    across = stitches + 2 * beside
    if beside:
        sections = _SECTION.sub(
            lambda _: f"  - edges: {{stitches: {beside}, {looks}}}\n    ", sections
        )
        told = f"# The picture, with an edge at each side: {beside} + {stitches} + {beside} = {across} stitches."
        sections = f"  {told}\n{sections}"
    parts = [sections]
    for where, rows_there, at in (("below", border.below, 0), ("above", border.above, 2)):
        if rows_there:
            plain = f"- plain: {{rows: {rows_there}, stitches: {across}, {looks}}}"
            worked = "    worked: round\n" if is_round else ""
            parts.insert(at, f"  # The border {where}.\n  {plain}\n{worked}")
    return above + "".join(f"\n{part}" for part in parts)
