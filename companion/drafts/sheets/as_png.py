"""A piece as a picture: every stitch a rectangle of its colour, as wide to its height as by the gauge. Where there is
no stitch it is transparent."""

from __future__ import annotations

from companion.drafts.sheets.laid_out import drawing
from companion.knitting.cloth.colour import channels
from companion.knitting.cloth.fabric import Stitch
from companion.knitting.piece import Piece
from companion.png import png, stitch_px


def png_bytes(piece: Piece) -> bytes:
    """What a file holds."""
    drawn = drawing(piece)
    wide, high = stitch_px(piece.gauge.stitch_cm / piece.gauge.row_cm, len(drawn), len(drawn[0]))
    has_cover = any(None in row for row in drawn)
    pixels: dict[Stitch | None, bytes] = {None: b"\0\0\0\0" * wide}
    for stitch in {stitch for row in drawn for stitch in row if stitch is not None}:
        code = bytes(channels(piece.yarn(stitch.sewn or stitch.yarn).colour))
        pixels[stitch] = (code + b"\xff" if has_cover else code) * wide
    lines = (b"".join(map(pixels.__getitem__, row)) for row in drawn for _ in range(high))
    return png(len(drawn[0]) * wide, len(drawn) * high, lines, has_alpha=has_cover)
