"""Colour as numbers: relative luminance, contrast and lightness. Formulas of WCAG 2.2 and CIE 1976 L*."""

from __future__ import annotations

from functools import lru_cache


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
