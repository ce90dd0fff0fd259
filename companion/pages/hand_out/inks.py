"""How yarns look on paper. A copy in black and white keeps black letters on pale tints, and heavy lines where yarns
meet; not colours that are alike in grey."""

from __future__ import annotations

from functools import lru_cache
from typing import Literal

from companion.knitting.cloth.colour import channels, ink_on, lightness

Inks = Literal["tints", "ink", "colour"]
"""Pale tints and black letters; no tints at all; or the yarns' own colours, with letters in black or white."""

BLACK, WHITE = "#000000", "#ffffff"

PALE = 92
"""As light (CIE L*, 0 to 100) every tint is at least. With a white rim round them, a simple machine reads every
letter in copies at 150 dots an inch that are black or white at 30, 50 or 70 per cent, of the demos and of 24 letters
of the smallest size on grounds of all colours; on full colours at 70 per cent half of them."""


@lru_cache(maxsize=4096)
def tint(colour: str) -> str:
    """The colour, with as little white in it as makes it pale."""
    return next(pale for part in range(101) if lightness(pale := _mixed(colour, part)) >= PALE)


def _mixed(colour: str, part: int) -> str:
    """A colour with so many parts of white in a hundred."""
    return "#" + "".join(f"{value + (255 - value) * part // 100:02x}" for value in channels(colour))


def ground(colour: str, inks: Inks) -> str:
    """What a stitch of this colour is filled with."""
    return {"tints": tint(colour), "ink": WHITE, "colour": colour}[inks]


def ink(colour: str, inks: Inks) -> str:
    """What its letter is drawn with. The better of black and white has a contrast of 4.58 at least on any ground: the
    root of 21 (WCAG 2.2, definition of contrast ratio)."""
    return ink_on(colour) if inks == "colour" else BLACK
