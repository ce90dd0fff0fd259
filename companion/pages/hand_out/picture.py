"""How the finished piece looks, in small."""

from __future__ import annotations

import base64
import struct

from companion.knitting.words import paper
from companion.pages import fabric_picture
from companion.pages.hand_out.markup import text
from companion.pages.hand_out.request import HandOut

_WIDE_MM, _HIGH_MM = 130.0, 95.0
"""The most room that it takes."""

_PX_IN_MM = 96 / 25.4
"""Pixels of a page in a millimetre (CSS Values and Units, level 4, absolute lengths)."""


def picture(hand_out: HandOut) -> str:
    """Its right side as HTML; the picture is part of the page."""
    png = fabric_picture.png(fabric_picture.drawing(hand_out.piece, hand_out.strands))
    wide, high = struct.unpack(">II", png[16:24])  # PNG, third edition (W3C 2025), 11.2.1: the header comes first
    px = _PX_IN_MM * min(_WIDE_MM / wide, _HIGH_MM / high)
    size = f'width="{round(px * wide)}" height="{round(px * high)}"'
    alt = text(paper.picture_of(hand_out.piece.title))
    return f'<img class="picture" {size} src="data:image/png;base64,{base64.b64encode(png).decode()}" alt="{alt}">'
