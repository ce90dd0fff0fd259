"""Pixels as the bytes of a PNG file (third edition, W3C 2025), with the standard library alone: 8 bits a channel, no
filter, not interlaced; and how many pixels make a stitch."""

from __future__ import annotations

import struct
import zlib
from collections.abc import Iterable, Iterator
from fractions import Fraction

_LEAST_PX, _MOST_PX = 8, 60
_MOST_PIXELS = 40_000_000
"""No larger picture is drafted from."""

_UNSEEN = Fraction(1, 200)
"""Nobody sees that a picture is so much too high."""

_SIGNATURE = b"\x89PNG\r\n\x1a\n"
_RGB, _RGBA = 2, 6


def png(wide: int, high: int, lines: Iterable[bytes], *, has_alpha: bool = False) -> bytes:
    """What a file holds. ``lines``: the pixels of each line from the top, in each from the left: three bytes a pixel,
    red, green and blue, or four with how solid it is."""
    header = struct.pack(">IIBBBBB", wide, high, 8, _RGBA if has_alpha else _RGB, 0, 0, 0)
    return b"".join([
        _SIGNATURE, _chunk(b"IHDR", header), _chunk(b"sRGB", b"\0"),
        _chunk(b"IDAT", b"".join(_squeezed(lines))), _chunk(b"IEND", b""),
    ])


def _squeezed(lines: Iterable[bytes]) -> Iterator[bytes]:
    squeezing = zlib.compressobj()
    for line in lines:
        yield squeezing.compress(b"\0" + line)  # 0: its bytes as they are
    yield squeezing.flush()


def _chunk(kind: bytes, body: bytes) -> bytes:
    return struct.pack(">I", len(body)) + kind + body + struct.pack(">I", zlib.crc32(kind + body))


def stitch_px(
    ratio: Fraction, levels: int, columns: int, least: int = _LEAST_PX, most_pixels: int = _MOST_PIXELS
) -> tuple[int, int]:
    """How wide and how high a stitch is, in whole pixels, ``least`` of them: the smallest by which a picture of so
    many rows and stitches is as high as it is wide by the gauge, to half a row; where there is none, those that come
    nearest. ``ratio``: the width of a stitch to its height."""
    most = int((most_pixels / (levels * columns)) ** 0.5)
    tried = [
        (max(1, round(high * ratio)), high) for high in range(1, min(_MOST_PX, most) + 1)
        if max(1, round(high * ratio)) * high * levels * columns <= most_pixels
    ]
    large = [one for one in tried if min(one) >= least] or tried
    return min(large, key=lambda one: (max(0, _lost(one, ratio) - min(_UNSEEN, Fraction(2, 5) / levels)), one))


def _lost(size: tuple[int, int], ratio: Fraction) -> Fraction:
    """The part of itself by which a row comes out too high or too low."""
    return abs(size[1] * ratio / size[0] - 1)
