"""Colour as numbers: relative luminance, contrast and lightness; OKLab, and how far two colours lie apart in it.
Formulas of WCAG 2.2, CIE 1976 L* and Ottosson."""

from __future__ import annotations

from collections.abc import Sequence
from functools import lru_cache

Matrix = Sequence[Sequence[float]]

TO_XYZ: Matrix = (
    (0.4124564, 0.3575761, 0.1804375), (0.2126729, 0.7151522, 0.0721750), (0.0193339, 0.1191920, 0.9503041),
)  # fmt: skip
"""Linear sRGB to CIE XYZ (IEC 61966-2-1, seven digits)."""

TO_CONES: Matrix = (
    (0.8189330101, 0.3618667424, -0.1288597137), (0.0329845436, 0.9293118715, 0.0361456387),
    (0.0482003018, 0.2643662691, 0.6338517070),
)  # fmt: skip
TO_OKLAB: Matrix = (
    (0.2104542553, 0.7936177850, -0.0040720468), (1.9779984951, -2.4285922050, 0.4505937099),
    (0.0259040371, 0.7827717662, -0.8086757660),
)  # fmt: skip
"""Ottosson, "A perceptual color space for image processing", 2020: XYZ to cone responses, and their cube roots to
OKLab."""


def channels(colour: str) -> tuple[int, int, int]:
    """Red, green and blue, 0 to 255, of "#rrggbb"."""
    return int(colour[1:3], 16), int(colour[3:5], 16), int(colour[5:7], 16)


def luminance(colour: str) -> float:
    """Relative luminance, 0 to 1 (W3C, WCAG 2.2, definition of relative luminance)."""
    red, green, blue = (linear(value / 255) for value in channels(colour))
    return 0.2126 * red + 0.7152 * green + 0.0722 * blue


def linear(value: float) -> float:
    """The light of a channel of 0 to 1 (the sRGB transfer of IEC 61966-2-1)."""
    return value / 12.92 if value <= 0.04045 else float(((value + 0.055) / 1.055) ** 2.4)


def grey_of(colour: str) -> str:
    """The grey of the same relative luminance, to the nearest of 256: what reads on a colour reads on its grey."""
    light = luminance(colour)
    value = light * 12.92 if light <= 0.04045 / 12.92 else 1.055 * light ** (1 / 2.4) - 0.055
    return "#" + f"{round(255 * value):02x}" * 3


def contrast(one: str, other: str) -> float:
    """Contrast ratio, 1 to 21 (W3C, WCAG 2.2, definition of contrast ratio)."""
    low, high = sorted((luminance(one), luminance(other)))
    return (high + 0.05) / (low + 0.05)


def lightness(colour: str) -> float:
    """CIE 1976 L*, 0 (black) to 100 (white), for the sRGB white point (CIE 15: Colorimetry)."""
    y = luminance(colour)
    return 116 * y ** (1 / 3) - 16 if y > (6 / 29) ** 3 else y * (29 / 3) ** 3


@lru_cache(maxsize=256)
def ink_on(colour: str) -> str:
    """Black or white, whichever reads better on the colour."""
    return max("#000000", "#ffffff", key=lambda ink: contrast(ink, colour))


@lru_cache(maxsize=4096)
def oklab(colour: str) -> tuple[float, ...]:
    """Lightness and the two axes of colour of "#rrggbb" in OKLab."""
    xyz = _times(TO_XYZ, [linear(value / 255) for value in channels(colour)])
    return _times(TO_OKLAB, [cone ** (1 / 3) for cone in _times(TO_CONES, xyz)])


def apart(one: str, other: str) -> float:
    """How different two colours look: their distance in OKLab, 0 to about 1."""
    return float(sum((a - b) ** 2 for a, b in zip(oklab(one), oklab(other), strict=True)) ** 0.5)


def _times(matrix: Matrix, vector: Sequence[float]) -> tuple[float, ...]:
    return tuple(sum(a * b for a, b in zip(row, vector, strict=True)) for row in matrix)
