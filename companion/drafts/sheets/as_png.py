"""A piece as a picture: every stitch a rectangle of its colour, as wide to its height as by the gauge (PNG, third
edition, W3C 2025). Where there is no stitch it is transparent."""

from __future__ import annotations

import struct
import zlib
from collections.abc import Iterable, Iterator, Mapping
from fractions import Fraction

from companion.drafts.sheets.laid_out import drawing
from companion.knitting.cloth.colour import channels
from companion.knitting.cloth.fabric import Stitch
from companion.knitting.piece import Piece

_LEAST_PX, _MOST_PX = 8, 60
_MOST_PIXELS = 40_000_000
"""No larger picture is drafted from."""

_UNSEEN = Fraction(1, 200)
"""Nobody sees that a picture is so much too high."""

_SIGNATURE = b"\x89PNG\r\n\x1a\n"
_RGB, _RGBA = 2, 6


def png_bytes(piece: Piece) -> bytes:
    """What a file holds."""
    drawn = drawing(piece)
    wide, high = stitch_px(piece.gauge.stitch_cm / piece.gauge.row_cm, len(drawn), len(drawn[0]))
    has_cover = any(None in row for row in drawn)
    size = len(drawn[0]) * wide, len(drawn) * high
    header = struct.pack(">IIBBBBB", *size, 8, _RGBA if has_cover else _RGB, 0, 0, 0)
    pixels: dict[Stitch | None, bytes] = {None: b"\0\0\0\0" * wide}
    for stitch in {stitch for row in drawn for stitch in row if stitch is not None}:
        code = bytes(channels(piece.yarn(stitch.sewn or stitch.yarn).colour))
        pixels[stitch] = (code + b"\xff" if has_cover else code) * wide
    return b"".join([
        _SIGNATURE, _chunk(b"IHDR", header), _chunk(b"sRGB", b"\0"),
        _chunk(b"IDAT", b"".join(_squeezed(drawn, pixels, high))), _chunk(b"IEND", b""),
    ])


def _squeezed(
    drawn: Iterable[Iterable[Stitch | None]], pixels: Mapping[Stitch | None, bytes], high: int
) -> Iterator[bytes]:
    squeezing = zlib.compressobj()
    for row in drawn:
        line = b"\0" + b"".join(map(pixels.__getitem__, row))  # 0: its bytes as they are
        for _ in range(high):
            yield squeezing.compress(line)
    yield squeezing.flush()


def _chunk(kind: bytes, body: bytes) -> bytes:
    return struct.pack(">I", len(body)) + kind + body + struct.pack(">I", zlib.crc32(kind + body))


def stitch_px(ratio: Fraction, levels: int, columns: int) -> tuple[int, int]:
    """How wide and how high a stitch is, in whole pixels: the smallest by which a picture of so many rows and
    stitches is as high as it is wide by the gauge, to half a row; where there is none, those that come nearest."""
    most = int((_MOST_PIXELS / (levels * columns)) ** 0.5)
    tried = [
        (max(1, round(high * ratio)), high) for high in range(1, min(_MOST_PX, most) + 1)
        if max(1, round(high * ratio)) * high * levels * columns <= _MOST_PIXELS
    ]
    large = [one for one in tried if min(one) >= _LEAST_PX] or tried
    return min(large, key=lambda one: (max(0, _lost(one, ratio) - min(_UNSEEN, Fraction(2, 5) / levels)), one))


def _lost(size: tuple[int, int], ratio: Fraction) -> Fraction:
    """The part of itself by which a row comes out too high or too low."""
    return abs(size[1] * ratio / size[0] - 1)
