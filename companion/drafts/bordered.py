"""A border round what a plan draws, written into its text as a person types it: a section below, one above, and edges
at every section between them."""

from __future__ import annotations

import re

from companion.drafts.rows.sections import texture_in_yaml
from companion.knitting.cloth.fabric import STOCKINETTE, Texture
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


def bordered(text: str, border: Border, yarn: str, stitches: int) -> str:
    """The text of a plan with a border round it in this yarn. ``text``: as drafts write it, ``rows`` last;
    ``stitches``: so many each of its rows has."""
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
            parts.insert(at, f"  # The border {where}.\n  {plain}\n")
    return above + "".join(f"\n{part}" for part in parts)
